#include "model/alter/outline.h"

#include "model/garment/bodice_measures.h"

#include <algorithm>
#include <cmath>

namespace easewright::outline {
namespace {

using bodice_steps::unit;
using geometry::distance;
using geometry::dot;

/// The same polynomial from parameter a to b; beyond [0, 1] it goes on, so that a curve that was
/// cut off comes back exactly.
Curve between(const Curve& c, double a, double b) {
  // Blossom of the cubic at three parameters.
  const auto at = [&c](double r, double s, double t) {
    const auto mix = [](const Point& p, const Point& q, double k) { return (1 - k) * p + k * q; };
    const Point p01 = mix(c.p0, c.p1, r), p12 = mix(c.p1, c.p2, r), p23 = mix(c.p2, c.p3, r);
    return mix(mix(p01, p12, s), mix(p12, p23, s), t);
  };
  return {at(a, a, a), at(a, a, b), at(a, b, b), at(b, b, b)};
}

/// The parameter near `from` at which the curve meets the straight line through p along `along`.
double meets(const Curve& c, double from, const Point& p, const Point& along) {
  const Point across{-along.y, along.x};
  double t = from;
  for (int i = 0; i < 40; ++i) {
    const double off = dot(Point(c.at(t) - p), across);
    const double slope = dot(c.tangent(t), across);
    if (std::abs(slope) < 1e-12) break;
    const double step = std::clamp(off / slope, -0.5, 0.5);
    t -= step;
    if (std::abs(step) < 1e-15) break;
  }
  return t;
}

/// Moves the strap's end straight on, away from the piece.
void piece_strap_end(Half& half, double by) {
  const Point seam = unit(Point(half.strap_outer - half.strap_inner));
  const Point on = by * Point{-seam.y, seam.x};
  Curve& neck = half.neck[static_cast<size_t>(half.neck_curves - 1)];
  half.strap_inner = neck.p3 = neck.p3 + on;
  half.strap_outer = half.armhole_upper.p0 = half.armhole_upper.p0 + on;
  half.side_neck = half.side_neck + on;
}

}  // namespace

bool has_dart(const Half& half) {
  return std::hypot(half.dart_upper.x - half.dart_lower.x, half.dart_upper.y - half.dart_lower.y) >
         1e-6;
}

Point side_direction(const Half& half) {
  return unit(Point((has_dart(half) ? half.dart_upper : half.side_waist) - half.underarm));
}

Point side_seam(const Half& half) { return half.side_waist - half.underarm; }

double strap_slope(const Half& half) {
  const Point seam = half.strap_outer - half.strap_inner;
  return std::atan2(-seam.y, seam.x);
}

double neck_reach(const Half& half) {
  return bodice_steps::distance_to_chord<double>(half.pivot, half.centre_neck, half.strap_inner);
}

void shift_side(Half& half, double top, double bottom, double length) {
  const bool dart = has_dart(half);
  const double tilt = std::atan((top - bottom) / length);
  const Turn<double> turn(tilt), half_way(tilt / 2);
  const auto inwards = [](const Point& down) { return Point{down.y, -down.x}; };
  const Point lower = unit(Point(half.side_waist - (dart ? half.dart_lower : half.underarm)));
  const Point waist = half.side_waist + bottom * half_way.vector(inwards(lower));
  const Point dart_lower = waist + turn.vector(half.dart_lower - half.side_waist);
  Point on_upper = waist, upper = lower;
  Point dart_upper = half.dart_upper;
  if (dart) {
    upper = side_direction(half);
    const double height = distance(half.dart_lower, half.side_waist);
    const double in = bottom + (top - bottom) * height / length;
    dart_upper = half.dart_upper + in * half_way.vector(inwards(upper));
    on_upper = dart_upper;
  }
  half.armhole_lower =
      between(half.armhole_lower, 0, meets(half.armhole_lower, 1, on_upper, turn.vector(upper)));
  half.waist = between(half.waist, 0, meets(half.waist, 1, waist, turn.vector(lower)));
  half.underarm = half.armhole_lower.p3;
  half.side_waist = half.waist.p3;
  half.dart_upper = dart ? dart_upper : half.underarm;
  half.dart_lower = dart ? dart_lower : half.underarm;
}

void shift_strap_end(Half& half, double inner, double outer) {
  const Point seam = unit(Point(half.strap_outer - half.strap_inner));
  const Point down{seam.y, -seam.x};
  const Point a = half.strap_inner + inner * down, b = half.strap_outer + outer * down;
  const Point line = unit(Point(b - a));
  const size_t last = static_cast<size_t>(half.neck_curves - 1);
  half.neck[last] = between(half.neck[last], 0, meets(half.neck[last], 1, a, line));
  half.armhole_upper = between(half.armhole_upper, meets(half.armhole_upper, 0, b, line), 1);
  half.strap_inner = half.neck[last].p3;
  half.strap_outer = half.armhole_upper.p0;
  half.side_neck = half.side_neck + inner * down;
}

void take_up_strap(Half& half, double by, double& taken_up) {
  // Beyond its end the edge's polynomial curls up within a few cm, so what is pieced on is
  // straight.
  const double after = taken_up + by;
  const double pieced = std::min(after, 0.0) - std::min(taken_up, 0.0);
  if (by > 0) piece_strap_end(half, -pieced);
  const double cut = std::max(after, 0.0) - std::max(taken_up, 0.0);
  if (cut != 0) shift_strap_end(half, cut, cut);
  if (by < 0) piece_strap_end(half, -pieced);
  taken_up = after;
}

void raise_above_waist(Half& half, double by) {
  for (Point* p : {&half.centre_neck,
                   &half.side_neck,
                   &half.strap_inner,
                   &half.strap_outer,
                   &half.notch,
                   &half.underarm,
                   &half.dart_upper,
                   &half.dart_lower,
                   &half.pivot})
    p->y += by;
  for (Curve* c : {&half.neck[0], &half.neck[1], &half.armhole_upper, &half.armhole_lower}) {
    for (Point* p : {&c->p0, &c->p1, &c->p2, &c->p3}) p->y += by;
  }
}

}  // namespace easewright::outline
