// Properties of random problems: whatever is asked, there is an answer or a status, within bounds,
// the same each time, and what is claimed of a conflict or a reach can be checked at the points
// themselves.

#include "posing.h"
#include "solver/conflict.h"
#include "solver/reach.h"
#include "solver/remedy.h"
#include "solver/sensitivity.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <cmath>
#include <cstring>
#include <random>

using namespace easewright;
using namespace easewright::solver;

namespace {

constexpr unsigned kSeed = 4711;

/// g_i = a_i'x + sin(b_i'x + p_i), every fifth with a square more; some are NaN past an edge.
class Waves final : public Function {
 public:
  Waves(int n, int m, std::mt19937& random)
      : n_(n), m_(m), a_(size(m, n)), b_(size(m, n)), p_(size(m, 1)) {
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    for (int i = 0; i < m; ++i) {
      for (int j = 0; j < n; ++j) {
        const std::size_t k = size(i, n) + size(1, j);
        // Every so often a row again, so that dependent rows are met.
        const bool again = i > 0 && i % 7 == 0;
        a_[k] = again                   ? a_[k - size(1, n)]
                : uniform(random) < 0.5 ? 0
                                        : std::round(4 * normal(random)) / 2;
        b_[k] = again ? b_[k - size(1, n)] : uniform(random) < 0.6 ? 0 : 0.5 * normal(random);
      }
      p_[size(i, 1)] = i > 0 && i % 7 == 0 ? p_[size(i - 1, 1)] : normal(random);
    }
    ends_ = uniform(random) < 0.2;
  }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    for (int i = 0; i < m_; ++i) {
      double along = 0;
      double phase = p_[size(i, 1)];
      for (int j = 0; j < n_; ++j) {
        along += a_[size(i, n_) + size(1, j)] * x[j];
        phase += b_[size(i, n_) + size(1, j)] * x[j];
      }
      const bool bent = i % 5 == 4;
      g[i] = along + std::sin(phase) + (bent ? 0.2 * phase * phase : 0);
      if (ends_ && i == 0 && n_ > 0 && x[0] > 1.5) g[i] = std::nan("");
      if (!jacobian) continue;
      for (int j = 0; j < n_; ++j) {
        const std::size_t k = size(i, n_) + size(1, j);
        jacobian[k] = a_[k] + (std::cos(phase) + (bent ? 0.4 * phase : 0)) * b_[k];
      }
    }
  }

 private:
  static std::size_t size(int rows, int columns) {
    return static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns);
  }
  int n_, m_;
  std::vector<double> a_, b_, p_;
  bool ends_ = false;
};

Problem random_problem(std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform;
  Problem p;
  const int n = static_cast<int>(random() % 8);
  const int m = static_cast<int>(random() % 20);
  p.function = std::make_shared<Waves>(n, m, random);
  for (int j = 0; j < n; ++j) {
    Variable v;
    v.scale = std::pow(10.0, std::round(normal(random)) / 2);
    v.start = 0.3 * normal(random) * v.scale;
    v.lower = uniform(random) < 0.3 ? -kInfinity : v.start - 3 * v.scale * uniform(random);
    v.upper = uniform(random) < 0.3 ? kInfinity : v.start + 3 * v.scale * uniform(random);
    if (uniform(random) < 0.1) v.lower = v.upper = v.start;
    p.variables.push_back(v);
  }
  for (int i = 0; i < m; ++i) {
    Output o;
    o.level = static_cast<Level>(random() % 4);
    o.shape = uniform(random) < 0.3 ? Shape::squared : Shape::absolute;
    o.tolerance = std::pow(10.0, std::round(normal(random)) / 2 - 1);
    o.lo = 2 * normal(random);
    const double kind = uniform(random);
    o.hi = kind < 0.3 ? o.lo : kind < 0.6 ? kInfinity : o.lo + 3 * uniform(random);
    if (uniform(random) < 0.3) o.lo = -kInfinity;
    p.outputs.push_back(o);
  }
  return p;
}

bool same_bytes(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() &&
         (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0);
}

bool within_bounds(const Problem& p, const std::vector<double>& x) {
  for (std::size_t j = 0; j < x.size(); ++j) {
    if (!(x[j] >= p.variables[j].lower && x[j] <= p.variables[j].upper)) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("a random problem has an answer within its bounds, or a status, and the same each time") {
  std::mt19937 random(kSeed);
  int settled = 0;
  for (int round = 0; round < 300; ++round) {
    INFO("seed " << kSeed << ", round " << round);
    const Problem p = random_problem(random);
    const SolveOptions options{.opener = round % 2 ? Opener::ceres : Opener::none};
    const Outcome outcome = solve(p, options);
    settled += outcome.status == Status::settled;
    REQUIRE(outcome.x.size() == static_cast<std::size_t>(p.n()));
    CHECK(within_bounds(p, outcome.x));
    CHECK(same_bytes(outcome.x, solve(p, options).x));
    if (outcome.status == Status::not_finite) continue;
    for (const double g : outcome.g) CHECK(std::isfinite(g));
    const Outcome there = evaluate(p, outcome.x);
    for (std::size_t i = 0; i < outcome.g.size(); ++i)
      CHECK_THAT(there.g[i], WithinAbs(outcome.g[i], 1e-9 * (1 + std::abs(outcome.g[i]))));
    // No level is better off at the start than at the answer.
    std::vector<double> start;
    for (const Variable& v : p.variables) start.push_back(std::clamp(v.start, v.lower, v.upper));
    const Outcome begun = evaluate(p, start);
    if (begun.status != Status::not_finite) CHECK(outcome.total[0] <= begun.total[0] + 2 * kHolds);
  }
  CHECK(settled >= 240);
}

TEST_CASE("what is claimed of random conflicts, remedies and reaches is so at their points") {
  std::mt19937 random(kSeed + 1);
  int conflicts = 0;
  int proved = 0;
  int remedies = 0;
  for (int round = 0; round < 80; ++round) {
    INFO("seed " << kSeed + 1 << ", round " << round);
    const Problem p = random_problem(random);
    const Outcome outcome = solve(p);
    if (outcome.status == Status::not_finite) continue;
    for (const Conflict& conflict : find_conflicts(p, outcome)) {
      ++conflicts;
      proved += conflict.proved;
      CHECK(conflict.members.empty() == !conflict.can_hold_at.empty());
      if (!conflict.members.empty()) CHECK(conflict.members[0].index == conflict.missed);
      for (const Remedy& remedy : find_remedies(p, outcome, conflict)) {
        ++remedies;
        const Outcome there = evaluate(p, remedy.x);
        const Level level = p.outputs[static_cast<std::size_t>(conflict.missed)].level;
        for (std::size_t i = 0; i < p.outputs.size(); ++i) {
          if (p.outputs[i].level > level) continue;
          double gives = 0;
          for (const Change& c : remedy.changes) {
            if (c.member.kind == Member::Kind::output && c.member.index == static_cast<int>(i))
              gives = c.by;
          }
          const bool own = static_cast<int>(i) == conflict.missed;
          const double got = own ? 0 : std::abs(outcome.miss[i]);
          CHECK(std::abs(there.miss[i]) <= got + gives + 2.01 * kHolds * p.outputs[i].tolerance);
        }
      }
    }
    for (int j = 0; j < p.n(); ++j) {
      const Reach reach = find_reach(p, outcome, {{Value::Kind::variable, j}, {}});
      for (const ReachEnd* end : {&reach.least, &reach.greatest}) {
        if (!end->proved) continue;
        CHECK(within_bounds(p, end->x));
        CHECK_THAT(end->x[static_cast<std::size_t>(j)],
                   WithinAbs(end->value, 1e-9 * (1 + std::abs(end->value))));
        for (std::size_t i = 0; i < p.outputs.size(); ++i) {
          if (p.outputs[i].level == Level::habit) continue;
          const double miss = std::abs(evaluate(p, end->x).miss[i]);
          CHECK(miss <= std::abs(outcome.miss[i]) + 3.01 * kHolds * p.outputs[i].tolerance);
        }
      }
    }
  }
  CHECK(conflicts >= 100);
  CHECK(proved >= 9 * conflicts / 10);
  CHECK(remedies >= conflicts);
}
