// Derivatives of the answer, against closed forms and against solving again with the limit moved.

#include "posing.h"
#include "solver/sensitivity.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <cmath>

using namespace easewright;
using namespace easewright::solver;
using tests::habit;
using tests::named;
using tests::pose;
using tests::within;

namespace {

Member lower(int i) { return {Member::Kind::output, i, Side::lower}; }
Member upper(int i) { return {Member::Kind::output, i, Side::upper}; }

Sensitivity one(const Problem& p, const Member& limit) {
  return find_sensitivity(p, solve(p, {.starts = 1, .opener = Opener::none}), {limit}).at(0);
}

/// (x(limit + h) - x(limit - h)) / 2h by solving twice.
std::vector<double> by_solving(const Problem& p, const Member& limit, double h) {
  std::vector<double> difference(static_cast<std::size_t>(p.n()));
  for (const double way : {1.0, -1.0}) {
    Problem moved = p;
    const auto k = static_cast<std::size_t>(limit.index);
    if (limit.kind == Member::Kind::bound) {
      (limit.side == Side::lower ? moved.variables[k].lower : moved.variables[k].upper) += way * h;
    } else if (moved.outputs[k].lo == moved.outputs[k].hi) {
      moved.outputs[k].lo += way * h;
      moved.outputs[k].hi += way * h;
    } else {
      (limit.side == Side::lower ? moved.outputs[k].lo : moved.outputs[k].hi) += way * h;
    }
    const Outcome outcome = solve(moved, {.starts = 1, .opener = Opener::none});
    for (std::size_t j = 0; j < difference.size(); ++j)
      difference[j] += way * outcome.x[j] / (2 * h);
  }
  return difference;
}

}  // namespace

TEST_CASE("habits share what a rule asks by the squares of their tolerances") {
  // x + y = s; least x^2/a^2 + y^2/b^2: dx/ds = a^2 / (a^2 + b^2).
  const Problem p = pose({within(-9, 9, 0), within(-9, 9, 0)},
                         {named("sum", 3, 3, Level::must), habit(0, 1), habit(0, 2)},
                         {"x[0]+x[1]", "x[0]", "x[1]"});
  const Sensitivity s = one(p, lower(0));
  CHECK(s.moves);
  CHECK_THAT(s.dx[0], WithinAbs(0.2, 1e-6));
  CHECK_THAT(s.dx[1], WithinAbs(0.8, 1e-6));
  CHECK_THAT(s.dg[0], WithinAbs(1, 1e-9));
}

TEST_CASE("a habit moves what it alone places") {
  const Problem p = pose({within(-9, 9, 0), within(-9, 9, 0)},
                         {named("sum", 3, 3, Level::must), habit(0), habit(0)},
                         {"x[0]+x[1]", "x[0]", "x[1]"});
  const Sensitivity s = one(p, lower(1));
  CHECK_THAT(s.dx[0], WithinAbs(0.5, 1e-6));
  CHECK_THAT(s.dx[1], WithinAbs(-0.5, 1e-6));
}

TEST_CASE("a vertex moves with its limits alone") {
  // x + y <= 4 (must) and x - y >= 1 (should) bind under the wish for y = 9: (2.5, 1.5), both rates
  // by solving two lines.
  const Problem p = pose({within(-9, 9, 0), within(-9, 9, 0)},
                         {named("sum", -kInfinity, 4, Level::must),
                          named("difference", 1, kInfinity, Level::should),
                          named("y", 9, 9, Level::wish)},
                         {"x[0]+x[1]", "x[0]-x[1]", "x[1]"});
  const Sensitivity a = one(p, upper(0));
  CHECK_THAT(a.dx[0], WithinAbs(0.5, 1e-9));
  CHECK_THAT(a.dx[1], WithinAbs(0.5, 1e-9));
  const Sensitivity b = one(p, lower(1));
  CHECK_THAT(b.dx[0], WithinAbs(0.5, 1e-9));
  CHECK_THAT(b.dx[1], WithinAbs(-0.5, 1e-9));
}

TEST_CASE("the limit of a missed rule, or of one with room, moves nothing") {
  const Problem p = pose({within(-9, 9, 0)},
                         {named("cap", -kInfinity, 2, Level::must),
                          named("wish", 5, 5, Level::wish),
                          named("room", -kInfinity, 8, Level::must)},
                         {"x[0]", "x[0]", "x[0]"});
  for (const Member& m : {lower(1), upper(2), upper(1)}) {
    const Sensitivity s = one(p, m);
    CHECK_FALSE(s.moves);
    CHECK(s.dx == std::vector<double>{0});
  }
  CHECK_THAT(one(p, upper(0)).dx[0], WithinAbs(1, 1e-9));
}

TEST_CASE("a bound that holds the answer moves it") {
  const Problem p = pose({within(-9, 2, 0), within(-9, 9, 0)},
                         {named("x", 5, 5, Level::wish), named("sum", 4, 4, Level::must)},
                         {"x[0]", "x[0]+x[1]"});
  const Sensitivity s = one(p, {Member::Kind::bound, 0, Side::upper});
  CHECK_THAT(s.dx[0], WithinAbs(1, 1e-9));
  CHECK_THAT(s.dx[1], WithinAbs(-1, 1e-9));
}

TEST_CASE("a circle's radius moves the point on it, curvature and all") {
  // The wish pulls along (1, 1) with more than the disc allows: the point is r (1, 1) / sqrt 2, so
  // dx/d(r^2) = 1 / (2 sqrt 2 r).
  const Problem p = pose({within(-9, 9, 1), within(-9, 9, 0.4)},
                         {named("disc", -kInfinity, 4, Level::must),
                          named("line", 9, kInfinity, Level::wish),
                          habit(0),
                          habit(0)},
                         {"x[0]**2+x[1]**2", "x[0]+x[1]", "x[0]", "x[1]"});
  const Sensitivity s = one(p, upper(0));
  CHECK_THAT(s.dx[0], WithinAbs(1 / (4 * std::sqrt(2.0)), 1e-5));
  CHECK_THAT(s.dx[1], WithinAbs(1 / (4 * std::sqrt(2.0)), 1e-5));
  CHECK_THAT(s.dg[0], WithinAbs(1, 1e-9));
}

TEST_CASE("derivatives agree with solving again") {
  // Habits with small tolerances: a solve places what only habits decide to about 1e-2 of theirs.
  const Problem p =
      pose({within(-4, 4, 0.5, 0.5), within(-4, 4, 0.7), within(-4, 4, 0.1, 2), within(-4, 4, 0.3)},
           {named("product", 0.8, 2, Level::must),
            named("exp", 0, 2.2, Level::should),
            named("wave", 0.9, 3, Level::wish, 0.3),
            named("far", 0.3, 30, Level::wish, 3),
            habit(0.5, 0.005),
            habit(0.7, 0.01),
            habit(0.1, 0.02),
            habit(0.3, 0.01)},
           {"x[0]*x[1]+0.3*x[3]",
            "exp(x[0])+x[2]*x[3]",
            "sin(x[1])+x[2]**2",
            "x[3]+0.2*x[3]**2-x[2]",
            "x[0]",
            "x[1]",
            "x[2]",
            "x[3]"});
  const Outcome outcome = solve(p, {.starts = 1, .opener = Opener::none});
  REQUIRE(outcome.status == Status::settled);
  int moving = 0;
  for (const Member& m : {lower(0),
                          upper(0),
                          upper(1),
                          lower(2),
                          lower(3),
                          lower(4),
                          lower(5),
                          lower(6),
                          lower(7),
                          Member{Member::Kind::bound, 3, Side::upper}}) {
    const Sensitivity s = find_sensitivity(p, outcome, {m}).at(0);
    const std::vector<double> want = by_solving(p, m, 1e-3);
    INFO(tests::spelled(p, m) << " index " << m.index);
    for (std::size_t j = 0; j < want.size(); ++j)
      CHECK_THAT(s.dx[j], WithinAbs(want[j], 2e-3 * (1 + std::abs(want[j]))));
    moving += s.moves;
  }
  CHECK(moving >= 4);
}
