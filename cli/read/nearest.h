#pragma once
// The known word nearest to a mistyped one.

#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// Optimal string alignment distance: insertions, deletions, substitutions and swaps of neighbours,
/// one each.
int edit_distance(std::string_view a, std::string_view b);

/// The first of the words at the least distance, if that is at most 1 and one more for every 5
/// letters typed, 4 in all; else empty. Upper and lower case, '.', '_' and '-' against blanks do
/// not count.
std::string nearest(std::string_view typed, const std::vector<std::string>& words);

/// " (did you mean 'waist girth'?)", or empty when nothing is near.
std::string suggestion(std::string_view typed, const std::vector<std::string>& words);

}  // namespace easewright
