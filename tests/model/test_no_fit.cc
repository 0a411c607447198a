// No-fit polygons against polyclipping's own Minkowski sum (every side with every side), against
// closed forms, and the laying against trying every place.
#include "model/pattern/nesting/clip.h"
#include "model/pattern/nesting/core.h"
#include "model/pattern/nesting/lay.h"
#include "tests/catch.h"
#include "tests/model/nest_check.h"

namespace easewright::tests {
namespace {

using namespace nesting;

ClipperLib::Path clipper_path(const GridPolygon& polygon) {
  ClipperLib::Path path;
  for (const GridPoint& p : polygon) path.emplace_back(p.x, p.y);
  return path;
}

double area_sum(const std::vector<GridPolygon>& polygons) {
  double sum = 0;
  for (const GridPolygon& p : polygons) sum += area_of(p);
  return sum;
}

GridPolygon random_grid_star(NestDice& dice, double radius, int most) {
  return on_grid(random_star(dice, radius, most));
}

/// Whether the tubes of a no-fit polygon forbid a place.
bool forbids(const NoFit& no_fit, double x, double y) {
  const auto x_of = [&](int first, int sides) {
    const Node* side = no_fit.nodes.data() + first;
    while (--sides > 0 && side[1].y <= y) ++side;
    return side->x + side->slope * (y - side->y);
  };
  for (const Tube& tube : no_fit.tubes) {
    if (y < tube.y0 || y >= tube.y1 || (y == tube.y0 && !tube.from_below)) continue;
    if (x > x_of(tube.left, tube.lefts) && x < x_of(tube.right, tube.rights)) return true;
  }
  return false;
}

Way way_of(GridPolygon polygon) {
  Way way;
  way.cut = way.kept = std::move(polygon);
  way.cut_box = way.box = box_of(way.kept);
  return way;
}

}  // namespace

TEST_CASE("what a convolution winds round is the Minkowski sum") {
  NestDice dice(1);
  for (int trial = 0; trial < 300; ++trial) {
    CAPTURE(trial);
    const GridPolygon a = random_grid_star(dice, 20, 14), b = random_grid_star(dice, 15, 14);
    const double ours = area_sum(wound_round(convolution(a, b)));
    // The library's sum is that of the boundary: the inside has to be added.
    ClipperLib::Paths sum;
    ClipperLib::MinkowskiSum(clipper_path(a), clipper_path(b), sum, true);
    ClipperLib::Path inside = clipper_path(a), other = clipper_path(b);
    for (auto& p : inside) p.X += b[0].x, p.Y += b[0].y;
    for (auto& p : other) p.X += a[0].x, p.Y += a[0].y;
    const ClipperLib::Paths theirs = clipped(sum, {inside, other}, ClipperLib::ctUnion);
    CHECK_THAT(ours, WithinRel(area_of_paths(theirs), 1e-6));
  }
}

TEST_CASE(
    "the sum of two rectangles is a rectangle, of two unlike triangles a hexagon (geometry)") {
  const GridPolygon wide = on_grid(rectangle(7, 2)), tall = on_grid(rectangle(1, 5));
  const auto sum = wound_round(convolution(wide, tall));
  REQUIRE(sum.size() == 1);
  CHECK_THAT(area_of(sum[0]), WithinAbs(8 * 7 * kScale * kScale, 0.5));
  CHECK(sum[0].size() == 4);
  // A triangle less itself is a hexagon of six times its area.
  const GridPolygon up = on_grid({{0, 0}, {4, 0}, {1, 3}}),
                    down = on_grid({{0, 0}, {-4, 0}, {-1, -3}});
  const auto hexagon = wound_round(convolution(up, down));
  REQUIRE(hexagon.size() == 1);
  CHECK(hexagon[0].size() == 6);
  CHECK_THAT(area_of(hexagon[0]), WithinRel(6 * area_of(up), 1e-12));
}

TEST_CASE("tubes forbid exactly the places at which two polygons overlap") {
  NestDice dice(2);
  for (int trial = 0; trial < 60; ++trial) {
    CAPTURE(trial);
    const Way a = way_of(random_grid_star(dice, 20, 14)),
              b = way_of(random_grid_star(dice, 15, 14));
    const NoFit no_fitting = no_fit(a, b);
    int forbidden = 0;
    for (int place = 0; place < 60; ++place) {
      const GridPoint at{to_grid(dice.between(-35, 35)), to_grid(dice.between(-35, 35))};
      ClipperLib::Path moved = clipper_path(b.kept);
      for (auto& p : moved) p.X += at.x, p.Y += at.y;
      const double both =
          area_of_paths(clipped({clipper_path(a.kept)}, {moved}, ClipperLib::ctIntersection));
      // Less than a square hundredth of a millimetre may be rounding.
      if (both > 0 && both < 100) continue;
      CAPTURE(place, both);
      CHECK(forbids(no_fitting, static_cast<double>(at.x), static_cast<double>(at.y)) ==
            (both > 0));
      forbidden += both > 0;
    }
    CHECK(forbidden > 0);
  }
}

TEST_CASE("two that may touch are not forbidden to") {
  const Way a = way_of(on_grid(rectangle(10, 4))), b = way_of(on_grid(rectangle(3, 6)));
  const NoFit no_fitting = no_fit(a, b);
  for (const auto& [x, y] :
       {std::pair{10.0, 0.0}, {-3.0, 1.0}, {2.0, 4.0}, {2.0, -6.0}, {10.0, 4.0}}) {
    CHECK_FALSE(forbids(no_fitting, x * kScale, y * kScale));
  }
  for (const auto& [x, y] :
       {std::pair{9.9999, 0.0}, {-2.9999, 1.0}, {2.0, 3.9999}, {2.0, -5.9999}}) {
    CHECK(forbids(no_fitting, x * kScale, y * kScale));
  }
}

TEST_CASE("a coarser polygon contains the finer and stays close to it") {
  NestDice dice(3);
  for (int trial = 0; trial < 100; ++trial) {
    CAPTURE(trial);
    // Many corners on a wavy circle.
    Outline wavy;
    const double wave = dice.between(0, 3);
    const int waves = 2 + dice.below(5);
    for (int i = 0; i < 200; ++i) {
      const double t = 2 * std::acos(-1.0) * i / 200, r = 20 + wave * std::sin(waves * t);
      wavy.push_back({r * std::cos(t), r * std::sin(t)});
    }
    const GridPolygon fine = on_grid(wavy), coarse = coarsened(fine, 0.1 * kScale);
    CHECK(coarse.size() < fine.size() / 2);
    const double left_out = area_of_paths(
        clipped({clipper_path(fine)}, {clipper_path(coarse)}, ClipperLib::ctDifference));
    // Corners are rounded: a sliver of a few units along 150 cm.
    CHECK(left_out < 3.0 * 150 * kScale);
    CHECK(area_of(coarse) > area_of(fine) - 3.0 * 150 * kScale);
    CHECK(area_of(coarse) < area_of(fine) + 0.15 * 150 * kScale * kScale);
  }
}

TEST_CASE("a core lies inside its polygon") {
  NestDice dice(4);
  for (int trial = 0; trial < 200; ++trial) {
    CAPTURE(trial);
    const GridPolygon star = random_grid_star(dice, 20, 14);
    const GridBox box = inscribed_rectangle(star);
    if (box.width() <= 0 || box.height() <= 0) continue;
    const GridPolygon core{{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
    const double outside = area_of_paths(
        clipped({clipper_path(core)}, {clipper_path(star)}, ClipperLib::ctDifference));
    CHECK(outside == 0);
  }
  const GridBox all = inscribed_rectangle(on_grid(rectangle(32, 16)));
  CHECK(to_cm(all.width()) > 29);
  CHECK(to_cm(all.height()) > 14.9);
}

TEST_CASE("a piece lies at the lowest place there is") {
  // Against trying every place half a centimetre apart: below where it was laid, nothing is free.
  NestDice dice(5);
  int tried = 0;
  for (int trial = 0; trial < 25; ++trial) {
    CAPTURE(trial);
    std::vector<NestShape> shapes;
    for (int i = 0; i < 6; ++i) {
      NestShape shape;
      shape.name = std::to_string(i);
      shape.outline = random_star(dice, dice.between(5, 12), 9);
      shapes.push_back(shape);
    }
    const NestCloth cloth{.width = 40, .nap = true, .gap = 0};
    Prepared prepared = prepare(shapes, cloth);
    REQUIRE(prepared.error.empty());
    const NoFits no_fits(prepared.ways);
    Lay lay(prepared, no_fits, 0);
    for (int i = 0; i < 6; ++i) REQUIRE(lay.add(i, 0, 1e12));
    // Each against those that lay before it.
    for (size_t i = 0; i < 6; ++i) {
      const Way& way = prepared.ways[static_cast<size_t>(prepared.items[i].lies[0].way)];
      const GridPoint at = lay.lying()[i].at;
      ClipperLib::Paths others;
      for (size_t j = 0; j < i; ++j) {
        const Way& o = prepared.ways[static_cast<size_t>(prepared.items[j].lies[0].way)];
        ClipperLib::Path path = clipper_path(o.kept);
        for (auto& p : path) p.X += lay.lying()[j].at.x, p.Y += lay.lying()[j].at.y;
        others.push_back(path);
      }
      const std::int64_t step = to_grid(0.5);
      bool lower = false;
      for (std::int64_t y = 0; y < at.y - to_grid(0.01) && !lower; y += step) {
        for (std::int64_t x = 0; x + way.cut_box.x1 <= prepared.across && !lower; x += step) {
          ClipperLib::Path moved = clipper_path(way.kept);
          for (auto& p : moved) p.X += x, p.Y += y;
          lower = clipped({moved}, others, ClipperLib::ctIntersection).empty();
          ++tried;
        }
      }
      CHECK_FALSE(lower);
    }
  }
  CHECK(tried > 1000);
}

}  // namespace easewright::tests
