#pragma once
// From a settled point to the outcome that is handed out.

#include "solver/outcome.h"
#include "solver/settle.h"

namespace easewright::solver {

/// Outcome of a point: values, misses, totals and standings; pulls, rank and undecided variables
/// where the point carries a proof. `jacobian` is that of c at the point, m x n row major, or
/// empty.
Outcome prove(const Scaled& scaled, const Settled& settled, const std::vector<double>& jacobian);

/// Where each variable stands against its bounds.
std::vector<Standing> bound_standings(const Problem& problem, const std::vector<double>& x);

/// Whether an optimality residual counts as zero.
bool is_stationary(double optimality);

}  // namespace easewright::solver
