#pragma once
// The same problem, settled level by level by general-purpose solvers with the same derivatives.
// Each level is a smooth program with slacks:
//
//     minimise  sum of s_i over the level's outputs
//     with      g_i(x) + t_i s_i >= lo_i,   g_i(x) - t_i s_i <= hi_i,   s_i >= 0,   lower <= x <=
//     upper, and       sum of s_i <= what it got, for every level above;
//
// last the habits' squares, with all levels above held.

#include "solver/problem.h"

#include <array>
#include <string>
#include <vector>

namespace easewright::bench {

struct PeerOutcome {
  std::vector<double> x;
  std::array<double, solver::kLevels> total{};  ///< misses in tolerances, summed; habits as squares
  int evaluations = 0;
  bool success = true;  ///< every level ended with the peer's own success status
};

PeerOutcome solve_with_slsqp(const solver::Problem& problem);  ///< NLopt, LD_SLSQP
PeerOutcome solve_with_ipopt(const solver::Problem& problem);  ///< Ipopt, limited-memory Hessian

}  // namespace easewright::bench
