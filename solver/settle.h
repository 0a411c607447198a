#pragma once
// Levels out of weighted sums.
//
// One pass with 100 between the levels finds the basin: lower levels pull weakly from the start, or
// the upper ones walk into basins that have nothing to give below. A second pass with 10,000
// between them, from there, costs a quadratic programme or two. Because the l1 sum is exact, a
// weight above the exchange rate between two levels gives their lexicographic answer. If the
// sharper answer is better than kHolds at no level, the first stands: that is the slack which a
// finished level keeps, so that nobody pays 1.7 tolerances of a wish for 0.0002 of a should.
//
// A squared miss has no exact weight. A level that holds squared outputs and has levels below it is
// therefore settled on its own and frozen: each of its squared outputs may from then on be no
// further out than it is.

#include "solver/outcome.h"
#include "solver/pass.h"
#include "solver/scaled.h"

#include <array>
#include <functional>
#include <vector>

namespace easewright::solver {

using LevelTotals = std::array<double, kLevels>;
using LevelWeights = std::array<double, kLevels>;

inline constexpr LevelWeights kFirstWeights = {1e4, 1e2, 1, 1e-4};
inline constexpr LevelWeights kSharpWeights = {1e8, 1e4, 1, 1e-4};

/// The terms of a problem as posed: its intervals, shapes and bounds, with a weight for each level.
Terms posed_terms(const Scaled& scaled, const LevelWeights& weights);

/// Totals of each level at c: sum of |d|, and of d^2/2 for squared outputs.
LevelTotals level_totals(const Scaled& scaled, const std::vector<double>& c);

/// True when a is less than b at the first level where they differ by more than kHolds (above
/// habit) or 1 % (habit).
bool is_better(const LevelTotals& a, const LevelTotals& b);

/// True when a and b agree within 0.5 % (and kHolds) at each level above habit.
bool agrees(const LevelTotals& a, const LevelTotals& b);

/// A point with its evaluation and proof.
struct Settled {
  PassEnd end = PassEnd::not_finite;
  std::vector<double> u, c;
  std::vector<double> pull, bound_pull;
  double optimality = 0;
  LevelTotals totals{};
};

struct SettleOptions {
  LevelWeights first = kFirstWeights;  ///< of the pass that finds the basin
  int most_iterations = 200;
  /// A settled point whose basin need not be settled twice, or null.
  const Settled* known = nullptr;
};

/// Settles from u. With `known` given, returns it where the walk has come to agree with it and
/// isn't going to beat it: answers that agree may still lie in neighbouring basins.
Settled settle(Scaled& scaled,
               Pass& pass,
               const std::vector<double>& u,
               const SettleOptions& options);

/// Looks for a gain at each missed level with all above held, also where it costs many habits; a
/// better point (its pulls then are of the weights that keep it), or the same.
Settled check_gains(Scaled& scaled, Pass& pass, const Settled& from, const SettleOptions& options);

}  // namespace easewright::solver
