// What would help a group, against fits made by hand: the advice's counts have to be those of the
// jobs that it stands for.

#include "model/group/advice.h"
#include "tests/catch.h"
#include "tests/model/group_of.h"

#include <algorithm>
#include <set>

namespace easewright::tests {
namespace {

using solver::Level;

/// Which of the bodies hold every must, should and wish in this job, by fit() alone; `ignored`: a
/// wish that does not count.
std::vector<bool> hold_all(const Job& job,
                           const std::vector<Body>& bodies,
                           const std::string& ignored) {
  std::vector<bool> hold;
  for (const Body& body : bodies) {
    Job own = job;
    own.body = body;
    const FitResult r = fit(own, shipped_catalogue());
    hold.push_back(r.posed != nullptr &&
                   std::none_of(r.findings.begin(), r.findings.end(), [&](const Finding& f) {
                     return f.missed && f.strength <= Level::wish &&
                            (ignored.empty() || f.wish_id != ignored);
                   }));
  }
  return hold;
}

void check_counts(const Trial& trial,
                  const std::vector<bool>& before,
                  const std::vector<bool>& after) {
  size_t helped = 0, harmed = 0;
  for (size_t i = 0; i < before.size(); ++i) {
    helped += after[i] && !before[i];
    harmed += before[i] && !after[i];
  }
  CHECK(trial.helped == helped);
  CHECK(trial.harmed == harmed);
}

Job wishful() {
  // Deeper than most can have, on a strap that is wide besides.
  return group_job("concert dress", {just("neckline.depth", 15), just("strap.width", 6, 0.3)});
}

}  // namespace

TEST_CASE("what a wish costs is what fits without it") {
  const Group group = group_of(choir(), wishful(), {.explain = true, .sureness = false});
  const auto rows = sample_of(group.members, group.terms);
  REQUIRE(rows.size() == group.members.size());
  const Advice advice =
      advise(group.job, shipped_catalogue(), group.terms, group.bodies, group.members);
  const auto before = hold_all(group.job, group.bodies, "");
  const auto missing = static_cast<size_t>(std::count(before.begin(), before.end(), false));
  REQUIRE(missing > 2);
  CHECK(advice.missing.bodies == missing);
  CHECK(advice.missing.of == missing);
  CHECK(advice.holding.bodies == before.size() - missing);
  // Style wishes that stand, and the job's two.
  std::set<std::string> wishes;
  for (const Term& t : group.terms.all)
    if (t.rule == nullptr) wishes.insert(t.wish_id);
  REQUIRE(advice.wishes.size() == wishes.size());
  size_t dearest = 0;
  for (const WithoutWish& w : advice.wishes) {
    const std::string& id = group.terms.all[static_cast<size_t>(w.term)].wish_id;
    INFO("without " << id);
    Job without = group.job;
    const auto same = [&](const Wish& wish) { return wish.id == id; };
    std::erase_if(without.style.wishes, same);
    std::erase_if(without.wishes, same);
    check_counts(w.trial, before, hold_all(without, group.bodies, id));
    dearest = std::max(dearest, w.trial.helped);
  }
  CHECK(advice.wishes.front().trial.helped == dearest);
  CHECK(dearest > 0);
}

TEST_CASE("changes to the style do what they are said to do") {
  const Group group = group_of(choir(), wishful(), {.explain = true, .sureness = false});
  const Advice advice =
      advise(group.job, shipped_catalogue(), group.terms, group.bodies, group.members);
  const auto before = hold_all(group.job, group.bodies, "");
  REQUIRE_FALSE(advice.changes.empty());
  CHECK(advice.changes.size() <= 3);
  Job all = group.job;
  double last = 1e9;
  for (const StyleChange& c : advice.changes) {
    const Job changed = with_cure(group.job, group.terms, c.change);
    check_counts(c.trial, before, hold_all(changed, group.bodies, ""));
    const double net = static_cast<double>(c.trial.helped) - static_cast<double>(c.trial.harmed);
    CHECK(net > 0);
    CHECK(net <= last);
    CHECK(c.settles > 0);
    last = net;
    all = with_cure(all, group.terms, c.change);
  }
  if (advice.changes.size() > 1) {
    REQUIRE(advice.together);
    check_counts(advice.all_changes, before, hold_all(all, group.bodies, ""));
  }
}

TEST_CASE("members that were not explained are, for the changes") {
  const Group told = group_of(choir(), wishful(), {.explain = true, .sureness = false});
  const Group untold = group_of(choir(), wishful());
  const Advice a = advise(told.job, shipped_catalogue(), told.terms, told.bodies, told.members);
  const Advice b =
      advise(untold.job, shipped_catalogue(), untold.terms, untold.bodies, untold.members);
  REQUIRE(a.changes.size() == b.changes.size());
  for (size_t i = 0; i < a.changes.size(); ++i) CHECK(a.changes[i].change == b.changes[i].change);
}

TEST_CASE("a group that misses nothing is advised nothing") {
  const Group group = group_of(choir(), group_job("concert dress"));
  const Advice advice =
      advise(group.job, shipped_catalogue(), group.terms, group.bodies, group.members);
  CHECK(advice.missing.of == 0);
  CHECK(advice.changes.empty());
  for (const WithoutWish& w : advice.wishes) CHECK(w.trial.helped == 0);
}

TEST_CASE("samples are spread evenly") {
  CHECK(spread_evenly(3, 10) == std::vector<size_t>{0, 1, 2});
  CHECK(spread_evenly(10, 5) == std::vector<size_t>{0, 2, 4, 6, 8});
  CHECK(spread_evenly(0, 5).empty());
  const auto many = spread_evenly(100000, 100);
  CHECK(many.size() == 100);
  CHECK(std::is_sorted(many.begin(), many.end()));
  CHECK(many.back() < 100000);
}

}  // namespace easewright::tests
