// Levelled problems with known answers: goal programming textbook examples, the stack loss fits,
// and small ones by hand. Each entry of test-problems.json names its source and says why the answer
// is right.

#include "published.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <cmath>

using namespace easewright;
using solver::Level;
using solver::Opener;
using solver::Outcome;
using solver::Shape;

namespace {

constexpr Level kNamed[] = {Level::must, Level::should, Level::wish};
const char* const kNames[] = {"must", "should", "wish"};

/// The entries sum squared misses without the half.
double total_of(const solver::Problem& problem, const Outcome& outcome, Level level) {
  double total = 0;
  for (std::size_t i = 0; i < problem.outputs.size(); ++i) {
    if (problem.outputs[i].level != level) continue;
    const double d = std::abs(outcome.miss[i]) / problem.outputs[i].tolerance;
    total += problem.outputs[i].shape == Shape::absolute ? d : d * d;
  }
  return total;
}

}  // namespace

TEST_CASE("levelled problems have their known answers") {
  int count = 0;
  for (const tests::PublishedLevels& p : tests::published_levels()) {
    for (const Opener opener : {Opener::ceres, Opener::none}) {
      const Outcome outcome = solve(p.problem, {.opener = opener});
      INFO(p.name << " (" << p.source << "): " << p.why);
      CHECK(outcome.status == solver::Status::settled);
      for (int l = 0; l < 3; ++l) {
        if (!p.totals.count(kNames[l])) continue;
        INFO("level " << kNames[l]);
        const double want = p.totals.at(kNames[l]);
        const double got = total_of(p.problem, outcome, kNamed[l]);
        // At a tangent the slack of a finished level (1e-3) buys its square root below: better than
        // the exact answer there, and no worse than the slack above.
        if (p.tangent) {
          CHECK(got <= want + solver::kHolds);
        } else {
          CHECK_THAT(got, WithinAbs(want, 1e-6 * (1 + want)));
        }
      }
      if (!p.unique || p.tangent) continue;
      for (std::size_t j = 0; j < p.x.size(); ++j) {
        CHECK_THAT(outcome.x[j], WithinAbs(p.x[j], 2e-6 * (1 + std::abs(p.x[j]))));
      }
      for (std::size_t i = 0; i < p.problem.outputs.size(); ++i) {
        const auto known = p.misses.find(p.problem.outputs[i].name);
        if (known == p.misses.end()) continue;
        const double got =
            std::abs(outcome.miss[i]);  // the entries give misses in the output's own unit
        CHECK_THAT(got, WithinAbs(known->second, 1e-5 * (1 + known->second)));
      }
    }
    ++count;
  }
  CHECK(count == 14);
}
