// Prices of remedies: published ones of 18 infeasible systems (test-problems.json:
// 'single_relaxations' lists every member that settles the whole system alone, and how far it has
// to give), and small problems worked out by hand.

#include "posing.h"
#include "published.h"
#include "solver/remedy.h"
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

std::vector<Member> everything(const Problem& p) {
  std::vector<Member> members;
  for (int i = 0; i < p.m(); ++i) members.push_back({Member::Kind::output, i, Side::lower});
  for (int j = 0; j < p.n(); ++j) {
    const Variable& v = p.variables[static_cast<std::size_t>(j)];
    if (std::isfinite(v.lower)) members.push_back({Member::Kind::bound, j, Side::lower});
    if (std::isfinite(v.upper)) members.push_back({Member::Kind::bound, j, Side::upper});
  }
  return members;
}

Problem slit() {
  // A slit to start no higher than the must allows: height + cover >= 10, cover <= 3, so height >=
  // 7, wished at 4. The bound of the third variable lets cover grow by at most 1 more.
  return pose({within(0, 20, 6), within(0, 9, 2), within(0, 1, 0)},
              {named("sum", 10, kInfinity, Level::must),
               named("cover", -kInfinity, 3, Level::should),
               named("height", -kInfinity, 4, Level::wish),
               habit(6),
               habit(2),
               habit(0)},
              {"x[0]+x[1]+x[2]", "x[1]", "x[0]", "x[0]", "x[1]", "x[2]"});
}

}  // namespace

TEST_CASE("published prices of single members are met, and no other member has one") {
  int priced = 0;
  for (tests::PublishedConflict& p : tests::published_conflicts()) {
    for (Output& o : p.problem.outputs) o.tolerance = 1e-3;
    const Outcome outcome = solve(p.problem);
    for (const Member& m : everything(p.problem)) {
      const std::string name = tests::spelled(p.problem, m);
      const std::optional<Remedy> remedy =
          price(p.problem, outcome, {m}, -1, Level::wish, Elsewhere::as_posed);
      const auto known = p.single.find(name);
      INFO(p.name << ", " << name << ": " << p.why);
      REQUIRE(remedy.has_value() == (known != p.single.end()));
      if (!remedy) continue;
      CHECK_THAT(remedy->changes[0].by, WithinAbs(known->second, 1e-4));
      ++priced;
    }
  }
  CHECK(priced == 60);
}

TEST_CASE("each remedy's draft lets all the rest hold") {
  const Problem p = slit();
  const Outcome outcome = solve(p);
  const std::vector<Conflict> conflicts = find_conflicts(p, outcome);
  REQUIRE(conflicts.size() == 1);
  const std::vector<Remedy> remedies = find_remedies(p, outcome, conflicts[0]);
  REQUIRE_FALSE(remedies.empty());
  for (const Remedy& remedy : remedies) {
    const Outcome there = evaluate(p, remedy.x);
    for (int i = 0; i < p.m(); ++i) {
      if (p.outputs[static_cast<std::size_t>(i)].level == Level::habit) continue;
      bool gives = false;
      for (const Change& c : remedy.changes)
        gives = gives || (c.member.kind == Member::Kind::output && c.member.index == i);
      if (!gives)
        CHECK(std::abs(there.miss[static_cast<std::size_t>(i)]) <=
              2 * kHolds * p.outputs[static_cast<std::size_t>(i)].tolerance);
    }
  }
}

TEST_CASE("remedies are sorted by what they ask, in their own units") {
  const Problem p = slit();
  const Outcome outcome = solve(p);
  const std::vector<Conflict> conflicts = find_conflicts(p, outcome);
  REQUIRE(conflicts.size() == 1);
  // 4 + 3 + 1 = 8 of 10: whoever gives has to give 2.
  const std::vector<Remedy> remedies = find_remedies(p, outcome, conflicts[0]);
  REQUIRE(remedies.size() == 4);
  for (std::size_t k = 0; k < remedies.size(); ++k) {
    REQUIRE(remedies[k].changes.size() == 1);
    CHECK_THAT(remedies[k].changes[0].by, WithinAbs(2, 1e-3));
    if (k > 0) CHECK(remedies[k].asks >= remedies[k - 1].asks);
  }
  // The bound's unit is its scale, 1; the rules are felt at 0.1, so the bound asks least.
  CHECK(remedies[0].changes[0].member == Member{Member::Kind::bound, 2, Side::upper});
  CHECK_THAT(remedies[0].asks, WithinAbs(2, 1e-3));
  CHECK_THAT(remedies[1].asks, WithinAbs(20, 1e-2));
}

TEST_CASE("only members that may give are asked") {
  const Problem p = slit();
  const Outcome outcome = solve(p);
  const Conflict conflict = find_conflicts(p, outcome).at(0);
  const std::vector<Remedy> remedies =
      find_remedies(p, outcome, conflict, {.may_give = [](const Member& m) {
                      return m.kind == Member::Kind::output && m.index == 1;
                    }});
  REQUIRE(remedies.size() == 1);
  CHECK(remedies[0].changes[0].member == Member{Member::Kind::output, 1, Side::upper});
  CHECK_THAT(remedies[0].changes[0].by, WithinAbs(2, 1e-3));
}

TEST_CASE("where no single one settles it the best pair is found") {
  // x wished at 5 under two caps of 3 and 3.5 that hold apart: both have to give, 2 and 1.5. The
  // third cap, at 6, is far.
  const Problem p = pose({within(-9, 9, 0)},
                         {named("cap a", -kInfinity, 3, Level::must),
                          named("cap b", -kInfinity, 3, Level::must, 0.2),
                          named("cap c", -kInfinity, 6, Level::must),
                          named("wish", 5, kInfinity, Level::wish)},
                         {"x[0]", "x[0]", "x[0]", "x[0]"});
  const Outcome outcome = solve(p);
  Conflict conflict;
  conflict.missed = 3;
  conflict.members = {{Member::Kind::output, 3, Side::lower},
                      {Member::Kind::output, 0, Side::upper},
                      {Member::Kind::output, 1, Side::upper},
                      {Member::Kind::output, 2, Side::upper}};
  const std::vector<Remedy> remedies = find_remedies(p, outcome, conflict);
  REQUIRE(remedies.size() == 2);
  // The wish itself gives 2; or both caps give 2, which is 20 and 10 tolerances.
  CHECK(remedies[0].changes[0].member.index == 3);
  REQUIRE(remedies[1].changes.size() == 2);
  CHECK_THAT(remedies[1].changes[0].by, WithinAbs(2, 1e-3));
  CHECK_THAT(remedies[1].changes[1].by, WithinAbs(2, 1e-3));
  CHECK_THAT(remedies[1].asks, WithinAbs(30, 0.02));
}

TEST_CASE("a curved price: how far out a point on a circle has to go") {
  // Within 2 of the origin and x + y >= 4: sqrt(8) is needed, the circle gives 8 - 4 in squared
  // radius or the line 4 - sqrt(8).
  const Problem p =
      pose({within(-9, 9, 1), within(-9, 9, 0.5)},
           {named("circle", -kInfinity, 4, Level::must), named("line", 4, kInfinity, Level::wish)},
           {"x[0]**2+x[1]**2", "x[0]+x[1]"});
  const Outcome outcome = solve(p);
  const std::vector<Remedy> remedies = find_remedies(p, outcome, find_conflicts(p, outcome).at(0));
  REQUIRE(remedies.size() == 2);
  CHECK_THAT(remedies[0].changes[0].by, WithinAbs(4 - std::sqrt(8.0), 1e-4));
  CHECK_THAT(remedies[1].changes[0].by, WithinAbs(4, 1e-3));
}

TEST_CASE("misses elsewhere stay at what they got") {
  // y is hopeless in its own way; x's remedy doesn't mend it and isn't spoilt by it.
  const Problem p =
      pose({within(-9, 2, 0), within(-9, 1, 0)},
           {named("x", 3, kInfinity, Level::wish), named("y", 6, kInfinity, Level::wish)},
           {"x[0]", "x[1]"});
  const Outcome outcome = solve(p);
  const Conflict conflict = find_conflict(p, outcome, 0);
  const std::vector<Remedy> remedies = find_remedies(p, outcome, conflict);
  REQUIRE(remedies.size() == 2);
  CHECK_THAT(remedies[0].changes[0].by, WithinAbs(1, 1e-3));
  CHECK_FALSE(
      price(
          p, outcome, {{Member::Kind::bound, 0, Side::upper}}, 0, Level::wish, Elsewhere::as_posed)
          .has_value());
}
