// How far values reach, against ends that can be written down.

#include "posing.h"
#include "solver/reach.h"
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

ReachQuery variable(int j, std::vector<int> let_go = {}) {
  return {{Value::Kind::variable, j}, std::move(let_go)};
}
ReachQuery output(int i, std::vector<int> let_go = {}) {
  return {{Value::Kind::output, i}, std::move(let_go)};
}

}  // namespace

TEST_CASE("a value reaches its bounds when nothing else stops it") {
  const Problem p = pose({within(-2, 7, 1)}, {habit(1)}, {"x[0]"});
  const Reach reach = find_reach(p, solve(p), variable(0));
  CHECK_THAT(reach.least.value, WithinAbs(-2, 1e-9));
  CHECK_THAT(reach.greatest.value, WithinAbs(7, 1e-9));
  REQUIRE(reach.greatest.stops.size() == 1);
  CHECK(reach.greatest.stops[0].member == Member{Member::Kind::bound, 0, Side::upper});
  CHECK_THAT(reach.greatest.stops[0].rate, WithinAbs(1, 1e-6));
  CHECK(reach.least.stops[0].member == Member{Member::Kind::bound, 0, Side::lower});
  CHECK_THAT(reach.least.stops[0].rate, WithinAbs(1, 1e-6));
  CHECK(reach.least.proved);
}

TEST_CASE("a rule stops a value, at its rate") {
  // 2x + y <= 10 with y >= 1: x to 4.5; a unit more of the rule is half a unit of x, a unit more of
  // y's limit half less.
  const Problem p = pose({within(0, 9, 1), within(0, 9, 2)},
                         {named("cap", -kInfinity, 10, Level::must),
                          named("y", 1, kInfinity, Level::should),
                          habit(1),
                          habit(2)},
                         {"2*x[0]+x[1]", "x[1]", "x[0]", "x[1]"});
  const Reach reach = find_reach(p, solve(p), variable(0));
  CHECK_THAT(reach.greatest.value, WithinAbs(4.5, 1e-6));
  REQUIRE(reach.greatest.stops.size() == 2);
  for (const Limiter& stop : reach.greatest.stops) {
    CHECK_THAT(stop.rate, WithinAbs(stop.member.index == 0 ? 0.5 : -0.5, 1e-5));
  }
  CHECK_THAT(reach.least.value, WithinAbs(0, 1e-9));
}

TEST_CASE("an output reaches round a curve") {
  // On the disc of radius 5 about the origin, x + y runs between -5 sqrt 2 and 5 sqrt 2.
  const Problem p = pose({within(-9, 9, 1), within(-9, 9, 2)},
                         {named("disc", -kInfinity, 25, Level::must),
                          named("sum", 1, 2, Level::wish),
                          habit(1),
                          habit(2)},
                         {"x[0]**2+x[1]**2", "x[0]+x[1]", "x[0]", "x[1]"});
  const Reach reach = find_reach(p, solve(p), output(1));
  CHECK_THAT(reach.greatest.value, WithinAbs(5 * std::sqrt(2.0), 1e-5));
  CHECK_THAT(reach.least.value, WithinAbs(-5 * std::sqrt(2.0), 1e-5));
  CHECK(reach.greatest.proved);
  // d(5 sqrt 2) / d(25) = sqrt 2 / (2 * 5).
  CHECK_THAT(reach.greatest.stops.at(0).rate, WithinAbs(std::sqrt(2.0) / 10, 1e-5));
}

TEST_CASE("a value reaches into another valley") {
  // 1 <= (x - 2)^2 <= 4 holds on [0, 1] and on [3, 4], and nowhere between.
  const Problem p = pose({within(-1, 6, 1, 0.5)},
                         {named("ring", 1, 4, Level::must), habit(0.5)},
                         {"(x[0]-2)**2", "x[0]"});
  const Outcome outcome = solve(p);
  REQUIRE(outcome.x[0] < 2);
  const Reach reach = find_reach(p, outcome, variable(0));
  CHECK_THAT(reach.greatest.value, WithinAbs(4, 1e-5));
  CHECK_THAT(reach.least.value, WithinAbs(0, 1e-5));
  CHECK(reach.greatest.proved);
  REQUIRE(reach.greatest.stops.size() == 1);
  CHECK(reach.greatest.stops[0].member == Member{Member::Kind::output, 0, Side::upper});
}

TEST_CASE("what is missed stays as far out as it is and stops others") {
  // The wish for x + y = 10 gets 4 of 10 under the must; x may then only trade against y.
  const Problem p = pose({within(0, 9, 1), within(0, 3, 1)},
                         {named("cap", -kInfinity, 4, Level::must),
                          named("sum", 10, 10, Level::wish),
                          habit(1),
                          habit(1)},
                         {"x[0]+x[1]", "x[0]+x[1]", "x[0]", "x[1]"});
  const Outcome outcome = solve(p);
  const Reach reach = find_reach(p, outcome, variable(0));
  CHECK_THAT(reach.greatest.value, WithinAbs(4, 1e-3));
  CHECK_THAT(reach.least.value, WithinAbs(1, 1e-3));
  // Let go, the wish no longer holds x up.
  CHECK_THAT(find_reach(p, outcome, variable(0, {1})).least.value, WithinAbs(0, 1e-6));
}

TEST_CASE("a value that nothing stops has no end") {
  const Problem p = pose({within(-kInfinity, kInfinity, 0), within(0, 1, 0)},
                         {named("low", 2, kInfinity, Level::must), habit(0)},
                         {"x[0]+x[1]", "x[1]"});
  const Reach reach = find_reach(p, solve(p), variable(0));
  CHECK(reach.greatest.value == kInfinity);
  CHECK_FALSE(reach.greatest.proved);
  CHECK_THAT(reach.least.value, WithinAbs(1, 1e-6));
}

TEST_CASE("a fixed value stays") {
  const Problem p =
      pose({within(3, 3, 3), within(0, 5, 1)}, {named("sum", 4, 6, Level::must)}, {"x[0]+x[1]"});
  const Reach reach = find_reach(p, solve(p), variable(0));
  CHECK(reach.least.value == 3);
  CHECK(reach.greatest.value == 3);
  CHECK_THAT(find_reach(p, solve(p), variable(1)).greatest.value, WithinAbs(3, 1e-6));
}

TEST_CASE("at each end all that had to hold does") {
  const Problem p =
      pose({within(-4, 4, 0.5), within(-4, 4, 0.5), within(-4, 4, 0)},
           {named("product", 0.2, 2, Level::must),
            named("exp", 0, 6, Level::should),
            named("wave", -0.5, 0.8, Level::wish),
            habit(0.5),
            habit(0.5),
            habit(0)},
           {"x[0]*x[1]", "exp(x[0])+x[2]", "sin(x[1])+x[2]**2", "x[0]", "x[1]", "x[2]"});
  const Outcome outcome = solve(p);
  for (int j = 0; j < 3; ++j) {
    const Reach reach = find_reach(p, outcome, variable(j));
    INFO("variable " << j);
    CHECK(reach.least.value <= outcome.x[static_cast<std::size_t>(j)] + 1e-6);
    CHECK(reach.greatest.value >= outcome.x[static_cast<std::size_t>(j)] - 1e-6);
    for (const ReachEnd* end : {&reach.least, &reach.greatest}) {
      const Outcome there = evaluate(p, end->x);
      for (std::size_t i = 0; i < 3; ++i)
        CHECK(std::abs(there.miss[i]) <= 2 * kHolds * p.outputs[i].tolerance);
    }
  }
}
