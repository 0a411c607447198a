// Sums over a group: intervals and quantiles against published figures, counts by hand.

#include "model/group/summary.h"
#include "tests/catch.h"
#include "tests/model/group_of.h"

#include <cmath>
#include <limits>

namespace easewright::tests {

TEST_CASE("intervals of shares are Wilson's, as tabled") {
  // Newcombe, Statistics in Medicine 17 (1998) 857, table I, method 3, 95 %.
  struct Row {
    size_t seen, of;
    double least, most;
  };
  for (const Row& row : {Row{81, 263, 0.2553, 0.3662},
                         Row{15, 148, 0.0624, 0.1605},
                         Row{0, 20, 0.0, 0.1611},
                         Row{1, 29, 0.0061, 0.1718}}) {
    INFO(row.seen << " of " << row.of);
    const Interval i = share_interval(row.seen, row.of);
    CHECK_THAT(i.least, WithinAbs(row.least, 5.1e-5));
    CHECK_THAT(i.most, WithinAbs(row.most, 5.1e-5));
    // The same seen from the other side.
    const Interval other = share_interval(row.of - row.seen, row.of);
    CHECK_THAT(other.most, WithinAbs(1 - i.least, 1e-12));
    CHECK_THAT(other.least, WithinAbs(1 - i.most, 1e-12));
  }
  CHECK(share_interval(0, 0).least == 0);
  CHECK(share_interval(0, 0).most == 1);
  // Surer is wider.
  CHECK(share_interval(15, 148, 0.99).most > share_interval(15, 148, 0.95).most);
}

TEST_CASE("quantiles are linear between neighbours") {
  // Hyndman and Fan 1996, type 7: of 1 to 10 the quantile at p is 1 + 9 p.
  const Spread spread = spread_of({10, 1, 9, 2, 8, 3, 7, 4, 6, 5});
  CHECK(spread.count == 10);
  CHECK(spread.least == 1);
  CHECK(spread.most == 10);
  for (size_t i = 0; i < kShares.size(); ++i)
    CHECK_THAT(spread.at[i], WithinAbs(1 + 9 * kShares[i], 1e-12));
  const Spread one = spread_of({4});
  for (const double at : one.at) CHECK(at == 4);
  CHECK(spread_of({}).count == 0);
}

TEST_CASE("a summary counts what the members say") {
  Terms terms;
  const auto add = [&terms](const char* name, solver::Level strength, double tolerance) {
    Term t;
    t.name = name;
    t.strength = strength;
    t.tolerance = tolerance;
    t.dimension = kLength;
    terms.all.push_back(t);
  };
  add("a must", solver::Level::must, 0.1);
  add("a should", solver::Level::should, 0.5);
  add("a wish", solver::Level::wish, 1);
  add("a habit", solver::Level::habit, 1);
  std::vector<Member> members(6);
  const float none = std::numeric_limits<float>::quiet_NaN();
  for (size_t i = 0; i < members.size(); ++i) {
    members[i].values.fill(none);
    members[i].values[0] = static_cast<float>(i);
    members[i].measures.fill(none);
  }
  members[1].misses = {{0, 0.2F, {}}};
  members[2].misses = {{1, -1.0F, {}}, {2, 3.0F, {}}};
  members[3].misses = {{2, -2.0F, {}}};
  members[4].misses = {{3, 9.0F, {}}};
  members[5].misses = {{2, -1.0F, {}}};
  members[2].sureness = MemberSureness{.missed = 2, .toss_ups = 1, .estimated = 8};
  members[3].sureness = MemberSureness{.missed = 1, .toss_ups = 0, .estimated = 4};
  const Summary s = summarise(members, terms);
  CHECK(s.members == 6);
  CHECK(s.fit_fully == 2);  // a habit is nobody's wish
  CHECK(s.fit == 4);
  CHECK(s.can_be_made == 5);
  REQUIRE(s.misses.size() == 3);
  CHECK(s.misses[0].term == 2);
  CHECK(s.misses[0].amounts.size() == 3);
  CHECK(s.misses[0].above == 1);
  CHECK_THAT(s.misses[0].size.at[2], WithinAbs(2, 1e-6));
  CHECK_THAT(s.misses[1].size.most + s.misses[2].size.most, WithinAbs(2 + 2, 1e-6));
  CHECK(s.values[0].count == 6);
  CHECK_THAT(s.values[0].at[2], WithinAbs(2.5, 1e-9));
  CHECK(s.values[1].count == 0);
  CHECK(s.sure_of == 2);
  CHECK(s.with_toss_ups == 1);
  CHECK_THAT(s.expected_misses, WithinAbs(1.5, 1e-9));
  CHECK_THAT(s.estimated.at[2], WithinAbs(6, 1e-9));
}

}  // namespace easewright::tests
