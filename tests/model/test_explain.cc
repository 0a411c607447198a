// Every cure that is printed is applied to its job and solved; conflicts of the demo have the
// members that a cutter names.
#include "model/explain.h"
#include "model/explore.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace easewright::tests {
namespace {

const std::vector<std::string>& demo_files() {
  static const std::vector<std::string> files = {"choir/jobs/soprano-1.yaml",
                                                 "choir/jobs/soprano-2.yaml",
                                                 "choir/jobs/mezzo-1.yaml",
                                                 "choir/jobs/mezzo-2.yaml",
                                                 "choir/jobs/alto-1.yaml",
                                                 "choir/jobs/alto-2.yaml",
                                                 "choir/jobs/tenor-1.yaml",
                                                 "choir/jobs/bass-1.yaml",
                                                 "choir/jobs/bass-2.yaml",
                                                 "examples/sample.yaml"};
  return files;
}

bool names(const FitResult& result, const Explanation& e, const std::string& rule) {
  return std::any_of(e.members.begin(), e.members.end(), [&](const Participant& p) {
    return p.rule >= 0 && result.posed->rules[static_cast<size_t>(p.rule)].name == rule;
  });
}

void check_cures(const std::string& what, const Job& job) {
  const FitResult before = fit(job, shipped_catalogue());
  for (const Explanation& e : explain(job, shipped_catalogue(), before)) {
    const PosedRule& rule = before.posed->rules[static_cast<size_t>(e.rule)];
    INFO(what << ": " << rule.name);
    CHECK(e.proved);
    CHECK_FALSE(e.members.empty());
    CHECK_FALSE(e.cures.empty());  // a wish that can't be granted can at least be taken back
    for (const Cure& cure : e.cures) {
      const FitResult after = fit(with_cure(job, before, cure.steps), shipped_catalogue());
      for (const Finding& f : after.findings) {
        if (f.name == rule.name) CHECK_FALSE(f.missed);
      }
      for (int level = 0; level <= static_cast<int>(rule.strength); ++level) {
        CHECK(after.outcome.total[static_cast<size_t>(level)] <=
              before.outcome.total[static_cast<size_t>(level)] + 0.011);
      }
    }
  }
}

TEST_CASE("every cure of every demo body holds what it promises") {
  for (const std::string& file : demo_files()) {
    check_cures(file, demo_job(file));
    check_cures(file + ", deep neckline", demo_job(file, {.wishes = {"neckline depth 17 cm"}}));
    check_cures(file + ", wide strap", demo_job(file, {.wishes = {"strap width 9 cm"}}));
  }
}

TEST_CASE(
    "a neckline wish below the cup's bridge is in conflict with it, and the cure is a shallower "
    "neckline") {
  const Job job = demo_job("examples/sample.yaml", {.wishes = {"neckline depth 20 cm"}});
  const FitResult result = fit(job, shipped_catalogue());
  const auto explanations = explain(job, shipped_catalogue(), result);
  REQUIRE(explanations.size() >= 1);
  const auto about =
      std::find_if(explanations.begin(), explanations.end(), [&](const Explanation& e) {
        return result.posed->rules[static_cast<size_t>(e.rule)].wish_id == "neckline.depth";
      });
  REQUIRE(about != explanations.end());
  CHECK(names(result, *about, "neckline depth"));
  REQUIRE_FALSE(about->cures.empty());
  const CureStep& step = about->cures.front().steps.front();
  CHECK(step.id == "neckline.depth");
  CHECK_THAT(step.from, WithinAbs(20, 1e-9));
  CHECK(step.to < 20);
  CHECK(step.to > 8);
}

TEST_CASE("an option that is off is offered when it settles the miss, and only then") {
  // Without a stay tape the deep edge gapes; with it the tape takes some up.
  int offered = 0;
  for (const char* file : {"examples/sample.yaml", "choir/jobs/alto-1.yaml"}) {
    const Job job =
        demo_job(file, {.wishes = {"neckline depth 16.8 cm"}, .switches = {"stay none"}});
    const FitResult result = fit(job, shipped_catalogue());
    for (const Explanation& e : explain(job, shipped_catalogue(), result)) {
      for (const Cure& cure : e.cures) {
        for (const CureStep& step : cure.steps) {
          if (step.kind != CureStep::Kind::option) continue;
          ++offered;
          CHECK(cure.after.switches.is(step.which, step.option));
          CHECK_FALSE(result.switches.is(step.which, step.option));
        }
      }
    }
  }
  CHECK(offered >= 1);
}

TEST_CASE("a wish beyond its value's limit is in conflict with the limit") {
  for (const char* wish : {"strap width 20 cm", "neckline depth 40 cm"}) {
    INFO(wish);
    const Job job = demo_job("choir/jobs/soprano-1.yaml", {.wishes = {wish}});
    const FitResult result = fit(job, shipped_catalogue());
    REQUIRE(result.posed);
    int looked = 0;
    for (const Explanation& e : explain(job, shipped_catalogue(), result)) {
      CHECK(e.members.size() >= 2);
      if (result.posed->rules[static_cast<size_t>(e.rule)].wish_id.empty()) continue;
      ++looked;
    }
    CHECK(looked >= 1);
  }
}

TEST_CASE("no cure asks for less than nothing, and a child's belt is left off") {
  // Ties and belts on children's wear: US CPSC guidance and ASTM F1816 (75 mm outside a channel).
  Job job = demo_job("choir/jobs/soprano-1.yaml");
  Body child;
  child.label = "treble 1";
  child.build = Build::child;
  const std::pair<BodyKey, double> tapes[] = {{BodyKey::stature, 128},
                                              {BodyKey::bust_girth, 64},
                                              {BodyKey::waist_girth, 58},
                                              {BodyKey::hip_girth, 68},
                                              {BodyKey::age, 8}};
  for (const auto& [key, value] : tapes)
    child[key] = BodyValue{.value = value, .sd = info(key).default_sd, .origin = Origin::measured};
  job.body = child;
  const FitResult result = fit(job, shipped_catalogue());
  REQUIRE(result.posed != nullptr);
  int left_off = 0;
  for (const Explanation& e : explain(job, shipped_catalogue(), result)) {
    for (const Cure& cure : e.cures) {
      for (const CureStep& step : cure.steps) {
        CHECK((step.from <= 0 || step.to >= 0));
        left_off += step.kind == CureStep::Kind::option && step.which == Switch::belt ? 1 : 0;
      }
    }
  }
  CHECK(left_off >= 1);
}

TEST_CASE(
    "reach: a value fixed anywhere between its ends still lets everything hold, and beyond them "
    "something gives") {
  const Job job = demo_job("examples/sample.yaml");
  const FitResult result = fit(job, shipped_catalogue());
  REQUIRE(result.all_hold(solver::Level::wish));
  for (const ValueReach& r : reach(result,
                                   {ValueKey::neckline_depth,
                                    ValueKey::strap_width,
                                    ValueKey::skirt_length,
                                    ValueKey::armhole_drop})) {
    INFO(info(r.value).id);
    CHECK(r.least.value <= r.now + 1e-6);
    CHECK(r.greatest.value >= r.now - 1e-6);
    const auto holds_at = [&](double value) {
      Job with = job;
      Wish wish;
      wish.id = std::string(info(r.value).id);
      wish.lo = wish.hi = Expression(value, info(r.value).dimension);
      wish.tolerance = 0.1;
      with.wishes.push_back(wish);
      const FitResult there = fit(with, shipped_catalogue());
      return there.all_hold(solver::Level::wish);
    };
    CHECK(holds_at(0.999 * r.least.value + 0.001 * r.greatest.value));
    CHECK(holds_at(0.5 * (r.least.value + r.greatest.value)));
    CHECK(holds_at(0.001 * r.least.value + 0.999 * r.greatest.value));
    CHECK_FALSE(holds_at(r.greatest.value + 0.5));
    REQUIRE_FALSE(r.greatest.stops.empty());
  }
}

TEST_CASE("a map's border agrees with reach, and threads do not change it") {
  const Job job = demo_job("examples/sample.yaml");
  const FitResult result = fit(job, shipped_catalogue());
  const MapAxis depth{ValueKey::neckline_depth, 4, 20}, width{ValueKey::strap_width, 2.5, 10};
  const ValueMap map = map_values(result, depth, width, 17, 16, 1);
  const ValueMap twice = map_values(result, depth, width, 17, 16, 2);
  REQUIRE(map.map.cells.size() == twice.map.cells.size());
  bool some = false, all = true;
  for (size_t i = 0; i < map.map.cells.size(); ++i) {
    CHECK(map.map.cells[i].holds == twice.map.cells[i].holds);
    CHECK(map.map.cells[i].missed == twice.map.cells[i].missed);
    CHECK(map.map.cells[i].miss == twice.map.cells[i].miss);
    some = some || map.map.cells[i].holds;
    all = all && map.map.cells[i].holds;
  }
  CHECK(some);
  CHECK_FALSE(all);
  // Columns in which some row holds must lie within the reach of the depth when the strap's own
  // wish is let go too.
  Job free = job;
  free.style.wishes.erase(std::remove_if(free.style.wishes.begin(),
                                         free.style.wishes.end(),
                                         [](const Wish& w) {
                                           return w.id == "strap.width" || w.id == "neckline.depth";
                                         }),
                          free.style.wishes.end());
  const FitResult base = fit(free, shipped_catalogue());
  const auto ends = reach(base, {ValueKey::neckline_depth}).front();
  const double cell = (depth.to - depth.from) / 16;
  for (int column = 0; column < 17; ++column) {
    bool holds = false;
    for (int row = 0; row < 16; ++row) holds = holds || map.map.at(column, row).holds;
    const double value = depth.from + cell * column;
    if (value > ends.least.value + cell && value < ends.greatest.value - cell) CHECK(holds);
    if (value < ends.least.value - cell || value > ends.greatest.value + cell) CHECK_FALSE(holds);
  }
}

TEST_CASE("what a wish does agrees with solving again") {
  const Job job = demo_job("examples/sample.yaml", {.wishes = {"neckline depth 11 cm"}});
  const FitResult result = fit(job, shipped_catalogue());
  const double by = 0.02;
  const FitResult more =
      fit(demo_job("examples/sample.yaml", {.wishes = {"neckline depth 11.02 cm"}}),
          shipped_catalogue());
  int compared = 0;
  for (const WishEffect& effect : wish_effects(result)) {
    if (result.posed->rules[static_cast<size_t>(effect.rule)].wish_id != "neckline.depth") continue;
    for (const WishEffect::On& on : effect.on) {
      INFO(info(on.measure).id);
      CHECK_THAT(on.per_unit,
                 WithinAbs((more.measures[on.measure] - result.measures[on.measure]) / by,
                           0.05 + 0.1 * std::abs(on.per_unit)));
      ++compared;
    }
  }
  CHECK(compared >= 2);
}

}  // namespace
}  // namespace easewright::tests
