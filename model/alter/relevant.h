#pragma once
// Which of more moves than a search can hold are weighed.

#include "solver/choice.h"

#include <vector>

namespace easewright {

/// How many moves are weighed where there are more than a search can hold.
inline constexpr size_t kMostSearched = 16;

enum class Relevance {
  searched,
  outranked,  ///< helps, but the others that do help more
  idle,       ///< brings nothing that is missed nearer, nor mends what those that do would spoil
};

/// Of each move of the problem. First those that take most off the misses there are, then those
/// that take most off them for each minute, then those that mend what these would spoil: no more
/// than kMostSearched in all.
std::vector<Relevance> relevance_of(const solver::ChoiceProblem& problem);

}  // namespace easewright
