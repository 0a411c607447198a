#pragma once
// The cells of a line of comma-separated text, as the shipped tables write them: no quoted commas.

#include <optional>
#include <string_view>
#include <vector>

namespace easewright {

/// The cells, blanks, quotes and a carriage return round each taken off. Views into `line`.
std::vector<std::string_view> split(std::string_view line);

/// The whole cell as a finite number, or nothing.
std::optional<double> number(std::string_view cell);

}  // namespace easewright
