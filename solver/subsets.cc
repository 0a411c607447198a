#include "solver/subsets.h"

#include <algorithm>
#include <cmath>

#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

namespace easewright::solver {
namespace {

/// Tolerances by which a function may leave its tangent and count as straight.
constexpr double kBends = 0.05;
/// All of ten moves.
constexpr std::size_t kFew = 1100;
/// Starts from no move at all, at most: one a move and two more.
constexpr int kMostStarts = 10;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

int threads_of(int threads) {
  const int most = tbb::info::default_concurrency();
  return threads > 0 ? std::min(threads, most) : most;
}

/// A function's tangent at x.
class Tangent final : public Function {
 public:
  Tangent(const Problem& problem, std::vector<double> x)
      : n_(at(problem.n())), m_(at(problem.m())), x_(std::move(x)), g_(m_), jacobian_(m_ * n_) {
    problem.function->evaluate(x_.data(), g_.data(), jacobian_.data());
  }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    add_values(x, g);
    if (jacobian) std::copy(jacobian_.begin(), jacobian_.end(), jacobian);
  }

  bool evaluate_columns(const double* x,
                        const std::vector<int>& columns,
                        double* g,
                        double* jacobian) const override {
    add_values(x, g);
    for (std::size_t i = 0; i < m_; ++i) {
      for (const int j : columns) *jacobian++ = jacobian_[i * n_ + at(j)];
    }
    return true;
  }

 private:
  void add_values(const double* x, double* g) const {
    std::vector<std::size_t> moved;
    for (std::size_t j = 0; j < n_; ++j) {
      if (x[j] != x_[j]) moved.push_back(j);
    }
    for (std::size_t i = 0; i < m_; ++i) {
      g[i] = g_[i];
      for (const std::size_t j : moved) g[i] += jacobian_[i * n_ + j] * (x[j] - x_[j]);
    }
  }

  std::size_t n_, m_;
  std::vector<double> x_, g_, jacobian_;
};

/// Of two answers to the same subset.
bool is_better_answer(const Subset& a, const Subset& b) {
  if (!a.amounts.finite || !b.amounts.finite) return a.amounts.finite;
  if (misses_less(a.amounts.totals, b.amounts.totals)) return true;
  return !misses_less(b.amounts.totals, a.amounts.totals) && a.cost < b.cost;
}

}  // namespace

bool misses_less(const LevelTotals& a, const LevelTotals& b) {
  for (int l = 0; l < static_cast<int>(Level::habit); ++l) {
    if (a[at(l)] < b[at(l)] - kHolds) return true;
    if (a[at(l)] > b[at(l)] + kHolds) return false;
  }
  return false;
}

bool bends(const Problem& problem) {
  const std::size_t n = at(problem.n()), m = at(problem.m());
  const Tangent tangent(problem, std::vector<double>(n, 0.0));
  std::vector<double> x(n), there(m), straight(m);
  for (const double share : {0.5, 1.0}) {
    for (std::size_t j = 0; j < n; ++j) {
      const double most = problem.variables[j].upper;
      x[j] = (std::isfinite(most) ? most : problem.variables[j].scale) * share;
    }
    problem.function->evaluate(x.data(), there.data(), nullptr);
    tangent.evaluate(x.data(), straight.data(), nullptr);
    for (std::size_t i = 0; i < m; ++i) {
      if (!(std::abs(there[i] - straight[i]) <= kBends * problem.outputs[i].tolerance)) return true;
    }
  }
  return false;
}

struct Subsets::Arena {
  explicit Arena(int most) : threads(threads_of(most)) {}
  tbb::task_arena threads;
};

Subsets::Subsets(const ChoiceProblem& problem, const AmountsSolver& solver, int threads)
    : problem_(problem), solver_(solver), arena_(std::make_unique<Arena>(threads)) {}

Subsets::~Subsets() = default;

void Subsets::in_parallel(std::size_t tasks, const std::function<void(std::size_t)>& work) {
  arena_->threads.execute([&] { tbb::parallel_for(std::size_t{0}, tasks, work); });
}

Subset Subsets::answer(MoveSet used, const std::vector<double>& start, int starts) const {
  Subset subset{used, solver_.answer(used, start, starts), 0};
  if (subset.amounts.finite) subset.cost = solver_.cost(used, subset.amounts.x);
  return subset;
}

const Subset& Subsets::remember(Subset subset) {
  solves_ += subset.amounts.solves;
  const auto [known, is_new] = known_.emplace(subset.used, subset);
  if (!is_new && is_better_answer(subset, known->second)) known->second = std::move(subset);
  return known->second;
}

void Subsets::solve(const std::vector<MoveSet>& wanted) {
  const std::vector<double> zero(at(problem_.problem.n()), 0.0);
  std::vector<Subset> answers(wanted.size());
  in_parallel(answers.size(), [&](std::size_t k) {
    answers[k] = answer(wanted[k], zero, std::min(count(wanted[k]) + 2, kMostStarts));
  });
  for (Subset& a : answers) {
    from_nothing_.insert(a.used);
    remember(std::move(a));
  }
}

bool Subsets::solve_all(const PlanLimits& limits) {
  std::vector<MoveSet> all;
  if (!list(0, 0, limits, all)) return false;
  std::erase_if(all, [&](MoveSet used) { return from_nothing_.count(used) > 0; });
  solve(all);
  return true;
}

/// Adds what comes of more moves, from the first on. False: too many.
bool Subsets::list(MoveSet used,
                   int first,
                   const PlanLimits& limits,
                   std::vector<MoveSet>& all) const {
  if (all.size() == kFew) return false;
  all.push_back(used);
  for (int j = first; j < problem_.problem.n(); ++j) {
    const MoveSet more = used | only(j);
    if (count(more) > limits.moves || !is_possible(more)) continue;
    if (solver_.least_cost({more}) >= limits.cost) continue;
    if (!list(more, j + 1, limits, all)) return false;
  }
  return true;
}

std::vector<MoveSet> Subsets::next_door(MoveSet used, const PlanLimits& limits) const {
  const int n = problem_.problem.n();
  std::vector<MoveSet> doors;
  for (int j = 0; j < n; ++j) {
    const MoveSet changed = used ^ only(j);
    doors.push_back(changed);
    if (contains(used, j)) continue;
    for (int k = 0; k < n; ++k) {
      if (contains(used, k)) doors.push_back(changed & ~only(k));
    }
  }
  std::erase_if(doors, [&](MoveSet door) {
    return count(door) > limits.moves || known_.count(door) || !is_possible(door);
  });
  return doors;
}

std::vector<const Subset*> Subsets::solve_next_door(const Subset& best, const PlanLimits& limits) {
  ChoiceProblem straight = problem_;
  straight.problem.function = std::make_shared<Tangent>(problem_.problem, best.amounts.x);
  const AmountsSolver tangent(straight);
  const std::vector<MoveSet> doors = next_door(best.used, limits);
  std::vector<Subset> answers(doors.size());
  in_parallel(doors.size(), [&](std::size_t d) {
    const auto glance = [&](const AmountsSolver& solver) {
      const Amounts seen = solver.least_missed({doors[d]}, {}, best.amounts.x, 1);
      answers[d].amounts.solves += seen.solves;
      return seen.finite && misses_less(seen.totals, best.amounts.totals);
    };
    if (!glance(tangent) || !glance(solver_)) return;
    const int solves = answers[d].amounts.solves;
    answers[d] = answer(doors[d], best.amounts.x);
    answers[d].amounts.solves += solves;
  });
  std::vector<const Subset*> found;
  for (Subset& a : answers) {
    if (a.amounts.finite)
      found.push_back(&remember(std::move(a)));
    else
      solves_ += a.amounts.solves;
  }
  return found;
}

bool Subsets::is_possible(MoveSet used) const {
  return std::none_of(
      problem_.exclusive.begin(), problem_.exclusive.end(), [used](const auto& pair) {
        return contains(used, pair.first) && contains(used, pair.second);
      });
}

}  // namespace easewright::solver
