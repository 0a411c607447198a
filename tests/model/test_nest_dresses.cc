// Real drafts on the choir's bolt: how much of the cloth is filled, beside the bound that area and
// width set.
#include "model/pattern/nest_shapes.h"
#include "model/pattern/pieces.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/nest_check.h"

namespace easewright::tests {
namespace {

std::vector<FitResult> choir_dresses() {
  std::vector<FitResult> dresses;
  for (const char* who : {"soprano-1", "soprano-2", "mezzo-1", "mezzo-2", "alto-1", "alto-2"}) {
    dresses.push_back(
        fit(demo_job(std::string("choir/jobs/") + who + ".yaml"), shipped_catalogue()));
  }
  return dresses;
}

/// The choir's six dresses, one for the sample body, and a plain second one for alto 1.
const std::vector<FitResult>& eight_dresses() {
  static const std::vector<FitResult> dresses = [] {
    std::vector<FitResult> all = choir_dresses();
    all.push_back(fit(demo_job("examples/sample.yaml"), shipped_catalogue()));
    Job plain = demo_job("choir/jobs/alto-2.yaml");
    plain.body = demo_job("choir/jobs/alto-1.yaml").body;
    all.push_back(fit(plain, shipped_catalogue()));
    return all;
  }();
  return dresses;
}

std::vector<NestShape> shapes_for(size_t dresses, CutOf cut_of) {
  std::vector<NestShape> shapes;
  for (size_t i = 0; i < dresses; ++i) {
    const std::vector<NestShape> one = nest_shapes(pieces_of(eight_dresses()[i]),
                                                   cut_of,
                                                   "dress " + std::to_string(i + 1),
                                                   static_cast<int>(i) * 100);
    shapes.insert(shapes.end(), one.begin(), one.end());
  }
  return shapes;
}

NestCloth choir_bolt(Layering layering = Layering::single) {
  return {.width = eight_dresses()[0].posed->frame.cloth.width, .layering = layering, .gap = 0.2};
}

std::string figures(const NestPlan& plan) {
  std::string text = std::to_string(plan.length / 100) + " m where area and width allow " +
                     std::to_string(plan.bound / 100) + " m, " + std::to_string(100 * plan.filled) +
                     " % filled, " + std::to_string(plan.layouts) + " layouts";
  return text;
}

}  // namespace

TEST_CASE("eight dresses fill 80 % of a single layer without nap") {
  // The aim: 80 % within 2 s on two processors. How many layouts these are depends on the machine
  // and on what else it does, so what is held is the share at so many layouts: 24 thousand took 1.3
  // of the 4 s that two processors have in two (Xeon, -O3), and twelve seeds filled 80.9 to 81.9 %.
  const std::vector<NestShape> shapes = shapes_for(8, CutOf::cloth);
  const NestCloth cloth = choir_bolt();
  for (const unsigned seed : {1u, 2u, 3u}) {
    const NestPlan plan = nest(shapes, cloth, {.seed = seed, .layouts = 24000});
    CHECK(faults_of(plan, shapes, cloth).empty());
    CHECK(plan.layouts == 24000);
    CHECK(plan.filled >= 0.80);
    WARN("24000 layouts: " << figures(plan));
  }
  const NestPlan timed = nest(shapes, cloth, {.seconds = 2, .threads = 2});
  CHECK(faults_of(timed, shapes, cloth).empty());
  WARN("2 s here: " << figures(timed));
}

TEST_CASE("dresses lie without an overlap on any cloth, in any way") {
  long placed = 0;
  for (unsigned trial = 0; trial < 60; ++trial) {
    NestDice dice(trial);
    const CutOf cut_of = dice.below(3) == 0 ? CutOf::lining : CutOf::cloth;
    std::vector<NestShape> shapes;
    for (size_t i = 0; i < 8; ++i) {
      if (dice.below(3) > 0) continue;
      const auto one =
          nest_shapes(pieces_of(eight_dresses()[i]), cut_of, "dress", static_cast<int>(i) * 100);
      shapes.insert(shapes.end(), one.begin(), one.end());
    }
    NestCloth cloth;
    cloth.width = dice.between(142, 160);  // a belt's strip is 141 long
    cloth.layering = dice.toss() ? Layering::folded : Layering::single;
    cloth.nap = dice.toss();
    cloth.repeat = dice.toss() ? dice.between(2, 64) : 0;
    cloth.repeat_across = dice.toss() ? dice.between(2, 20) : 0;
    cloth.gap = dice.toss() ? 0 : dice.between(0, 1);
    const NestPlan plan = nest(shapes, cloth, {.seed = trial, .layouts = 8});
    CAPTURE(trial, plan.error);
    REQUIRE(plan.error.empty());
    const std::vector<std::string> faults = faults_of(plan, shapes, cloth);
    CAPTURE(faults);
    CHECK(faults.empty());
    placed += static_cast<long>(plan.placed.size());
  }
  CHECK(placed > 500);
}

TEST_CASE("one dress, two dresses, linings, nap, folded, matched: sound, and the figures") {
  struct Case {
    const char* name;
    size_t dresses;
    CutOf cut_of = CutOf::cloth;
    Layering layering = Layering::single;
    bool nap = false;
    double repeat = 0;
    double least_filled = 0;  ///< home layouts are 70 to 80 % (trade notes 13, common practice)
  };
  const std::vector<Case> cases{
      {.name = "one dress", .dresses = 1, .least_filled = 0.75},
      {.name = "two dresses", .dresses = 2, .least_filled = 0.80},
      {.name = "two with nap", .dresses = 2, .nap = true, .least_filled = 0.75},
      {.name = "eight linings", .dresses = 8, .cut_of = CutOf::lining, .least_filled = 0.65},
      {.name = "two folded", .dresses = 2, .layering = Layering::folded, .least_filled = 0.5},
      {.name = "two matched to a repeat of 16", .dresses = 2, .repeat = 16, .least_filled = 0.6},
  };
  for (const Case& one : cases) {
    INFO(one.name);
    const std::vector<NestShape> shapes = shapes_for(one.dresses, one.cut_of);
    NestCloth cloth = choir_bolt(one.layering);
    cloth.nap = one.nap;
    cloth.repeat = one.repeat;
    const NestPlan plan = nest(shapes, cloth, {.layouts = 4000});
    REQUIRE(plan.error.empty());
    CHECK(faults_of(plan, shapes, cloth).empty());
    CHECK(plan.filled >= one.least_filled);
    WARN(one.name << ": " << figures(plan));
  }
}

TEST_CASE("the pieces of a garment that meet in a side seam are matched there") {
  const std::vector<Piece> pieces = pieces_of(eight_dresses()[5]);
  const std::vector<NestShape> shapes = nest_shapes(pieces, CutOf::cloth, "alto 2", 300);
  REQUIRE(shapes.size() == 5);
  const auto group_of = [&](const std::string& name) {
    for (const NestShape& s : shapes) {
      if (s.name == "alto 2: " + name) return s.match_group;
    }
    return -2;
  };
  CHECK(group_of("bodice front") == 300);
  CHECK(group_of("bodice back") == 300);
  CHECK(group_of("skirt back") == 301);
  CHECK(group_of("skirt front") == 301);
  CHECK(group_of("belt") == -1);
  // What is matched is a corner of the sew line at the waist.
  for (const NestShape& s : shapes) {
    if (s.match_group >= 0) CHECK(std::abs(s.match_y) < 6);
  }
  for (const NestShape& s : nest_shapes(pieces, CutOf::lining, "")) CHECK(s.outline.size() > 3);
}

}  // namespace easewright::tests
