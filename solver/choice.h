#pragma once
// Choice: which of k optional moves to use, and how much of each.
//
// A problem's variables are the moves' amounts: 0 leaves a move out, used it lies in [least, most]
// (the variable's bounds are 0 and most). Its outputs are judged in levels as ever; the level habit
// is the cost's. A used move costs `fixed` and `per_unit` for each unit of its amount; work that
// several moves share is paid once where any of them is used.
//
// The answer to a subset of the moves: the least misses, level by level, with all of them used;
// then the least cost. The search is best first over subsets. A node has moves that are in, open
// or out; with the open ones down to 0 and asked for fixed x / most instead of their fixed cost
// (amounts.h) none of its subsets misses less or costs less. Two trees a plan: what can be reached,
// and the cheapest way there. So the answer is exact over subsets as far as totals that differ by
// less than `slack` are the same, and as far as the local solves are: where moves bend a node's is
// no bound, and up to a thousand subsets are each solved by themselves instead.

#include "solver/outcome.h"
#include "solver/solve.h"

#include <array>
#include <utility>
#include <vector>

namespace easewright::solver {

struct ChoiceMove {
  double fixed = 0;     ///< cost of using it at all, >= 0
  double per_unit = 0;  ///< >= 0, per unit of the variable
  double least = 0;     ///< less is not worth doing; 0 < least <= the variable's upper bound
};

/// Done once, whichever of its moves are used.
struct SharedWork {
  double cost = 0;         ///< >= 0
  std::vector<int> moves;  ///< beside their own fixed costs
};

struct ChoiceProblem {
  Problem problem;                ///< one variable a move; outputs of level habit are ignored
  std::vector<ChoiceMove> moves;  ///< problem.n(), at most 64
  std::vector<std::pair<int, int>> exclusive;  ///< never both
  std::vector<SharedWork> shared;              ///< at most 64
};

struct ChoiceOptions {
  int plans = 3;        ///< handed out at most
  double slack = 0.01;  ///< tolerances by which a level's total may lie above the best
  /// Of the local solves (solve.h): never, where the Jacobian is made of differences.
  Curvature curvature = Curvature::when_slow;
  int threads = 0;  ///< 0: as many as the machine has; changes the time alone
  /// Past so many nodes the best found so far stands: moves alike in all but name make every order
  /// of them a subset of its own.
  int most_nodes = 5000;
};

struct ChoicePlan {
  std::vector<int> used;        ///< moves, ascending
  std::vector<double> amounts;  ///< n, 0 for those left out
  double cost = 0;
  Outcome outcome;  ///< at the amounts; pulls are those of the subset's own answer
};

struct Choice {
  /// First the cheapest that meets all that can be met (every level's total within slack of what
  /// any subset reaches). Then, each cheaper than the one before, what a shorter plan leaves: of
  /// the subsets with fewer moves (and cheaper at their own answer) the one that misses least,
  /// level by level, cheapest within slack of it. The plan without any move is one of them, and the
  /// last.
  std::vector<ChoicePlan> plans;
  std::array<double, kLevels> best{};  ///< totals that the best subset reaches; habit: 0
  Outcome nothing;                     ///< the misses with no move at all
  bool proved = true;  ///< false: `most_nodes` came first, and there may be better plans
  /// False: moves bend the outputs or each other's effects by more than is felt.
  bool straight = true;
  /// No subset, solved by itself, is better than what is handed out: the search ended of itself,
  /// and where moves bend each subset was solved. Where they bend and are too many for that, a
  /// local solve may have hidden a better subset.
  bool exact = true;
  int nodes = 0, solves = 0;
};

/// No plans where the function has no value with no move at all. Never throws on a numerical
/// failure.
Choice choose(const ChoiceProblem& problem, const ChoiceOptions& options = {});

}  // namespace easewright::solver
