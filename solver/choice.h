#pragma once
// Choice: which of k optional moves to use, and how much of each.
//
// A problem's variables are the moves' amounts: 0 leaves a move out, used it lies in [least, most]
// (the variable's bounds are 0 and most). Its outputs are judged in levels as ever. A used move
// costs `fixed` and `per_unit` for each unit of its amount. The search is best first over subsets:
// a node has moves that are in, out and undecided; with the undecided free of charge and down to 0
// its misses can't be beaten by any of its children, and the fixed costs of those in are a bound on
// its cost. So the answer is exact as far as the local solves are.

#include "solver/outcome.h"

#include <array>
#include <utility>
#include <vector>

namespace easewright::solver {

struct ChoiceMove {
  double fixed = 0;     ///< cost of using it at all, >= 0
  double per_unit = 0;  ///< >= 0, per unit of the variable
  double least = 0;     ///< less is not worth doing; 0 < least <= the variable's upper bound
};

struct ChoiceProblem {
  Problem problem;                ///< one variable a move; outputs of level habit are ignored
  std::vector<ChoiceMove> moves;  ///< problem.n()
  std::vector<std::pair<int, int>> exclusive;  ///< never both
};

struct ChoiceOptions {
  int plans = 3;        ///< handed out at most
  double slack = 0.01;  ///< tolerances by which a level's total may lie above the best
  int threads = 0;      ///< 0: as many as the machine has
};

struct ChoicePlan {
  std::vector<int> used;        ///< moves, ascending
  std::vector<double> amounts;  ///< n, 0 for those left out
  double cost = 0;
  Outcome outcome;  ///< at the amounts
};

struct Choice {
  /// First the cheapest that meets all that can be met (every level's total within slack of what
  /// all moves together reach). Then, each cheaper than the one before, what a shorter plan leaves:
  /// of the subsets with fewer moves the one that misses least (level by level), cheapest first
  /// among equals; one without any move ends the list only where plans are asked for beyond it.
  std::vector<ChoicePlan> plans;
  std::array<double, kLevels> best{};  ///< totals that all moves together reach
  Outcome nothing;                     ///< the misses with no move at all
  int nodes = 0, solves = 0;
};

Choice choose(const ChoiceProblem& problem, const ChoiceOptions& options = {});

}  // namespace easewright::solver
