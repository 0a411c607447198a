// Cutting plans of what is odd: none, hundreds, too wide, untidy or no shape at all.
#include "model/pattern/nest.h"
#include "tests/catch.h"
#include "tests/model/nest_check.h"

namespace easewright::tests {

TEST_CASE("one shape, none, and hundreds") {
  const NestCloth cloth{.width = 140};
  const NestPlan one = nest({shape_of("only", rectangle(50, 70))}, cloth, {.layouts = 5});
  CHECK_THAT(one.length, WithinAbs(70, 1e-9));
  CHECK_THAT(one.bound, WithinAbs(70, 1e-9));
  REQUIRE(one.placed.size() == 1);
  const NestPlan none = nest({}, cloth);
  CHECK(none.error.empty());
  CHECK(none.placed.empty());
  CHECK(none.length == 0);
  CHECK(nest({shape_of("not wanted", rectangle(5, 5), 0)}, cloth).placed.empty());

  NestDice dice(11);
  std::vector<NestShape> many;
  for (int i = 0; i < 250; ++i) {
    many.push_back(
        shape_of("scrap " + std::to_string(i), random_star(dice, dice.between(3, 15), 8)));
  }
  many.push_back(shape_of("square", rectangle(9, 9), 50));
  const NestPlan plan = nest(many, cloth, {.layouts = 4});
  CHECK(plan.placed.size() == 300);
  CHECK(faults_of(plan, many, cloth).empty());
}

TEST_CASE("a shape wider than the cloth is named, with both widths") {
  const auto error = [](const NestShape& shape, const NestCloth& cloth) {
    const NestPlan plan = nest({shape_of("small", rectangle(5, 5)), shape}, cloth, {.layouts = 2});
    CHECK(plan.placed.empty() != plan.error.empty());
    return plan.error;
  };
  const NestShape wide = shape_of("alto 2: skirt back", rectangle(142.5, 70));
  CHECK(error(wide, {.width = 140}) ==
        "alto 2: skirt back: 142.5 cm across, the cloth is 140.0 cm wide");
  const NestShape slanting = shape_of("slip", {{0, 0}, {80, 0}, {100, 9}, {0, 9}});
  CHECK(error(slanting, {.width = 150, .layering = Layering::folded}) ==
        "slip: 100.0 cm across, the folded cloth is 75.0 cm wide");
  NestShape half = shape_of("half", rectangle(71, 70));
  half.on_fold = true;
  CHECK(error(half, {.width = 140}) == "half: 142.0 cm across, the cloth is 140.0 cm wide");
  half.outline = rectangle(70, 70);
  CHECK(error(half, {.width = 140}).empty());
  CHECK(error(half, {.width = 140, .layering = Layering::folded}).empty());
}

TEST_CASE("what is no shape is refused, what is untidy is laid") {
  const double nan = std::nan("");
  const NestCloth cloth{.width = 140};
  const auto lay = [&](const Outline& outline) {
    return nest({shape_of("piece", outline)}, cloth, {.layouts = 2});
  };
  CHECK(lay({}).error == "piece: its outline encloses nothing");
  CHECK(lay({{1, 1}, {2, 2}}).error == "piece: its outline encloses nothing");
  CHECK(lay({{1, 1}, {2, 2}, {3, 3}}).error == "piece: its outline encloses nothing");
  CHECK(lay({{0, 0}, {nan, 0}, {3, 3}}).error == "piece: a corner of its outline is not a place");
  CHECK(lay({{0, 0}, {1e300, 0}, {3, 3}}).error == "piece: a corner of its outline is not a place");
  // Clockwise; corners repeated; points along a side; crossing itself.
  CHECK_THAT(lay({{0, 0}, {0, 20}, {10, 20}, {10, 0}}).length, WithinAbs(20, 1e-9));
  CHECK_THAT(lay({{0, 0}, {0, 0}, {10, 0}, {10, 0}, {10, 20}, {0, 20}, {0, 0}}).length,
             WithinAbs(20, 1e-9));
  CHECK_THAT(lay({{0, 0}, {5, 0}, {10, 0}, {10, 20}, {0, 20}}).length, WithinAbs(20, 1e-9));
  CHECK_THAT(lay({{0, 0}, {10, 20}, {10, 0}, {0, 20}}).length, WithinAbs(20, 1e-9));

  NestShape off = shape_of("off the fold", {{1, 0}, {10, 0}, {10, 20}, {1, 20}});
  off.on_fold = true;
  CHECK(nest({off}, cloth).error == "off the fold: its fold edge does not lie at x = 0");
  CHECK_FALSE(nest({off}, {.width = 0}).error.empty());
  CHECK_FALSE(nest({off}, {.width = nan}).error.empty());
  CHECK_FALSE(nest({off}, {.width = 140, .gap = -1}).error.empty());
}

TEST_CASE("whatever is given as an outline is refused or laid without an overlap") {
  // Corners repeated, spikes, sides on one line, crossings, islands, specks of micrometres.
  int laid = 0;
  for (unsigned trial = 0; trial < 1500; ++trial) {
    CAPTURE(trial);
    NestDice dice(trial);
    std::vector<NestShape> shapes;
    const int kinds = 1 + dice.below(3);
    const double size = dice.below(4) > 0 ? 20 : 0.001 * (1 + dice.below(50));
    for (int k = 0; k < kinds; ++k) {
      NestShape shape = shape_of("piece", {}, 1 + dice.below(3));
      const int corners = 3 + dice.below(11);
      for (int i = 0; i < corners; ++i) {
        geometry::Vec2<double> p{dice.between(-size, size), dice.between(-size, size)};
        if (dice.toss()) p = {std::round(p.x / 5) * 5, std::round(p.y / 5) * 5};
        shape.outline.push_back(p);
        const int again = dice.below(2 * corners);
        if (again < static_cast<int>(shape.outline.size()))
          shape.outline.push_back(shape.outline[static_cast<size_t>(again)]);
      }
      shapes.push_back(std::move(shape));
    }
    const NestCloth cloth{.width = dice.between(20, 100),
                          .layering = dice.toss() ? Layering::folded : Layering::single,
                          .gap = dice.toss() ? 0 : dice.between(0, 2)};
    const NestPlan plan = nest(shapes, cloth, {.layouts = 12, .threads = 1});
    if (!plan.error.empty()) continue;
    ++laid;
    CHECK(overlap_of(plan, cloth) == 0);
    for (size_t i = 0; i < plan.placed.size(); ++i) {
      for (size_t j = 0; j < i; ++j) {
        const double both = area_of_paths(clipped({path_of(plan.placed[i].outline)},
                                                  {path_of(plan.placed[j].outline)},
                                                  ClipperLib::ctIntersection));
        // Crossings are rounded to a micrometre: a few square ones.
        CHECK(both < 10);
      }
    }
  }
  CHECK(laid > 500);
}

TEST_CASE("an outline of a thousand points is nested as one of few, and lies no worse") {
  // A wavy disc. Its kept outline may lie a millimetre outside: three of them, one above the other,
  // are no more than 2 x 2 x 0.1 longer than their own heights and gaps, were they to stand.
  NestShape disc = shape_of("disc", {}, 3);
  for (int i = 0; i < 1000; ++i) {
    const double t = 2 * std::acos(-1.0) * i / 1000, r = 20 + 0.5 * std::sin(9 * t);
    disc.outline.push_back({r * std::cos(t), r * std::sin(t)});
  }
  const Extent e = extent_of(disc.outline);
  const NestCloth cloth{.width = 42, .nap = true, .gap = 0.2};
  const NestPlan plan = nest({disc}, cloth, {.layouts = 50});
  CHECK(faults_of(plan, {disc}, cloth).empty());
  CHECK(plan.length <= 3 * (e.y1 - e.y0) + 2 * (0.2 + 2 * 0.1));
}

}  // namespace easewright::tests
