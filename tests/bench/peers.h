#pragma once
// The same problem, settled by general-purpose solvers with the same values and derivatives. Each
// output whose misses add up gets a slack, in tolerances:
//
//     g_i(x) + t_i s_i >= lo_i,   g_i(x) - t_i s_i <= hi_i,   s_i >= 0,   lower <= x <= upper.
//
// Two ways:
//   by levels: minimise what its level misses, the sum of s_i and of the squared outputs' d_i^2 /
//   2,
//              with every level above held at what it got; four programs, the last for the habits;
//   weighted:  one program, levels weighed 1e4, 1e2, 1 and 1e-3. Cheaper, and right only as long as
//              no exchange between levels is worth more than 100 to 1.
//
// The peers start where ours does. They have one start; ours counts all that it tries.

#include "solver/problem.h"

#include <array>
#include <string>
#include <vector>

namespace easewright::bench {

enum class Way { by_levels, weighted };

struct PeerOutcome {
  std::vector<double> x;
  std::array<double, solver::kLevels>
      total{};  ///< misses by level: |d| / t summed, squared outputs as d^2 / 2 t^2
  int evaluations = 0;
  bool success = true;  ///< every program ended with the peer's own success status
};

PeerOutcome solve_with_slsqp(const solver::Problem& problem, Way way);  ///< NLopt, LD_SLSQP
PeerOutcome solve_with_ipopt(const solver::Problem& problem,
                             Way way);  ///< Ipopt, limited-memory Hessian, sparse Jacobian

/// Misses by level at x, counted here and not by the solver. A NaN counts as infinite.
std::array<double, solver::kLevels> totals(const solver::Problem& problem,
                                           const std::vector<double>& x);

}  // namespace easewright::bench
