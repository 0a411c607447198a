// Two answers whose misses agree to half a per cent may still lie in different valleys, and one of
// them be better. The least totals are known in closed form.

#include "posing.h"
#include "solver/solve.h"
#include "tests/catch.h"

using namespace easewright;
using solver::Level;
using solver::Opener;
using solver::Outcome;
using tests::pose;
using tests::rule;
using tests::within;

namespace {

/// A wish that is missed by `far` whatever x is, beside a wish for
/// (x^2 - 1)^2 / 2 + tilt (x + 1) = 0: met at -1, and missed by about 2 tilt in the valley near 1,
/// down to which the start leads.
solver::Problem two_valleys(double far, double tilt) {
  return pose({within(-3, 3, 0.4)},
              {rule(0, 0, Level::wish), rule(0, 0, Level::wish)},
              {std::to_string(far) + "+0*x[0]",
               "0.5*(x[0]**2-1)**2+" + std::to_string(tilt) + "*(x[0]+1)"});
}

}  // namespace

TEST_CASE("a better valley is found beside one that agrees with it") {
  for (const double far : {6.0, 12.0, 40.0}) {
    for (const double share : {0.1, 0.5, 0.9}) {
      // The valleys differ by 2 tilt: this share of half a per cent.
      const double tilt = 0.5 * share * 0.005 * far;
      INFO("missed by " << far << ", tilt " << tilt);
      const solver::Problem p = two_valleys(far, tilt);
      const Outcome one = solve(p, {.starts = 1, .opener = Opener::none});
      CHECK(one.x[0] > 0.5);
      CHECK(one.total[static_cast<int>(Level::wish)] > far + 1.9 * tilt);
      const Outcome many = solve(p, {.starts = 6, .opener = Opener::none});
      CHECK(many.x[0] < -0.5);
      CHECK_THAT(many.total[static_cast<int>(Level::wish)], WithinAbs(far, solver::kHolds));
    }
  }
}
