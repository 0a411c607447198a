#pragma once
// The opener: all rules at once as robust least squares, by Ceres.
//
//     min over u  sum_i w_i rho(d_i(u)),   rho(d) = d^2 / (2 h) up to |d| = h, |d| - h/2 beyond
//
// (Huber, h = 0.1 tolerances)
//
// and w_i d_i^2 / 2 for squared outputs, with a tenth of the weight from level to level. One
// residual block and one evaluation for all outputs, no bounds on the parameters (each costs a line
// search in every iteration), clamped afterwards. A few coarse iterations: least squares crawls on
// kinks, and the exact pass does the rest.

#include "solver/scaled.h"

#include <vector>

namespace easewright::solver {

/// A point to begin the exact pass from; u itself when nothing was gained or the function is not
/// finite.
std::vector<double> open(Scaled& scaled, const std::vector<double>& u);

}  // namespace easewright::solver
