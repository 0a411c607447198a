#pragma once
// What one more unit of a limit does to the answer, without solving again.
//
// At the answer the rules that are tight stay tight, those that are missed pull with the same
// force, and the habits share what is left. With A the tight rules' and bounds' slopes and H the
// curvature of the Lagrangian (squared outputs, and -sum_i pull_i d2 g_i by differences of
// Jacobians),
//
//     [ H  -A' ] [ dx      ]   [ df ]     df: how the changed limit moves a squared output's pull
//     [ A   0  ] [ d pulls ] = [ db ]     db: how it moves a tight limit
//
// so dx = Y (A Y)^-1 db + Z (Z'HZ)^-1 Z'(df - H Y (A Y)^-1 db) with Z the null space of A
// (Fiacco, Introduction to Sensitivity and Stability Analysis, 1983). Exact to first order until a
// rule joins or leaves the tight ones. Tight rules without a pull count as free: there the answer
// bends one way only. The limit of a missed absolute rule, and of one that holds with room, moves
// nothing.

#include "solver/member.h"
#include "solver/outcome.h"

#include <vector>

namespace easewright::solver {

struct Sensitivity {
  Member limit;
  std::vector<double> dx;  ///< n, per unit of the limit, units of x per unit of the limit
  std::vector<double> dg;  ///< m
  bool moves = false;      ///< false when nothing moves
};

/// One for each limit. For an equality the whole interval moves.
std::vector<Sensitivity> find_sensitivity(const Problem& problem,
                                          const Outcome& outcome,
                                          const std::vector<Member>& limits);

}  // namespace easewright::solver
