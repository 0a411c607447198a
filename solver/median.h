#pragma once
// Median: which k of m centres to open, so that n points, each served by the cheapest open centre,
// cost the least in all:
//
//     minimise   sum_j min_{i in S} c_ij     over sets S of k centres.
//
// The p-median problem (Hakimi 1964). Upper bounds are sets: one grown greedily, improved by swaps
// until none helps (Teitz and Bart 1968). Lower bounds are Lagrangian (Narula, Ogbu and Samuelsson
// 1977; Beasley 1985): with a price l_j for serving point j at all,
//
//     L(l) = sum_j l_j + the k smallest of r_i,    r_i = sum_j min(0, c_ij - l_j),
//
// is never above the answer, and subgradients raise it. What is left between the two is searched:
// centres that no answer below the best set can have open (or closed) are settled by their r_i, the
// others branched on, depth first.

#include <cstddef>
#include <vector>

namespace easewright::solver {

struct MedianProblem {
  int centres = 0, points = 0;
  std::vector<double> cost;  ///< centres * points, by centre; finite, >= 0
  int open = 1;              ///< k, 1 to `centres`

  double at(int centre, int point) const {
    return cost[static_cast<std::size_t>(centre) * static_cast<std::size_t>(points) +
                static_cast<std::size_t>(point)];
  }
};

struct MedianOptions {
  /// Past so many nodes the best set so far stands and `bound` says how good it is at least.
  int most_nodes = 2000;
  /// The best set is proved where no other can be better by more than this share of its cost.
  double gap = 1e-9;
};

struct Median {
  std::vector<int> open;     ///< centres, ascending
  std::vector<int> nearest;  ///< of each point, the open centre that serves it; the first of equals
  double cost = 0;
  double bound = 0;     ///< no set costs less; `cost` where proved
  bool proved = false;  ///< the search ended of itself
  int nodes = 0;
};

/// Same problem, same answer: no clock, no thread, no chance.
Median median(const MedianProblem& problem, const MedianOptions& options = {});

}  // namespace easewright::solver
