// Geometry against closed forms.
#include "model/garment/smooth_table.h"
#include "model/geometry/bezier.h"
#include "model/units.h"
#include "tests/catch.h"

#include <cmath>

#include <ceres/jet.h>

namespace easewright::geometry {
namespace {

using Jet = ceres::Jet<double, 4>;

// Control points of a quarter circle of radius r: handles 4/3 (sqrt 2 - 1) r. Its error against the
// true arc is a published 2.7e-4 of the radius.
Bezier<double> quarter_circle(double r) {
  const double k = 4.0 / 3 * (std::sqrt(2.0) - 1) * r;
  return {{r, 0}, {r, k}, {k, r}, {0, r}};
}

TEST_CASE("a straight cubic is as long as its chord") {
  const auto line = straight<double>({1, 2}, {4, 6});
  CHECK_THAT(arc_length(line), WithinAbs(5, 1e-9));
}

TEST_CASE("a quarter circle has the length of its arc") {
  CHECK_THAT(arc_length(quarter_circle(10)), WithinAbs(10 * kPi / 2, 10 * 3e-4));
}

TEST_CASE("a parabola has its closed-form length") {
  // y = x^2 on [0, 1] as a cubic; length = sqrt(5)/2 + asinh(2)/4 (any calculus text).
  const Bezier<double> parabola{{0, 0}, {1.0 / 3, 0}, {2.0 / 3, 1.0 / 3}, {1, 1}};
  CHECK_THAT(arc_length(parabola), WithinAbs(std::sqrt(5.0) / 2 + std::asinh(2.0) / 4, 1e-6));
}

TEST_CASE("directions add up: across and along make the whole length") {
  const auto curve = quarter_circle(7);
  const auto d = directions(curve);
  CHECK_THAT(d.across + d.along, WithinAbs(d.total, 1e-9));
  // On a circle, tx = -sin a: integral of 4 sin^2 cos^2 over a quarter is r pi / 4.
  CHECK_THAT(d.bias, WithinAbs(7 * kPi / 4, 0.02));
  CHECK_THAT(d.across, WithinAbs(7 * kPi / 4, 0.01));
}

TEST_CASE("a line at 45 degrees grows by the whole bias strain") {
  const auto d = directions(straight<double>({0, 0}, {3, 3}));
  CHECK_THAT(d.bias, WithinAbs(std::sqrt(18.0), 1e-9));
}

TEST_CASE("a turn keeps lengths and angles, and its inverse brings back the start") {
  const Turn<double> there(0.4), back(-0.4);
  const Vec2<double> pivot{3, 1}, a{5, 4}, b{-2, 6};
  const auto a1 = there.about(pivot, a), b1 = there.about(pivot, b);
  CHECK_THAT(distance(a1, b1), WithinAbs(distance(a, b), 1e-12));
  CHECK_THAT(cross(Vec2<double>(a1 - pivot), Vec2<double>(b1 - pivot)),
             WithinAbs(cross(Vec2<double>(a - pivot), Vec2<double>(b - pivot)), 1e-12));
  const auto again = back.about(pivot, a1);
  CHECK_THAT(again.x, WithinAbs(a.x, 1e-12));
  CHECK_THAT(again.y, WithinAbs(a.y, 1e-12));
}

TEST_CASE("a positive turn is counter-clockwise") {
  const auto v = Turn<double>(kPi / 2).vector({1, 0});
  CHECK_THAT(v.x, WithinAbs(0, 1e-12));
  CHECK_THAT(v.y, WithinAbs(1, 1e-12));
}

TEST_CASE("jets give the numeric derivative of a curve's length, a degenerate curve included") {
  const auto length_at = [](double w) {
    return arc_length(Bezier<double>{{0, 0}, {w, 0}, {w, w}, {w, 2 * w}});
  };
  for (const double w : {0.5, 1.0, 3.0}) {
    const Jet jw(w, 0);
    const Jet zero(0.0);
    const Jet length = arc_length(Bezier<Jet>{{zero, zero}, {jw, zero}, {jw, jw}, {jw, 2.0 * jw}});
    const double h = 1e-6;
    CHECK_THAT(length.v[0], WithinAbs((length_at(w + h) - length_at(w - h)) / (2 * h), 1e-6));
  }
  const Jet zero(0.0, 0), plain(0.0);
  const Jet point =
      arc_length(Bezier<Jet>{{zero, plain}, {zero, plain}, {zero, plain}, {zero, plain}});
  CHECK(std::isfinite(point.a));
  CHECK(std::isfinite(point.v[0]));
  const auto d =
      directions(Bezier<Jet>{{zero, plain}, {zero, plain}, {zero, plain}, {zero, plain}});
  CHECK(std::isfinite(d.bias.v[0]));
}

TEST_CASE("smooth min, max and abs stay within 0.01 mm and have a slope at the corner") {
  for (const double x : {-2.0, -1e-3, 0.0, 1e-3, 0.7}) {
    CHECK_THAT(smooth_max(x, 0.0), WithinAbs(std::max(x, 0.0), 1e-3));
    CHECK_THAT(smooth_min(x, 0.0), WithinAbs(std::min(x, 0.0), 1e-3));
    CHECK_THAT(smooth_abs(x), WithinAbs(std::abs(x), 1e-3));
  }
  const Jet zero(0.0, 0);
  CHECK_THAT(smooth_max(zero, Jet(0.0)).v[0], WithinAbs(0.5, 1e-12));
  CHECK_THAT(smooth_abs(zero).v[0], WithinAbs(0, 1e-12));
}

TEST_CASE("a smooth table passes its points, keeps their order and runs straight on") {
  SmoothTable table;
  table.add(0, 20), table.add(10, 35), table.add(20, 36), table.add(40, 58);
  table.finish();
  CHECK_THAT(table.at(10.0), WithinAbs(35, 1e-12));
  CHECK_THAT(table.at(40.0), WithinAbs(58, 1e-12));
  double last = table.at(-5.0);
  for (double x = -4.5; x < 50; x += 0.5) {
    CHECK(table.at(x) >= last);  // Fritsch & Carlson: monotone data give a monotone curve
    last = table.at(x);
  }
  for (const double x : {0.0, 10.0, 20.0, 40.0}) {
    const double h = 1e-6;
    const double left = (table.at(x) - table.at(x - h)) / h,
                 right = (table.at(x + h) - table.at(x)) / h;
    CHECK_THAT(left, WithinAbs(right, 1e-4));
  }
}

}  // namespace
}  // namespace easewright::geometry
