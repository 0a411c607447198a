// Smallest sets: published infeasible systems with every irreducible set known (test-problems.json,
// section 2: netlib's infeas collection, Chinneck & Dravnieks 1991, Byrd, Curtis & Nocedal 2010,
// and constructions explained there), and small problems whose conflicts can be read off.

#include "posing.h"
#include "published.h"
#include "solver/conflict.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <algorithm>
#include <set>

using namespace easewright;
using namespace easewright::solver;
using tests::habit;
using tests::named;
using tests::pose;
using tests::within;

namespace {

using Names = std::set<std::string>;

Names names_of(const Problem& problem, const std::vector<Member>& members) {
  Names names;
  for (const Member& m : members) names.insert(tests::spelled(problem, m));
  return names;
}

std::vector<Names> known_sets(const tests::PublishedConflict& p) {
  std::vector<Names> sets;
  for (const auto& members : p.irreducible) sets.emplace_back(members.begin(), members.end());
  return sets;
}

bool is_known(const std::vector<Names>& sets, const Names& found) {
  return std::find(sets.begin(), sets.end(), found) != sets.end();
}

/// The smallest published gap is 1e-3: that is one tolerance.
void fine_tolerances(Problem& problem) {
  for (Output& o : problem.outputs) o.tolerance = 1e-3;
}

/// Starts that reach mirrored points far from the answer ('rectangle' has them, where its bounds
/// are let go).
constexpr int kWide = 12;

}  // namespace

TEST_CASE("least sums of misses of the published systems are reached") {
  for (tests::PublishedConflict& p : tests::published_conflicts()) {
    fine_tolerances(p.problem);
    const Outcome outcome = solve(p.problem);
    double sum = 0;
    for (const double d : outcome.miss) sum += std::abs(d);
    INFO(p.name);
    CHECK_THAT(sum, WithinAbs(p.least_sum, 1e-5 * (1 + p.least_sum)));
  }
}

TEST_CASE("each miss of a published system is explained by one of its irreducible sets") {
  int count = 0;
  for (tests::PublishedConflict& p : tests::published_conflicts()) {
    fine_tolerances(p.problem);
    const std::vector<Names> sets = known_sets(p);
    const Outcome outcome = solve(p.problem);
    const std::vector<Conflict> conflicts = find_conflicts(
        p.problem, outcome, {.other_bounds = OtherBounds::go, .further_starts = kWide});
    INFO(p.name << " (" << p.source << "): " << p.why);
    CHECK_FALSE(conflicts.empty());
    for (const Conflict& conflict : conflicts) {
      CHECK(is_known(sets, names_of(p.problem, conflict.members)));
      CHECK(conflict.proved);
      CHECK(conflict.members.front().index == conflict.missed);
    }
    ++count;
  }
  CHECK(count == 18);
}

TEST_CASE("with the other bounds held a published set is found but for bounds") {
  for (tests::PublishedConflict& p : tests::published_conflicts()) {
    fine_tolerances(p.problem);
    const Outcome outcome = solve(p.problem);
    for (const Conflict& conflict : find_conflicts(p.problem, outcome)) {
      const Names found = names_of(p.problem, conflict.members);
      INFO(p.name);
      CHECK(conflict.proved);
      const std::vector<Names> sets = known_sets(p);
      CHECK(std::any_of(sets.begin(), sets.end(), [&](const Names& set) {
        return std::includes(set.begin(), set.end(), found.begin(), found.end()) &&
               std::all_of(set.begin(), set.end(), [&](const std::string& member) {
                 return found.count(member) || member.rfind("x[", 0) == 0;
               });
      }));
    }
  }
}

TEST_CASE("every published irreducible set is found when its members are kept longest") {
  int sets = 0;
  for (tests::PublishedConflict& p : tests::published_conflicts()) {
    fine_tolerances(p.problem);
    for (const Names& wanted : known_sets(p)) {
      const Conflict conflict = find_irreducible(
          p.problem,
          {.changeable =
               [&](const Member& m) { return wanted.count(tests::spelled(p.problem, m)); },
           .other_bounds = OtherBounds::go,
           .further_starts = kWide,
           .most_solves = 4000});
      INFO(p.name << ": " << p.why);
      CHECK(names_of(p.problem, conflict.members) == wanted);
      CHECK(conflict.proved);
      ++sets;
    }
  }
  CHECK(sets == 45);
}

TEST_CASE("a system that can hold has no irreducible set") {
  const Problem p = pose({within(0, 5, 0), within(0, 5, 0)},
                         {named("sum", 3, 4, Level::must), named("product", 2, 3, Level::wish)},
                         {"x[0]+x[1]", "x[0]*x[1]"});
  CHECK(find_irreducible(p).members.empty());
  CHECK(find_conflicts(p, solve(p)).empty());
}

TEST_CASE("a conflict goes through a bound") {
  // x <= 2 by its bound, y <= 1, so x + y reaches 3 of 5; z is nobody's business.
  const Problem p = pose({within(-9, 2, 0), within(-9, 9, 0), within(-9, 9, 0)},
                         {named("sum", 5, kInfinity, Level::wish),
                          named("y", -kInfinity, 1, Level::must),
                          named("z", 4, 4, Level::must),
                          named("difference", -20, 20, Level::should)},
                         {"x[0]+x[1]", "x[1]", "x[2]", "x[0]-x[2]"});
  const std::vector<Conflict> conflicts = find_conflicts(p, solve(p));
  REQUIRE(conflicts.size() == 1);
  const std::vector<Member> want = {{Member::Kind::output, 0, Side::lower},
                                    {Member::Kind::output, 1, Side::upper},
                                    {Member::Kind::bound, 0, Side::upper}};
  CHECK(conflicts[0].members == want);
  CHECK(conflicts[0].proved);
  CHECK(conflicts[0].widened.empty());
}

TEST_CASE("two misses with nothing in common are explained apart") {
  const Problem p = pose({within(-9, 9, 0), within(-9, 9, 0)},
                         {named("x low", -kInfinity, 1, Level::must),
                          named("x high", 2, kInfinity, Level::wish),
                          named("y low", -kInfinity, 1, Level::must),
                          named("y high", 3, kInfinity, Level::wish)},
                         {"x[0]", "x[0]", "x[1]", "x[1]"});
  const std::vector<Conflict> conflicts = find_conflicts(p, solve(p));
  REQUIRE(conflicts.size() == 2);
  CHECK(names_of(p, conflicts[0].members) == Names{"x high", "x low"});
  CHECK(names_of(p, conflicts[1].members) == Names{"y high", "y low"});
}

TEST_CASE("overlapping conflicts share their rule") {
  // top caps both sums; each wish for itself is out of reach.
  const Problem p = pose({within(0, 9, 0), within(0, 9, 0), within(0, 9, 0)},
                         {named("top", -kInfinity, 4, Level::must),
                          named("a", 6, kInfinity, Level::wish),
                          named("b", 7, kInfinity, Level::wish)},
                         {"x[0]+x[1]+x[2]", "x[0]+x[1]", "x[1]+x[2]"});
  const Outcome outcome = solve(p);
  const std::vector<Conflict> conflicts = find_conflicts(p, outcome);
  REQUIRE(conflicts.size() == 2);
  // x2 >= 0 is what keeps a + x2 = top from giving; for b it is x0 >= 0.
  CHECK(names_of(p, conflicts[0].members) == Names{"a", "top", "x[2]>=0"});
  CHECK(names_of(p, conflicts[1].members) == Names{"b", "top", "x[0]>=0"});
}

TEST_CASE("rules below the missed one's level take no part") {
  // The should would like x + y >= 8; the wish and the habits pull elsewhere and don't matter to
  // it.
  const Problem p = pose({within(0, 3, 1), within(0, 3, 1)},
                         {named("sum", 8, kInfinity, Level::should),
                          named("wish", 0, 0, Level::wish),
                          habit(1),
                          habit(1)},
                         {"x[0]+x[1]", "x[0]-x[1]", "x[0]", "x[1]"});
  const std::vector<Conflict> conflicts = find_conflicts(p, solve(p));
  REQUIRE(conflicts.size() == 1);
  CHECK(names_of(p, conflicts[0].members) == Names{"sum", "x[0]<=3", "x[1]<=3"});
}

TEST_CASE("of two explanations the more changeable is kept") {
  const Problem p = pose({within(-9, 9, 0)},
                         {named("a", -kInfinity, 1, Level::must),
                          named("b", -kInfinity, 1, Level::must),
                          named("wish", 2, kInfinity, Level::wish)},
                         {"x[0]", "x[0]", "x[0]"});
  const Outcome outcome = solve(p);
  for (const int kept : {0, 1}) {
    const Conflict conflict =
        find_conflict(p,
                      outcome,
                      2,
                      {.changeable = [&](const Member& m) { return m.index == kept ? 1.0 : 0.0; },
                       .candidates = Candidates::all});
    CHECK(names_of(p, conflict.members) == Names{"wish", kept == 0 ? "a" : "b"});
  }
}

TEST_CASE("a curved conflict: two discs and a line between them") {
  // Within 1 of the origin, within 1 of (3, 0): the gap is 1. The level line y = 0 takes no part.
  const Problem p =
      pose({within(-9, 9, 0.2), within(-9, 9, 0.3)},
           {named("near", 0, 1, Level::must, 0.01),
            named("far", 0, 1, Level::should, 0.01),
            named("level", 0, 0, Level::must, 0.01)},
           {"sqrt(x[0]**2+x[1]**2+0.0001)", "sqrt((x[0]-3)**2+x[1]**2+0.0001)", "x[1]"});
  const Outcome outcome = solve(p);
  const std::vector<Conflict> conflicts = find_conflicts(p, outcome);
  REQUIRE(conflicts.size() == 1);
  CHECK(names_of(p, conflicts[0].members) == Names{"near", "far"});
  CHECK(conflicts[0].members[1].side == Side::upper);
}

TEST_CASE("equalities are members from the side they pull") {
  const Problem p = pose({within(-9, 9, 0)},
                         {named("two", 2, 2, Level::must), named("five", 5, 5, Level::wish)},
                         {"x[0]", "x[0]"});
  const std::vector<Conflict> conflicts = find_conflicts(p, solve(p));
  REQUIRE(conflicts.size() == 1);
  const std::vector<Member> want = {{Member::Kind::output, 1, Side::lower},
                                    {Member::Kind::output, 0, Side::upper}};
  CHECK(conflicts[0].members == want);
}

TEST_CASE("a rule that can't hold by itself is its own conflict") {
  const Problem p =
      pose({within(-5, 5, 1), within(-5, 5, 1)},
           {named("never", -kInfinity, -1, Level::must), named("y", 1, 1, Level::must)},
           {"x[0]**2", "x[1]"});
  const std::vector<Conflict> conflicts = find_conflicts(p, solve(p));
  REQUIRE(conflicts.size() == 1);
  CHECK(names_of(p, conflicts[0].members) == Names{"never"});
}

TEST_CASE("another's miss is held at what it got") {
  // x in [0, 1]. High wants 5 and low wants -3; as both are missed, each is explained with the
  // other no worse.
  const Problem p = pose({within(-9, 9, 0)},
                         {named("range", 0, 1, Level::must),
                          named("high", 5, kInfinity, Level::wish),
                          named("low", -kInfinity, -3, Level::wish)},
                         {"x[0]", "x[0]", "x[0]"});
  const Outcome outcome = solve(p);
  for (const Conflict& conflict : find_conflicts(p, outcome)) {
    CHECK(conflict.proved);
    CHECK(conflict.members.size() == 2);
    for (const int i : conflict.widened) CHECK(i != conflict.missed);
  }
}

TEST_CASE("a function that is not finite has no conflicts") {
  const Problem p = pose({within(0, 5, 1)}, {named("log", 0, 1, Level::must)}, {"log(x[0]-10)"});
  for (const Conflict& conflict : find_conflicts(p, solve(p))) CHECK(conflict.members.empty());
}

TEST_CASE("a miss that needn't be says where everything holds") {
  // Judged at -1, in the poorer of two valleys; the problem's own start leads to 1, where all
  // holds.
  const Problem p = pose({within(-3, 3, 1.1)},
                         {named("valley", -kInfinity, 0.05, Level::wish)},
                         {"(x[0]**2-1)**2+0.3*(x[0]-1)**2"});
  const Outcome judged = evaluate(p, {-0.97});
  REQUIRE(is_missed(p, judged, 0));
  const Conflict conflict = find_conflict(p, judged, 0);
  CHECK(conflict.members.empty());
  CHECK_FALSE(conflict.proved);
  REQUIRE(conflict.can_hold_at.size() == 1);
  CHECK(evaluate(p, conflict.can_hold_at).miss[0] <= 2 * kHolds * 0.1);
}
