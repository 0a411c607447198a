#pragma once
// Further starting points, spread evenly without chance.

#include <vector>

namespace easewright::solver {

/// Point `index` (from 1) of Halton's sequence over +-`half` scales round the centre, moved into
/// [lower, upper].
std::vector<double> further_start(const std::vector<double>& centre,
                                  const std::vector<double>& lower,
                                  const std::vector<double>& upper,
                                  double half,
                                  int index);

}  // namespace easewright::solver
