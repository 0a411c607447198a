// Choices of moves, held against every one of the 2^k subsets solved by itself, and against small
// problems of known answer.

#include "posing.h"
#include "solver/choice.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <random>

using namespace easewright;
using namespace easewright::solver;
using tests::pose;
using tests::rule;
using tests::within;

namespace {

constexpr unsigned kSeed = 20;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// g_i = a_i'x + bend (cos(b_i'x) - 1).
class Bent final : public Function {
 public:
  Bent(int n, int m, double bend, std::mt19937& random) : n_(n), m_(m), bend_(bend) {
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    for (int k = 0; k < n * m; ++k) {
      a_.push_back(uniform(random) < 0.6 ? 0 : normal(random));
      b_.push_back(uniform(random) < 0.5 ? 0 : normal(random));
    }
  }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    for (int i = 0; i < m_; ++i) {
      double along = 0, phase = 0;
      for (int j = 0; j < n_; ++j) {
        along += a_[at(i * n_ + j)] * x[j];
        phase += b_[at(i * n_ + j)] * x[j];
      }
      g[i] = along + bend_ * (std::cos(phase) - 1);
      if (!jacobian) continue;
      for (int j = 0; j < n_; ++j)
        jacobian[i * n_ + j] = a_[at(i * n_ + j)] - bend_ * std::sin(phase) * b_[at(i * n_ + j)];
    }
  }

 private:
  int n_, m_;
  double bend_;
  std::vector<double> a_, b_;
};

/// Intervals round the values at a hidden plan; some shifted, so that not all can be met.
ChoiceProblem random_choice(int n, int m, double bend, std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform;
  ChoiceProblem p;
  p.problem.function = std::make_shared<Bent>(n, m, bend, random);
  std::vector<double> hidden(at(n), 0.0), g(at(m));
  for (int j = 0; j < n; ++j) {
    const double most = 0.5 + 2 * uniform(random);
    p.problem.variables.push_back(within(0, most, 0));
    p.moves.push_back({std::round(5 + 30 * uniform(random)),
                       std::round(10 * uniform(random)),
                       0.1 + 0.3 * uniform(random)});
    if (uniform(random) < 0.4) hidden[at(j)] = most * uniform(random);
  }
  p.problem.function->evaluate(hidden.data(), g.data(), nullptr);
  for (int i = 0; i < m; ++i) {
    const double value = g[at(i)] + (uniform(random) < 0.85 ? 0 : normal(random));
    Output o = rule(value - 0.3 * uniform(random),
                    value + 0.3 * uniform(random),
                    static_cast<Level>(random() % 3),
                    uniform(random) < 0.1 ? Shape::squared : Shape::absolute,
                    0.1 + 0.2 * uniform(random));
    const double side = uniform(random);
    if (side < 0.2) o.lo = -kInfinity;
    if (side > 0.8) o.hi = kInfinity;
    p.problem.outputs.push_back(o);
  }
  for (int k = 0; k < n / 4; ++k) {
    const int a = static_cast<int>(random() % static_cast<unsigned>(n));
    const int b = static_cast<int>(random() % static_cast<unsigned>(n));
    if (a != b) p.exclusive.emplace_back(a, b);
  }
  return p;
}

/// A function with the moves' cost as one more output.
class Costed final : public Function {
 public:
  Costed(std::shared_ptr<const Function> inner, std::vector<double> costs, int m)
      : inner_(std::move(inner)), costs_(std::move(costs)), m_(m) {}
  void evaluate(const double* x, double* g, double* jacobian) const override {
    inner_->evaluate(x, g, jacobian);
    g[m_] = 0;
    for (std::size_t j = 0; j < costs_.size(); ++j) {
      g[m_] += costs_[j] * x[j];
      if (jacobian) jacobian[at(m_) * costs_.size() + j] = costs_[j];
    }
  }

 private:
  std::shared_ptr<const Function> inner_;
  std::vector<double> costs_;
  int m_;
};

struct Subset {
  unsigned used = 0;
  std::array<double, kLevels> total{};
  double cost = 0;
};

/// Each subset without an exclusive pair, solved cold with costs as its only habit.
std::vector<Subset> all_subsets(const ChoiceProblem& p) {
  const int n = p.problem.n();
  std::vector<double> costs;
  for (const ChoiceMove& move : p.moves) costs.push_back(move.per_unit);
  std::vector<Subset> all;
  for (unsigned used = 0; used < 1U << n; ++used) {
    const auto uses = [used](int j) { return (used >> j & 1U) != 0; };
    if (std::any_of(p.exclusive.begin(), p.exclusive.end(), [&](const auto& pair) {
          return uses(pair.first) && uses(pair.second);
        }))
      continue;
    Problem q = p.problem;
    Subset subset{used};
    for (int j = 0; j < n; ++j) {
      Variable& v = q.variables[at(j)];
      v.lower = v.start = uses(j) ? p.moves[at(j)].least : 0;
      if (!uses(j)) v.upper = 0;
      if (uses(j)) subset.cost += p.moves[at(j)].fixed;
    }
    q.function = std::make_shared<Costed>(q.function, costs, q.m());
    q.outputs.push_back(rule(-kInfinity, 0, Level::habit, Shape::absolute, 10));
    const Outcome outcome = solve(q, {.starts = 4});
    subset.total = outcome.total;
    subset.cost += outcome.g.back();
    all.push_back(subset);
  }
  return all;
}

bool misses_less(const Subset& a, const Subset& b) {
  for (std::size_t l = 0; l < 3; ++l) {
    if (std::abs(a.total[l] - b.total[l]) > kHolds) return a.total[l] < b.total[l];
  }
  return false;
}

/// What choice.h promises, read off the list of all subsets.
std::vector<Subset> expected_plans(const std::vector<Subset>& all, int plans, double slack) {
  std::vector<Subset> chosen;
  int most = 99;
  double dearest = kInfinity;
  while (static_cast<int>(chosen.size()) < plans) {
    std::vector<Subset> within;
    std::copy_if(all.begin(), all.end(), std::back_inserter(within), [&](const Subset& s) {
      return std::popcount(s.used) <= most && s.cost < dearest - 1e-3;
    });
    if (within.empty()) break;
    const Subset best = *std::min_element(within.begin(), within.end(), misses_less);
    std::erase_if(within, [&](const Subset& s) {
      for (std::size_t l = 0; l < 3; ++l) {
        if (s.total[l] > best.total[l] + slack) return true;
      }
      return false;
    });
    chosen.push_back(
        *std::min_element(within.begin(), within.end(), [](const Subset& a, const Subset& b) {
          return a.cost < b.cost;
        }));
    if (chosen.back().used == 0) break;
    most = std::popcount(chosen.back().used) - 1;
    dearest = chosen.back().cost;
  }
  return chosen;
}

unsigned bits(const std::vector<int>& moves) {
  unsigned set = 0;
  for (const int j : moves) set |= 1U << j;
  return set;
}

void check_against_all_subsets(const ChoiceProblem& p, const ChoiceOptions& options) {
  const Choice choice = choose(p, options);
  const std::vector<Subset> expected = expected_plans(all_subsets(p), options.plans, options.slack);
  REQUIRE(choice.plans.size() == expected.size());
  for (std::size_t k = 0; k < expected.size(); ++k) {
    INFO("plan " << k);
    const ChoicePlan& plan = choice.plans[k];
    CHECK(bits(plan.used) == expected[k].used);
    CHECK_THAT(plan.cost, WithinAbs(expected[k].cost, 0.05));
    for (std::size_t l = 0; l < 3; ++l)
      CHECK_THAT(plan.outcome.total[l], WithinAbs(expected[k].total[l], 2 * kHolds));
  }
}

}  // namespace

TEST_CASE("plans are those of an enumeration of all subsets: linear moves") {
  std::mt19937 random(kSeed);
  for (int round = 0; round < 60; ++round) {
    INFO("seed " << kSeed << ", round " << round);
    const int n = 4 + round % 5;
    check_against_all_subsets(random_choice(n, 6 + round % 7, 0, random), {});
  }
}
