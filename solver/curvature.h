#pragma once
// Curvature that a solve looks for by itself.

#include "solver/solve.h"

namespace easewright::solver {

/// Whether a run that crawls may difference the Lagrangian's curvature from Jacobians, one for each
/// free direction. Never, where these are differences themselves: their noise is all that shows.
enum class Curvature { when_slow, never };

/// solve() with a say in it.
Outcome solve(const Problem& problem, const SolveOptions& options, Curvature curvature);

}  // namespace easewright::solver
