#pragma once
// How much of each move: for one subset of them, or for all subsets of a node of the search at
// once.
//
// A node has moves that are in (amounts of [least, most], their fixed costs paid), open ones, and
// the rest, out at 0. Its relaxation lets an open move have any amount of [0, most] and asks
// fixed x / most of it instead of its fixed cost: no subset of the node misses less or costs less.
// Shared work that nothing in has paid for is asked of its open moves in shares that add up to 1 at
// most: the dearest of them, which pays for all of it, is no less than their mean. With nothing
// open it is the subset's own answer.

#include "solver/choice.h"

#include <array>
#include <cstdint>
#include <vector>

namespace easewright::solver {

/// Totals of each level (also settle.h).
using LevelTotals = std::array<double, kLevels>;

/// A set of moves, a bit each.
using MoveSet = std::uint64_t;
inline constexpr int kMostMoves = 64;

inline bool contains(MoveSet set, int move) { return (set >> move & 1U) != 0; }
inline MoveSet only(int move) { return MoveSet{1} << move; }
int count(MoveSet set);

struct ChoiceNode {
  MoveSet in = 0;
  MoveSet open = 0;
  /// Shared works, a bit each, of which at least one move is used.
  MoveSet begun = 0;
};

/// What a plan may be at most.
struct PlanLimits {
  int moves = kMostMoves;
  double cost = kInfinity;
};

/// An answer to a node: of the relaxation, or of the subset where nothing is open.
struct Amounts {
  bool finite = false;  ///< false: the function has no value there, the rest is empty
  std::vector<double> x;
  LevelTotals totals{};            ///< of the problem's outputs above habit
  double cost = 0;                 ///< relaxed
  double bound = -kInfinity;       ///< cheapest(): no subset of the node that reaches costs less
  std::vector<double> pull;        ///< m
  std::vector<double> bound_pull;  ///< n
  Status status = Status::not_finite;
  int solves = 0;
};

/// What has to be reached: each level's total within slack of the best.
struct Reached {
  LevelTotals best{};
  double slack = 0;
  bool by(const LevelTotals& totals) const;
};

/// Prices of missing a level by a tolerance more than was to be reached, in cost. Any will do for a
/// bound; the right ones make it tight.
using MissPrices = std::array<double, kLevels>;

class AmountsSolver {
 public:
  explicit AmountsSolver(const ChoiceProblem& problem, Curvature curvature = Curvature::when_slow);

  /// Level by level the least misses, then the least cost.
  Amounts least_missed(const ChoiceNode& node,
                       const PlanLimits& limits,
                       const std::vector<double>& start,
                       int starts) const;

  /// A subset's own answer: no limits, so that it is the same wherever it is needed.
  Amounts answer(MoveSet used, const std::vector<double>& start, int starts) const;

  /// The least cost at which `reached` holds. Of its answer `bound` alone is to be relied on:
  /// levels whose best is not zero are held by `prices`, raised as far as it takes to bring the
  /// bound past `enough`.
  Amounts cheapest(const ChoiceNode& node,
                   const PlanLimits& limits,
                   const Reached& reached,
                   double enough,
                   const std::vector<double>& start,
                   MissPrices& prices) const;

  /// Exact cost of these amounts when the moves of `used` are.
  double cost(MoveSet used, const std::vector<double>& x) const;
  /// Least that a plan of the node can cost.
  double least_cost(const ChoiceNode& node) const;
  /// Works that the node's moves pay for in full.
  MoveSet begun(const ChoiceNode& node) const;
  /// Moves that share a work.
  MoveSet sharing(int work) const { return sharing_[static_cast<std::size_t>(work)]; }
  /// What the relaxation doesn't ask of a work that its open moves have begun; else 0.
  double unpaid_work(int work,
                     const ChoiceNode& node,
                     const PlanLimits& limits,
                     const std::vector<double>& x) const;
  /// The largest amount of an open or used move that the limits leave; below its least: none.
  double most(int move, const ChoiceNode& node, const PlanLimits& limits) const;
  /// Open moves that the limits or the exclusive pairs still allow.
  MoveSet allowed(const ChoiceNode& node, const PlanLimits& limits) const;
  /// Fixed cost that the relaxation doesn't ask of an open move at this amount.
  double unpaid(int move, const ChoiceNode& node, const PlanLimits& limits, double amount) const;
  bool is_used(int move, double amount) const;
  /// The most that a single move can cost: what costs are measured by.
  double cost_unit() const { return cost_unit_; }

 private:
  struct Posed;
  Posed pose(const ChoiceNode& node,
             const PlanLimits& limits,
             const std::vector<double>& start) const;
  Amounts solved(const Posed& posed, int starts) const;
  SolveOptions options(int starts) const;

  double fixed_cost(MoveSet in, MoveSet begun) const;

  const ChoiceProblem& problem_;
  Curvature curvature_;
  std::vector<MoveSet> sharing_;
  double cost_unit_ = 1;
};

}  // namespace easewright::solver
