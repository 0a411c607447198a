#pragma once
// The subsets of a choice's moves that have been solved by themselves.

#include "solver/amounts.h"

#include <functional>
#include <map>
#include <memory>
#include <set>
#include <vector>

namespace easewright::solver {

/// A subset with its own answer.
struct Subset {
  MoveSet used = 0;
  Amounts amounts;
  double cost = 0;
};

/// Starts of a subset's own answer.
inline constexpr int kStarts = 3;

class Subsets {
 public:
  Subsets(const ChoiceProblem& problem, const AmountsSolver& solver, int threads);
  ~Subsets();

  const std::map<MoveSet, Subset>& known() const { return known_; }
  /// Local solves so far.
  int solves() const { return solves_; }
  void count_solves(int more) { solves_ += more; }

  /// A subset solved from these amounts; safe to call from several threads.
  Subset answer(MoveSet used, const std::vector<double>& start, int starts = kStarts) const;
  /// Keeps the better answer where one is known.
  const Subset& remember(Subset subset);

  /// Solves the given ones from no move at all and remembers them.
  void solve(const std::vector<MoveSet>& wanted);
  /// Solves each subset within the limits, where there are few; false, with nothing done, where
  /// there are more.
  bool solve_all(const PlanLimits& limits);

  /// Of the best subset those with one move more, less, or for another that are not known and, as
  /// the tangent at its amounts tells, may miss less: solved and remembered.
  std::vector<const Subset*> solve_next_door(const Subset& best, const PlanLimits& limits);

  /// Whether no two of its moves exclude each other.
  bool is_possible(MoveSet used) const;

  void in_parallel(std::size_t tasks, const std::function<void(std::size_t)>& work);

 private:
  bool list(MoveSet used, int first, const PlanLimits& limits, std::vector<MoveSet>& all) const;
  std::vector<MoveSet> next_door(MoveSet used, const PlanLimits& limits) const;

  const ChoiceProblem& problem_;
  const AmountsSolver& solver_;
  struct Arena;
  std::unique_ptr<Arena> arena_;
  std::map<MoveSet, Subset> known_;
  int solves_ = 0;
  std::set<MoveSet> from_nothing_;  ///< those known that were solved from no move at all
};

/// True when a misses less at the first level at which they differ by more than kHolds.
bool misses_less(const LevelTotals& a, const LevelTotals& b);

/// Whether the function is felt to leave its tangent at 0 halfway to the most of each move, or
/// there.
bool bends(const Problem& problem);

}  // namespace easewright::solver
