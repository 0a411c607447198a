// Optima of Hock & Schittkowski, Test Examples for Nonlinear Programming Codes (LNEMS 187, Springer
// 1981), and Schittkowski, More Test Examples (LNEMS 282, 1987): 35 sums of squares and 20 general
// objectives, as listed in test-problems.json. Asked for: f* to 1e-6 of its size and every
// constraint to 1e-8.

#include "published.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <cmath>
#include <map>
#include <set>

using namespace easewright;
using solver::Opener;
using solver::Outcome;

namespace {

constexpr double kFeasible = 1e-8;

struct Verdict {
  double error = 0;   ///< f - f*, by the size of f*
  double broken = 0;  ///< largest miss of a constraint
  bool right(const tests::PublishedOptimum& p) const {
    return std::abs(error) <= p.share && broken <= kFeasible;
  }
};

Verdict judge(const tests::PublishedOptimum& p, const Outcome& outcome) {
  Verdict v;
  v.error = (p.objective(outcome.g) - p.optimum) / std::max(1.0, std::abs(p.optimum));
  for (int i = 0; i < p.constraints; ++i) {
    v.broken = std::max(v.broken, std::abs(outcome.miss[static_cast<std::size_t>(i)]));
  }
  return v;
}

/// HS13 has a cusp and no multipliers at its optimum, so any finite weight sells feasibility for
/// the objective, down to the slack of 1e-3 tolerances within which a rule is said to hold. With a
/// tolerance of 1e-3 that is far below 1e-8.
void ask_more_of_the_cusp(tests::PublishedOptimum& p) {
  if (p.name == "HS13") p.problem.outputs[0].tolerance = 1e-3;
}

/// From these published starts a descent method ends in another stationary point (the entries say
/// so): they get more starts.
const std::map<std::string, int> kMoreStarts = {{"HS16", 8}, {"HS20", 8}};

}  // namespace

TEST_CASE("published optima are reached with the usual starts") {
  int count = 0;
  for (tests::PublishedOptimum& p : tests::published_optima()) {
    ask_more_of_the_cusp(p);
    for (const Opener opener : {Opener::ceres, Opener::none}) {
      const bool more = kMoreStarts.count(p.name) > 0;
      REQUIRE((!more || !p.start_reaches));
      const Outcome outcome =
          solve(p.problem, {.starts = more ? kMoreStarts.at(p.name) : 3, .opener = opener});
      const Verdict v = judge(p, outcome);
      INFO(p.name << " (" << p.source << "), opener "
                  << (opener == Opener::ceres ? "ceres" : "none") << ": error " << v.error
                  << ", broken by " << v.broken << ", status " << static_cast<int>(outcome.status));
      CHECK(v.right(p));
      CHECK(outcome.status == solver::Status::settled);
      CHECK(outcome.optimality <= 1e-5);
    }
    ++count;
  }
  CHECK(count == 55);
}

TEST_CASE("one start is enough for all published optima but the listed ones") {
  // HS16, HS20: other stationary points, as published. HS70: a fit of two gamma curves with five
  // stationary values published; the first long step leaves the basin. HS25: flat at its start
  // (slopes under 1e-6), where only the opener's damped steps move.
  const std::map<Opener, std::set<std::string>> expected = {
      {Opener::ceres, {"HS16", "HS20", "HS70"}},
      {Opener::none, {"HS16", "HS20", "HS25", "HS70"}},
  };
  for (const auto& [opener, names] : expected) {
    std::set<std::string> failed;
    for (tests::PublishedOptimum& p : tests::published_optima()) {
      ask_more_of_the_cusp(p);
      if (!judge(p, solve(p.problem, {.starts = 1, .opener = opener})).right(p))
        failed.insert(p.name);
    }
    CHECK(failed == names);
  }
}

TEST_CASE("solving a published problem from its answer stays there") {
  for (const tests::PublishedOptimum& p : tests::published_optima()) {
    const Outcome first = solve(p.problem, {.starts = 3});
    const Outcome again =
        solve(p.problem, {.starts = 1, .opener = Opener::none, .warm_start = &first.x});
    INFO(p.name);
    const double size = std::max(1.0, std::abs(p.optimum));
    // HS13 ends in a cusp: no multipliers exist there, and the problem's own note asks its
    // objective to 5e-3 only.
    const double room = p.name == "HS13" ? 5e-3 : 1e-6;
    CHECK_THAT(p.objective(again.g) / size, WithinAbs(p.objective(first.g) / size, room));
    CHECK(again.status == solver::Status::settled);
  }
}
