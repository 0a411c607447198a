// Cutting plans: sound whatever is laid (checked by nest_check.h, which uses nothing of the code
// under test), as short as known optima, the same each time.
#include "model/pattern/nest.h"
#include "tests/catch.h"
#include "tests/model/nest_check.h"

namespace easewright::tests {
namespace {

/// A half bodice in rough: a hollow neckline and armhole, a slanting side.
Outline rough_bodice(NestDice& dice) {
  const double w = dice.between(20, 28), h = dice.between(38, 48);
  Outline out{{0, 0}, {w * 0.8, -1}, {w, h * 0.45}};
  for (int i = 1; i < 8; ++i) {
    const double t = i / 8.0;
    out.push_back({w - w * 0.4 * std::sqrt(t), h * (0.45 + 0.55 * t * t)});
  }
  out.push_back({w * 0.55, h});
  out.push_back({w * 0.3, h + 1});
  for (int i = 1; i < 8; ++i) {
    const double t = i / 8.0;
    out.push_back({w * 0.3 * std::cos(1.57 * t), h + 1 - 10 * std::sin(1.57 * t)});
  }
  out.push_back({0, h - 10});
  return out;
}

/// Right angles only, a step or a notch in it.
Outline rough_steps(NestDice& dice) {
  const double w = dice.between(8, 30), h = dice.between(8, 40);
  const double x = w * dice.between(0.2, 0.8), y = h * dice.between(0.2, 0.8);
  if (dice.toss()) return {{0, 0}, {w, 0}, {w, y}, {x, y}, {x, h}, {0, h}};
  const double x2 = x + 0.5 * (w - x);
  return {{0, 0}, {w, 0}, {w, h}, {x2, h}, {x2, y}, {x, y}, {x, h}, {0, h}};
}

/// A frame with a narrow mouth: what is small enough to lie inside may have no way in.
Outline rough_frame(NestDice& dice) {
  const double w = dice.between(15, 50), h = dice.between(15, 50), t = dice.between(1, 5);
  const double mouth = dice.between(0.2, w - 2 * t);
  return {{0, 0},
          {w, 0},
          {w, h},
          {t + mouth, h},
          {t + mouth, h - t},
          {w - t, h - t},
          {w - t, t},
          {t, t},
          {t, h},
          {0, h}};
}

NestShape random_shape(NestDice& dice, int number, bool matched) {
  NestShape shape;
  shape.name = "piece " + std::to_string(number);
  switch (dice.below(5)) {
    case 3:
      shape.outline = rough_frame(dice);
      break;
    case 0:
      shape.outline = random_star(dice, dice.between(4, 24), 16);
      break;
    case 1:
      shape.outline = rough_bodice(dice);
      shape.on_fold = dice.toss();
      break;
    case 2:
      shape.outline = rough_steps(dice);
      shape.on_fold = dice.toss();
      break;
    default: {  // a skirt panel
      const double w = dice.between(20, 30), h = dice.between(40, 75), f = dice.between(0, 4);
      shape.outline = {{0, 0}, {w + f, 0}, {w, h * 0.7}, {w * 0.9, h}, {0, h - 1}};
      shape.on_fold = dice.toss();
      break;
    }
  }
  shape.count = 1 + dice.below(3);
  shape.mirrored_pairs = !shape.on_fold && dice.toss();
  if (matched && dice.toss()) {
    shape.match_group = dice.below(3) * 7;
    shape.match_y = dice.between(-5, 20);
  }
  shape.centred = shape.on_fold || shape.mirrored_pairs;
  shape.centre_x = shape.on_fold ? 0 : dice.between(-2, 5);
  return shape;
}

}  // namespace

TEST_CASE("five hundred plans without an overlap, on the cloth, on the grain, matched") {
  // Random simple polygons, dress-like pieces, folded and single, nap, repeats, gaps and none.
  long placed = 0, turned = 0, mirrored = 0, pairs = 0, folds = 0, matched = 0, centred = 0;
  for (unsigned trial = 0; trial < 500; ++trial) {
    NestDice dice(1000 + trial);
    NestCloth cloth;
    cloth.width = dice.between(115, 160);
    cloth.layering = dice.toss() ? Layering::folded : Layering::single;
    cloth.nap = dice.below(3) == 0;
    cloth.repeat = dice.below(3) == 0 ? dice.between(3, 65) : 0;
    // Narrow enough for what is centred to find its place on half a cloth.
    cloth.repeat_across = dice.below(3) == 0 ? dice.between(0.5, 7) : 0;
    cloth.gap = dice.below(4) == 0 ? 0 : dice.between(0, 1);
    std::vector<NestShape> shapes;
    const int kinds = 1 + dice.below(9);
    for (int i = 0; i < kinds; ++i) shapes.push_back(random_shape(dice, i, cloth.repeat > 0));
    const NestPlan plan = nest(shapes, cloth, {.seed = trial, .layouts = 12, .threads = 1});
    CAPTURE(trial, plan.error);
    REQUIRE(plan.error.empty());
    const std::vector<std::string> faults = faults_of(plan, shapes, cloth);
    CAPTURE(faults);
    CHECK(faults.empty());
    CHECK(overlap_of(plan, cloth) == 0);
    for (const Placed& one : plan.placed) {
      const NestShape& shape = shapes[static_cast<size_t>(one.shape)];
      ++placed, turned += one.turned, mirrored += one.mirrored, pairs += one.copies == 2;
      folds += cloth.layering == Layering::folded && shape.on_fold;
      matched += cloth.repeat > 0 && shape.match_group >= 0;
      centred += cloth.repeat_across > 0 && shape.centred && !one.at_fold;
    }
  }
  // Nothing of this went untried.
  for (const long count : {placed, turned, mirrored, pairs, folds, matched, centred})
    CHECK(count > 100);
}

TEST_CASE("the check of a plan sees what is wrong with it") {
  const std::vector<NestShape> shapes{shape_of("panel", rectangle(30, 50), 2)};
  NestCloth cloth{.width = 70, .gap = 0.5};
  const NestPlan sound = nest(shapes, cloth, {.layouts = 4});
  REQUIRE(faults_of(sound, shapes, cloth).empty());
  const auto moved = [&](double x, double y) {
    NestPlan plan = sound;
    plan.placed[1].at = plan.placed[0].at + geometry::Vec2<double>{x, y};
    for (size_t i = 0; i < plan.placed[1].outline.size(); ++i) {
      plan.placed[1].outline[i] = plan.placed[0].outline[i] + geometry::Vec2<double>{x, y};
    }
    return plan;
  };
  CHECK_FALSE(faults_of(moved(29.999, 0), shapes, cloth).empty());
  CHECK_THAT(overlap_of(moved(29, 0), cloth), WithinAbs(50, 1e-9));
  CHECK_THAT(overlap_of(moved(45, 0), cloth), WithinAbs(5 * 50, 1e-9));  // over the edge by 5
  CHECK_FALSE(faults_of(moved(30.2, 0), shapes, cloth).empty());         // closer than the gap
  CHECK(overlap_of(moved(30.2, 0), cloth) == 0);
}

TEST_CASE("rectangles that were cut from one another go back together") {
  // Perfect packings constructed by random guillotine cuts: the optimum is the sheet they come
  // from.
  int perfect = 0;
  for (unsigned trial = 0; trial < 20; ++trial) {
    CAPTURE(trial);
    NestDice dice(50 + trial);
    std::vector<std::pair<double, double>> sheets{{100, 80}};
    while (sheets.size() < 7) {
      const size_t which = static_cast<size_t>(dice.below(static_cast<int>(sheets.size())));
      const auto [w, h] = sheets[which];
      const double at = std::round(dice.between(0.2, 0.8) * (dice.toss() ? w : h));
      const bool across = w > h;
      const double cut = std::clamp(at, 1.0, (across ? w : h) - 1);
      sheets[which] = across ? std::pair{cut, h} : std::pair{w, cut};
      sheets.push_back(across ? std::pair{w - cut, h} : std::pair{w, h - cut});
    }
    std::vector<NestShape> shapes;
    for (const auto& [w, h] : sheets) shapes.push_back(shape_of("sheet", rectangle(w, h)));
    const NestCloth cloth{.width = 100, .gap = 0};
    const NestPlan plan = nest(shapes, cloth, {.layouts = 4000});
    CHECK(faults_of(plan, shapes, cloth).empty());
    CHECK(plan.length >= 80 - 1e-9);
    CHECK(plan.length <= 80 * 1.1);
    perfect += plan.length < 80 + 1e-9;
  }
  CHECK(perfect >= 15);
}

TEST_CASE("published packings with known optima") {
  struct Published {
    const char* source;
    double width, optimum;
    double within;  ///< share of the optimum that may be wasted
    std::vector<std::pair<double, double>> pieces;
  };
  std::vector<std::pair<double, double>> squares;
  for (const int s :
       {50, 35, 27, 8, 19, 15, 17, 11, 6, 24, 29, 25, 9, 2, 7, 18, 16, 42, 4, 37, 33}) {
    squares.push_back({s, s});
  }
  const std::vector<Published> all{
      // From memory of Hopper & Turton 2001, strip packing class C1, problem 1: 16 rectangles cut
      // from 20 by 20 (their areas do add up to 400). Simulated annealing over bottom-left-fill
      // orders is published some 4 % above the optimum on this class.
      {"Hopper and Turton C1 P1",
       20,
       20,
       0.05,
       {{2, 12},
        {7, 12},
        {8, 6},
        {3, 6},
        {3, 5},
        {5, 5},
        {3, 12},
        {3, 7},
        {5, 7},
        {2, 6},
        {3, 2},
        {4, 2},
        {3, 4},
        {4, 4},
        {9, 2},
        {11, 2}}},
      // From memory of Duijvestijn 1978: the simple perfect square of order 21 and side 112 (the
      // squares' areas do add up to 112 by 112). Nobody's bottom-left search finds it.
      {"Duijvestijn 21:112A", 112, 112, 0.12, squares}};
  for (const Published& one : all) {
    INFO(one.source);
    std::vector<NestShape> shapes;
    for (const auto& [w, h] : one.pieces) shapes.push_back(shape_of("piece", rectangle(w, h)));
    const NestCloth cloth{.width = one.width, .gap = 0};
    const NestPlan plan = nest(shapes, cloth, {.layouts = 20000});
    CHECK(faults_of(plan, shapes, cloth).empty());
    CHECK_THAT(plan.bound, WithinAbs(one.optimum, 1e-9));
    CHECK(plan.length >= one.optimum - 1e-9);
    CHECK(plan.length <= one.optimum * (1 + one.within) + 1e-9);
    WARN(one.source << ": " << plan.length << " where " << one.optimum << " can be had");
  }
}

TEST_CASE("two halves of a rectangle lie as one, unless the nap forbids it (geometry)") {
  const std::vector<NestShape> shapes{shape_of("gore", {{0, 0}, {30, 0}, {0, 40}}, 2)};
  NestCloth cloth{.width = 30.01, .gap = 0};
  CHECK_THAT(nest(shapes, cloth, {.layouts = 40}).length, WithinAbs(40, 0.02));
  cloth.nap = true;
  // As drawn, each upright leg stands on the one below.
  CHECK_THAT(nest(shapes, cloth, {.layouts = 40}).length, WithinAbs(80, 0.02));
}

TEST_CASE("a piece nests in the hollow of another (geometry)") {
  const std::vector<NestShape> shapes{
      shape_of("frame",
               {{0, 0}, {50, 0}, {50, 30}, {40, 30}, {40, 10}, {10, 10}, {10, 30}, {0, 30}}),
      shape_of("inset", rectangle(29.99, 20))};
  const NestPlan plan = nest(shapes, {.width = 50, .gap = 0}, {.layouts = 40});
  CHECK_THAT(plan.length, WithinAbs(30, 1e-9));
  CHECK_THAT(plan.filled, WithinAbs(1, 2e-4));
  // With a gap of 1 all round it has to stand above.
  CHECK_THAT(nest(shapes, {.width = 50, .gap = 1}, {.layouts = 40}).length, WithinAbs(51, 0.01));
}

TEST_CASE("pieces on the fold lie on the fold, and are opened out on a single layer") {
  NestShape front = shape_of("front", {{0, 0}, {40, 0}, {30, 50}, {0, 45}});
  front.on_fold = true;
  NestShape back = front;
  back.name = "back";
  const std::vector<NestShape> shapes{front, back};
  NestCloth cloth{.width = 140, .layering = Layering::folded, .nap = true, .gap = 0.2};
  const NestPlan folded = nest(shapes, cloth, {.layouts = 40});
  CHECK(faults_of(folded, shapes, cloth).empty());
  // Both at x = 0 of 70, one above the other: the upper one's level edge on the lower one's highest
  // corner. The corner is kept away from with a mitre: a hair more than the gap.
  CHECK_THAT(folded.length, WithinAbs(50 + 0.2 + 50, 0.05));
  cloth.layering = Layering::single;
  const NestPlan single = nest(shapes, cloth, {.layouts = 40});
  CHECK(faults_of(single, shapes, cloth).empty());
  for (const Placed& one : single.placed) {
    const Extent e = extent_of(one.outline);
    CHECK_THAT(e.x1 - e.x0, WithinAbs(80, 1e-6));
    CHECK_THAT(outline_area(one.outline), WithinAbs(2 * outline_area(front.outline), 0.01));
  }
}

TEST_CASE("a folded cloth cuts pairs at once, and single pieces one at a time") {
  NestShape pair = shape_of("front skirt", {{0, 0}, {40, 0}, {30, 60}, {0, 60}}, 2);
  pair.mirrored_pairs = true;
  NestShape odd = shape_of("left alone", {{0, 0}, {40, 0}, {30, 60}, {0, 60}}, 2);
  const NestShape belt = shape_of("belt", rectangle(12, 60), 3);
  const NestCloth cloth{.width = 140, .layering = Layering::folded};
  CHECK(nest({pair}, cloth, {.layouts = 8}).placed.size() == 1);
  CHECK(nest({odd}, cloth, {.layouts = 8}).placed.size() == 2);  // a left twin would be waste
  const NestPlan belts = nest({belt}, cloth, {.layouts = 8});
  CHECK(belts.placed.size() == 2);  // a rectangle is its own mirror image
  CHECK(faults_of(belts, {belt}, cloth).empty());
}

TEST_CASE("a strip wider than the folded cloth lies across its fold, as wide as the cloth") {
  const std::vector<NestShape> shapes{shape_of("strip", rectangle(139, 12), 2),
                                      shape_of("panel", rectangle(60, 30), 2)};
  const NestCloth cloth{.width = 140, .layering = Layering::folded, .gap = 0};
  const NestPlan plan = nest(shapes, cloth, {.layouts = 8});
  CHECK(faults_of(plan, shapes, cloth).empty());
  // Two strips one above the other, and two panels at once.
  CHECK_THAT(plan.length, WithinAbs(2 * 12 + 30, 1e-9));
  for (const Placed& one : plan.placed) CHECK(one.at_fold == (one.shape == 0));
}

TEST_CASE("what is matched lies a whole number of repeats apart (geometry)") {
  std::vector<NestShape> shapes;
  for (int i = 0; i < 3; ++i) {
    NestShape panel = shape_of("panel " + std::to_string(i), rectangle(60, 50));
    panel.match_group = 4;
    panel.match_y = 10;
    shapes.push_back(panel);
  }
  // 60 wide on 100: one above the other; 50 and a gap is rounded up to 64 by a repeat of 32.
  const NestCloth cloth{.width = 100, .repeat = 32, .gap = 0.2};
  const NestPlan plan = nest(shapes, cloth, {.layouts = 8});
  CHECK(faults_of(plan, shapes, cloth).empty());
  CHECK_THAT(plan.length, WithinAbs(2 * 64 + 50, 1e-3));
  for (const Placed& one : plan.placed) CHECK_FALSE(one.turned);
}

TEST_CASE("centres lie whole repeats apart across the cloth, from the fold where it is folded") {
  NestShape front = shape_of("front", rectangle(20, 40), 1);  // opened out: 40 across
  front.on_fold = front.centred = true;
  NestShape pair = shape_of("wrapped front", rectangle(30, 50), 2);
  pair.mirrored_pairs = pair.centred = true;
  pair.centre_x = 6;
  const std::vector<NestShape> shapes{front, pair};
  NestCloth cloth{.width = 145, .repeat_across = 24, .gap = 0.2};
  const NestPlan single = nest(shapes, cloth, {.layouts = 40});
  CAPTURE(single.error);
  CHECK(faults_of(single, shapes, cloth).empty());
  REQUIRE(single.placed.size() == 3);
  // 40, 30 and 30 lie beside each other: their centres 24 k apart need 48 + 48 at the least.
  CHECK_THAT(single.length, WithinAbs(50, 1e-3));
  cloth.layering = Layering::folded;
  const NestPlan folded = nest(shapes, cloth, {.layouts = 40});
  CAPTURE(folded.error);
  CHECK(faults_of(folded, shapes, cloth).empty());
  // 72.5 across: the pair's centre at 48 puts it from 42 to 72, beside the 20 at the fold.
  REQUIRE(folded.placed.size() == 2);
  CHECK_THAT(folded.length, WithinAbs(50, 1e-3));
  for (const Placed& one : folded.placed) {
    if (one.shape == 1) CHECK_THAT(one.at.x + (one.mirrored ? -6 : 6), WithinAbs(48, 1e-3));
  }
  // 46 across leave no place for a centre at 24 or 48.
  cloth.width = 92, cloth.repeat_across = 45;
  CHECK(nest(shapes, cloth, {.layouts = 4}).error ==
        "wrapped front: its centre can't lie on the print where the others' do, with the cloth "
        "folded");
}

TEST_CASE("the same seed and layouts give the same plan on one thread and on more") {
  NestDice dice(9);
  std::vector<NestShape> shapes;
  for (int i = 0; i < 12; ++i) shapes.push_back(random_shape(dice, i, false));
  for (const Layering layering : {Layering::single, Layering::folded}) {
    const NestCloth cloth{.width = 140, .layering = layering};
    const auto plan = [&](unsigned seed, int threads) {
      return nest(shapes, cloth, {.seed = seed, .layouts = 301, .threads = threads});
    };
    const NestPlan one = plan(3, 1), two = plan(3, 2), again = plan(3, 2);
    CHECK(one.layouts == 301);
    for (const NestPlan* p : {&two, &again}) {
      CHECK(p->length == one.length);
      REQUIRE(p->placed.size() == one.placed.size());
      for (size_t i = 0; i < one.placed.size(); ++i) {
        CHECK(p->placed[i].shape == one.placed[i].shape);
        CHECK(p->placed[i].at.x == one.placed[i].at.x);
        CHECK(p->placed[i].at.y == one.placed[i].at.y);
        CHECK(p->placed[i].turned == one.placed[i].turned);
      }
    }
    // Two seeds may find the same plan, eight in a short search hardly: the seed is used.
    std::vector<double> places;
    for (unsigned seed = 1; seed <= 8; ++seed) {
      double sum = 0;
      for (const Placed& p : nest(shapes, cloth, {.seed = seed, .layouts = 41}).placed)
        sum += p.at.y * static_cast<double>(p.shape + 1);
      places.push_back(sum);
    }
    CHECK(std::count(places.begin(), places.end(), places[0]) < 8);
  }
}

TEST_CASE("a longer search gives a shorter plan, and no time still gives one") {
  NestDice dice(21);
  std::vector<NestShape> shapes;
  for (int i = 0; i < 8; ++i) shapes.push_back(random_shape(dice, i, false));
  const NestCloth cloth{.width = 140};
  const NestPlan first = nest(shapes, cloth, {.layouts = 4}),
                 long_run = nest(shapes, cloth, {.layouts = 4000});
  CHECK(long_run.length < first.length);
  const NestPlan hurried = nest(shapes, cloth, {.seconds = 0});
  CHECK(hurried.layouts >= 1);
  CHECK(faults_of(hurried, shapes, cloth).empty());
}

TEST_CASE("cloth to buy is rounded up to tenths of a metre and eighths of a yard") {
  CHECK_THAT(to_buy(120, 0).metres, WithinAbs(1.2, 1e-12));
  CHECK_THAT(to_buy(120.1, 0).metres, WithinAbs(1.3, 1e-12));
  CHECK_THAT(to_buy(120, 0).yards, WithinAbs(1.375, 1e-12));  // 1.312
  // Cloth that shrinks by 4 % has to be 125 for 120.
  CHECK_THAT(to_buy(120, 0.04).metres, WithinAbs(1.3, 1e-12));
  CHECK_THAT(to_buy(120, 0.04).yards, WithinAbs(1.375, 1e-12));
  CHECK_THAT(to_buy(0, 0).metres, WithinAbs(0, 1e-12));
  // A published conversion of fabric widths (trade notes, section 13): 2 yards of 36 in are 1 5/8
  // of 45 in and 1 3/8 of 54 in.
  const double yard = 91.44;
  CHECK_THAT(to_buy(2 * yard * 36 / 45, 0).yards, WithinAbs(1.625, 1e-12));
  CHECK_THAT(to_buy(2 * yard * 36 / 54, 0).yards, WithinAbs(1.375, 1e-12));
  CHECK_THAT(to_buy(2 * yard, 0).yards, WithinAbs(2, 1e-12));
}

}  // namespace easewright::tests
