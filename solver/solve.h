#pragma once
// The driver: Ceres opens, the exact pass settles, further starts where something is missed, one of
// them from the middle of the ranges.

#include "solver/outcome.h"
#include "solver/problem.h"

namespace easewright::solver {

enum class Opener { ceres, none };

/// Whether a run that crawls may difference the Lagrangian's curvature from Jacobians, one for each
/// free direction. Never, where these are differences themselves: their noise is all that shows.
enum class Curvature { when_slow, never };

struct SolveOptions {
  /// Tried in all, when something above habit is missed (Halton, +-2 scales). With more than one, the
  /// middle of the ranges is tried besides; it isn't counted in starts_tried and starts_agreed.
  int starts = 4;
  Opener opener = Opener::ceres;    ///< robust least squares before the exact pass
  int most_iterations = 200;        ///< of the exact pass, for each start
  const std::vector<double>* warm_start = nullptr;  ///< an x to begin from instead of the variables' starts
  Curvature curvature = Curvature::when_slow;
};

/// Solves level by level. Never throws on a numerical failure: the status says what happened.
/// Deterministic: same problem and options, same bytes.
Outcome solve(const Problem& problem, const SolveOptions& options = {});

/// Evaluates x without solving: values, misses, totals and standings are set, pulls are zero.
Outcome evaluate(const Problem& problem, const std::vector<double>& x);

}  // namespace easewright::solver
