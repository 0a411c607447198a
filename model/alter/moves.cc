#include "model/alter/moves.h"

#include "model/garment/bodice_measures.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using K = ValueKey;
using M = MeasureKey;
using Point = Vec2<double>;
using Curve = Bezier<double>;
using bodice_steps::unit;
using geometry::distance;
using geometry::dot;

constexpr ChangeInfo kInfo[] = {
#define EASEWRIGHT_X(id, name, dimension, definition) {name, dimension, definition},
    EASEWRIGHT_CHANGES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};

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

bool has_dart(const HalfBodice<double>& half) {
  return std::hypot(half.dart_upper.x - half.dart_lower.x, half.dart_upper.y - half.dart_lower.y) >
         1e-6;
}

/// Down the side seam at the underarm.
Point side_direction(const HalfBodice<double>& half) {
  return unit(Point((has_dart(half) ? half.dart_upper : half.side_waist) - half.underarm));
}

/// Moves a half's side seam inwards by `bottom` at the waist and by `top` at the height `length`
/// above it; out where negative. Armhole and waist edge are cut off, or come back.
void shift_side(HalfBodice<double>& half, double top, double bottom, double length) {
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

void shift_sides(Made& made, double top, double bottom) {
  Values<double>& v = made.values;
  const double length = made.bodice.figures.underarm_y;  // as cut
  const auto underarm_y = [&] {
    return made.cut_for.armpit_y + v[K::bodice_blouson] - v[K::armhole_drop];
  };
  const double front = (v[K::bodice_front_underarm] - v[K::bodice_front_waist]) / underarm_y();
  const double back = (v[K::bodice_back_underarm] - v[K::bodice_back_waist]) / underarm_y();
  const double before = 0.5 * (made.bodice.front.underarm.y + made.bodice.back.underarm.y);
  shift_side(made.bodice.front, top, bottom, length);
  shift_side(made.bodice.back, top, bottom, length);
  const double after = 0.5 * (made.bodice.front.underarm.y + made.bodice.back.underarm.y);
  // The armhole's curve rises or falls a little where it is cut off, and the seam slants.
  v[K::armhole_drop] -= after - before;
  const double tilt = (top - bottom) / length;
  v[K::bodice_front_waist] -= bottom, v[K::bodice_back_waist] -= bottom;
  v[K::bodice_front_underarm] = v[K::bodice_front_waist] + (front - tilt) * underarm_y();
  v[K::bodice_back_underarm] = v[K::bodice_back_waist] + (back - tilt) * underarm_y();
}

void shift_skirt_sides(Made& made, double by) {
  made.values[K::skirt_back_width] -= by;
  made.values[K::skirt_front_width] -= by;
}

/// Takes a strap's end up by `inner` at the neck edge and `outer` at the arm: the seam goes to a
/// new line, neck and armhole are cut off there. Down where negative.
void shift_strap_end(HalfBodice<double>& half, double inner, double outer) {
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

/// Slope of a half's strap seam as the cloth lies, rad.
double slope_of(const HalfBodice<double>& half) {
  const Point seam = half.strap_outer - half.strap_inner;
  return std::atan2(-seam.y, seam.x);
}

void take_up_straps(
    Made& made, double front_in, double front_out, double back_in, double back_out) {
  Values<double>& v = made.values;
  HalfBodice<double>& front = made.bodice.front;
  const double width = distance(front.strap_inner, front.strap_outer);
  const double inner_x = front.strap_inner.x;
  const double slope = slope_of(front);
  shift_strap_end(front, front_in, front_out);
  shift_strap_end(made.bodice.back, back_in, back_out);
  v[K::strap_width] += distance(front.strap_inner, front.strap_outer) - width;
  v[K::strap_inset] += (front.strap_inner.x - inner_x) / std::cos(v[K::strap_slope]);
  // Front and back turn alike when they are taken up alike; else the seam takes the mean.
  const double front_turn = slope_of(front) - slope;
  const bool both = back_in != 0 || back_out != 0, fore = front_in != 0 || front_out != 0;
  v[K::strap_slope] += both && fore ? front_turn : 0.5 * front_turn;
  const double up_front = 0.5 * (front_in + front_out), up_back = 0.5 * (back_in + back_out);
  // Everything hangs from the shoulders, each half from its own.
  const double up = 0.5 * (up_front + up_back);
  v[K::bodice_blouson] -= up, v[K::armhole_drop] -= up;
  v[K::neckline_depth] -= up_front, v[K::neckline_back_depth] -= up_back;
  made.front_shorter += up_front - up_back;
}

/// How far the cloth at a half's strap was turned when it was cut, by the shaping left above it:
/// its seam slopes by so much more than the shoulder.
Turn<double> strap_turn(const Made& made, bool front) {
  const HalfBodice<double>& half = front ? made.bodice.front : made.bodice.back;
  return Turn<double>(made.values[K::strap_slope] - slope_of(half));
}

Point side_seam(const HalfBodice<double>& half) { return half.side_waist - half.underarm; }

/// Recuts the edges that `draw` draws, after `shift` has moved their ends: each bends as the
/// drafted line does from the old ends to the new ones. An edge that is as drafted becomes the
/// drafted one; an edge that was cut off starts at what is left of it. (Drawing it anew gave back,
/// at no amount at all, the cloth that sides taken in had cut off.)
template <typename Shift, typename Draw>
void recut(HalfBodice<double>& half, const Shift& shift, const Draw& draw) {
  HalfBodice<double> before = half;
  draw(before);
  shift(half);
  HalfBodice<double> after = half;
  draw(after);
  const auto bend = [](Curve& edge, const Curve& from, const Curve& to) {
    for (Point Curve::*p : {&Curve::p0, &Curve::p1, &Curve::p2, &Curve::p3})
      edge.*p = edge.*p + (to.*p - from.*p);
  };
  bend(half.armhole_upper, before.armhole_upper, after.armhole_upper);
  bend(half.armhole_lower, before.armhole_lower, after.armhole_lower);
  bend(half.waist, before.waist, after.waist);
  for (size_t i = 0; i < half.neck.size(); ++i) bend(half.neck[i], before.neck[i], after.neck[i]);
}

/// Draws a half's armhole as the draft does.
auto armhole_drawn(const Made& made, bool front) {
  constexpr double kFrontHollow = 0.64, kBackHollow = 0.60;
  return [turn = strap_turn(made, front),
          hollow = front ? kFrontHollow : kBackHollow](HalfBodice<double>& half) {
    bodice_steps::draw_armhole<double>(half, turn, side_seam(half), hollow);
  };
}

void lower_armhole(Made& made, double by) {
  for (const bool front : {true, false}) {
    recut(
        front ? made.bodice.front : made.bodice.back,
        [by](HalfBodice<double>& half) {
          const bool dart = has_dart(half);
          half.underarm = half.underarm + by * side_direction(half);
          if (!dart) half.dart_upper = half.dart_lower = half.underarm;
        },
        armhole_drawn(made, front));
  }
  Values<double>& v = made.values;
  const double y = made.cut_for.armpit_y + v[K::bodice_blouson] - v[K::armhole_drop];
  const double slant = v[K::bodice_front_underarm] - v[K::bodice_front_waist];
  const double share = by / std::hypot(y, slant);
  v[K::armhole_drop] += share * y;
  v[K::bodice_front_underarm] -= share * slant;
  v[K::bodice_back_underarm] -= share * (v[K::bodice_back_underarm] - v[K::bodice_back_waist]);
  v[K::shaping_dart_drop] -= by;
  made.bodice.figures.underarm_y -= share * y;
}

void scoop(Made& made, bool front, double by) {
  const Point inwards = -by * strap_turn(made, front).vector({1, 0});
  recut(
      front ? made.bodice.front : made.bodice.back,
      [inwards](HalfBodice<double>& half) { half.notch = half.notch + inwards; },
      armhole_drawn(made, front));
  made.values[front ? K::armhole_front_edge : K::armhole_back_edge] -= by;
}

/// The strap's arm end moves along the seam, outwards where `by` is positive.
void move_arm_edge(Made& made, double by) {
  for (const bool front : {true, false}) {
    recut(
        front ? made.bodice.front : made.bodice.back,
        [by](HalfBodice<double>& half) {
          half.strap_outer =
              half.strap_outer + by * unit(Point(half.strap_outer - half.strap_inner));
        },
        armhole_drawn(made, front));
  }
  made.values[K::strap_width] += by;
}

/// The same of its neck end.
void move_neck_edge(Made& made, double by) {
  const auto along_seam = [by](HalfBodice<double>& half) {
    half.strap_inner = half.strap_inner + by * unit(Point(half.strap_outer - half.strap_inner));
  };
  HalfBodice<double>& front = made.bodice.front;
  const double angle = bodice_steps::strap_angle(front);
  recut(front, along_seam, [&made](HalfBodice<double>& half) {
    bodice_steps::draw_front_neck<double>(half, made.cut_for.neckline);
  });
  // Both neck edges go on running smoothly into each other: the back follows the front's turn.
  const double turned = bodice_steps::strap_angle(front) - angle;
  bool moved = false;
  recut(
      made.bodice.back,
      [&](HalfBodice<double>& half) { along_seam(half), moved = true; },
      [&](HalfBodice<double>& half) {
        bodice_steps::draw_back_neck<double>(half, moved ? angle + turned : angle);
      });
  made.values[K::strap_inset] += by;
  made.values[K::strap_width] -= by;
}

void deepen_front(Made& made, double by) {
  recut(
      made.bodice.front,
      [by](HalfBodice<double>& half) { half.centre_neck.y -= by; },
      [&made](HalfBodice<double>& half) {
        bodice_steps::draw_front_neck<double>(half, made.cut_for.neckline);
      });
  made.values[K::neckline_depth] += by;
}

void deepen_back(Made& made, double by) {
  // The edge leaves the strap as it did.
  const Curve& old = made.bodice.back.neck[0];
  const Point arrive = unit(Point(old.p3 - old.p2));
  recut(
      made.bodice.back,
      [by](HalfBodice<double>& half) { half.centre_neck.y -= by; },
      [arrive](HalfBodice<double>& half) {
        half.neck[0] =
            geometry::curve_between<double>(half.centre_neck,
                                            {1.0, 0.0},
                                            0.55 * half.strap_inner.x,
                                            arrive,
                                            0.45 * (half.strap_inner.y - half.centre_neck.y),
                                            half.strap_inner);
      });
  made.values[K::neckline_back_depth] += by;
}

/// A fold of this width at the edge, to nothing at the pivot, takes this angle.
double fold_angle(double width, double reach) { return 2 * std::asin(0.5 * width / reach); }

/// From the pivot to the neck edge.
double neck_reach(const HalfBodice<double>& half) {
  return bodice_steps::distance_to_chord<double>(half.pivot, half.centre_neck, half.strap_inner);
}

void fold_front(Made& made, bool neck, double width) {
  const HalfBodice<double>& front = made.bodice.front;
  const double reach = neck ? neck_reach(front) : distance(front.pivot, front.notch);
  const double angle = fold_angle(width, reach);
  made.bust_shaping += angle;
  made.values[neck ? K::shaping_neck : K::shaping_armhole] -= angle;
  (neck ? made.neck_folded : made.armhole_folded) += width;
}

void fold_back_neck(Made& made, double width) {
  const double angle = fold_angle(width, neck_reach(made.bodice.back));
  made.blade_shaping += angle;
  made.values[K::blade_neck] -= angle;
  made.back_neck_folded += width;
}

void sew_side_dart(Made& made, double angle) {
  HalfBodice<double>& front = made.bodice.front;
  Values<double>& v = made.values;
  if (!has_dart(front)) {
    if (v[K::shaping_dart_drop] < 3) v[K::shaping_dart_drop] = 6;
    front.dart_upper = front.underarm + v[K::shaping_dart_drop] * side_direction(front);
    front.dart_lower = front.dart_upper;
  }
  recut(
      front,
      [turn = Turn<double>(-angle)](HalfBodice<double>& half) {
        half.dart_lower = turn.about(half.pivot, half.dart_lower);
        half.side_waist = turn.about(half.pivot, half.side_waist);
      },
      [](HalfBodice<double>& half) {
        bodice_steps::draw_waist<double>(half, half.side_waist - half.dart_lower);
      });
  v[K::shaping_side] += angle;
  made.bodice.figures.waist_share -= angle;
}

void raise(Point& p, double by) { p.y += by; }
void raise(Curve& c, double by) {
  for (Point* p : {&c.p0, &c.p1, &c.p2, &c.p3}) p->y += by;
}

/// Length added (-: folded out) all round just above the waist seam.
void lengthen_above_waist(Made& made, double by) {
  for (HalfBodice<double>* half : {&made.bodice.front, &made.bodice.back}) {
    for (Point* p : {&half->centre_neck,
                     &half->side_neck,
                     &half->strap_inner,
                     &half->strap_outer,
                     &half->notch,
                     &half->underarm,
                     &half->dart_upper,
                     &half->dart_lower,
                     &half->pivot})
      raise(*p, by);
    for (Curve* c : {&half->neck[0], &half->neck[1], &half->armhole_upper, &half->armhole_lower})
      raise(*c, by);
  }
  made.bodice.figures.underarm_y += by;
  made.bodice.figures.bust_y += by;
  made.values[K::bodice_blouson] += by;
}

/// The front's waist edge at the centre, up or down, to nothing at the sides.
void raise_centre_front(Made& made, double by) {
  HalfBodice<double>& front = made.bodice.front;
  front.centre_waist.y += by;
  // Both handles keep their directions; the shear of the edge is linear in by and takes itself
  // back.
  front.waist.p0.y += by;
  front.waist.p1.y += by;
  made.values[K::bodice_centre_front] += by;
}

void change_hem(Made& made, double longer) {
  Values<double>& v = made.values;
  const double before = v[K::skirt_length], after = before + longer;
  const double hip = made.cut_for.hip_y;
  v[K::skirt_flare] *= (after - hip) / (before - hip);
  const double curve = before - v[K::slit_start];
  if (curve > 1e-6) {
    const double u = std::max(after - v[K::slit_start], 0.0) / curve;
    v[K::slit_run_in] *= u * u;
  }
  v[K::skirt_length] = after;
}

void apply(Made& made, Change change, double a) {
  Values<double>& v = made.values;
  switch (change) {
    case Change::sides_in:
      shift_sides(made, a, a), shift_skirt_sides(made, a);
      return;
    case Change::sides_out:
      shift_sides(made, -a, -a), shift_skirt_sides(made, -a);
      return;
    case Change::sides_in_bodice:
      shift_sides(made, a, 0);
      return;
    case Change::sides_out_bodice:
    case Change::gusset:
      shift_sides(made, -a, 0);
      return;
    case Change::sides_in_skirt:
      shift_skirt_sides(made, a), made.skirt_waist_kept += a;
      return;
    case Change::sides_out_skirt:
      shift_skirt_sides(made, -a), made.skirt_waist_kept -= a;
      return;
    case Change::straps_up:
      take_up_straps(made, a, a, a, a);
      return;
    case Change::straps_up_front:
      take_up_straps(made, a, a, 0, 0);
      return;
    case Change::straps_up_back:
      take_up_straps(made, 0, 0, a, a);
      return;
    case Change::straps_up_neck_end:
      take_up_straps(made, a, 0, a, 0);
      return;
    case Change::straps_up_arm_end:
      take_up_straps(made, 0, a, 0, a);
      return;
    case Change::straps_down:
      take_up_straps(made, -a, -a, -a, -a);
      return;
    case Change::strap_extended:
      take_up_straps(made, -a / 2, -a / 2, -a / 2, -a / 2);
      return;
    case Change::strap_narrower_arm:
      move_arm_edge(made, -a);
      return;
    case Change::strap_narrower_neck:
      move_neck_edge(made, a);
      return;
    case Change::strap_wider_arm:
      move_arm_edge(made, a);
      return;
    case Change::armhole_lower:
      lower_armhole(made, a);
      return;
    case Change::armhole_scoop_front:
      scoop(made, true, a);
      return;
    case Change::armhole_scoop_back:
      scoop(made, false, a);
      return;
    case Change::armhole_dart:
      fold_front(made, false, a);
      return;
    case Change::armhole_eased:
      v[K::armhole_taken] += a;
      return;
    case Change::neck_dart:
      fold_front(made, true, a);
      return;
    case Change::neck_tape:
      v[K::neckline_taken] += a;
      return;
    case Change::neckline_deeper:
      deepen_front(made, a);
      return;
    case Change::neckline_filled:
      deepen_front(made, -a);
      return;
    case Change::back_neck_lower:
      deepen_back(made, a);
      return;
    case Change::back_neck_dart:
      fold_back_neck(made, a);
      return;
    case Change::side_dart:
      sew_side_dart(made, a);
      return;
    case Change::waist_tuck:
      lengthen_above_waist(made, -a);
      return;
    case Change::waist_down:
      lengthen_above_waist(made, a);
      return;
    case Change::waist_front_up:
      raise_centre_front(made, a);
      return;
    case Change::waist_front_down:
      raise_centre_front(made, -a);
      return;
    case Change::waist_back_up:
      v[K::skirt_back_rise] -= a;
      return;
    case Change::elastic_shorter:
      v[K::elastic_length] -= a;
      return;
    case Change::elastic_longer:
      v[K::elastic_length] += a;
      return;
    case Change::overlap_wider:
      v[K::skirt_overlap] += a;
      return;
    case Change::overlap_narrower:
      v[K::skirt_overlap] -= a;
      return;
    case Change::slit_insert:
      v[K::skirt_overlap] += a, v[K::skirt_front_width] += 0.5 * a;
      return;
    case Change::slit_caught:
      v[K::slit_catch] += a;
      return;
    case Change::slit_released:
      v[K::slit_catch] -= a;
      return;
    case Change::slit_edge_filled:
      v[K::slit_run_in] -= a;
      return;
    case Change::hem_up:
      change_hem(made, -a);
      return;
    case Change::hem_down:
    case Change::hem_band:
      change_hem(made, a);
      return;
    case Change::belt_shorter:
      v[K::belt_length] -= a;
      return;
    case Change::count:
      return;
  }
}

/// Cloth taken in stays in its seam and can be let out again. Where a side tapers to nothing no
/// more can be let out all along it.
void keep_allowances(Made& made, Change change, double a) {
  const auto add = [&made](SeamKey key, double by) { made.seam(key).allowance += by; };
  switch (change) {
    case Change::sides_in:
      return add(SeamKey::side, a);
    case Change::sides_out:
    case Change::sides_out_bodice:
    case Change::sides_out_skirt:
      return add(SeamKey::side, -a);
    case Change::straps_up:
      return add(SeamKey::shoulder, a);
    case Change::straps_down:
      return add(SeamKey::shoulder, -a);
    case Change::waist_down:
    case Change::waist_front_down:
      return add(SeamKey::waist, -a);
    case Change::hem_up:
      return add(SeamKey::hem, a);
    case Change::hem_down:
      return add(SeamKey::hem, -a);
    default:
      return;
  }
}

/// What the cloth can give of a change, whatever the allowances.
double most_of(const Made& made, Change change) {
  const Values<double>& v = made.values;
  const HalfBodice<double>& front = made.bodice.front;
  const HalfBodice<double>& back = made.bodice.back;
  const double room = std::min(front.underarm.x - front.notch.x, back.underarm.x - back.notch.x);
  const double strap =
      std::min(front.strap_inner.y - front.notch.y, back.strap_inner.y - back.notch.y);
  switch (change) {
    case Change::sides_in:
    case Change::sides_in_bodice:
      return std::max(0.0, 0.8 * room);
    case Change::sides_in_skirt:
    case Change::sides_out_skirt:
      return std::max(0.0, 0.3 * v[K::skirt_back_width]);
    case Change::sides_out:
    case Change::sides_out_bodice:
    case Change::gusset:
      return 6;  // further out the armhole's curve is nobody's
    case Change::straps_down:
    case Change::strap_extended:
      return 8;
    case Change::straps_up:
    case Change::straps_up_front:
    case Change::straps_up_back:
    case Change::straps_up_neck_end:
    case Change::straps_up_arm_end:
      return std::max(0.0, 0.5 * strap);
    case Change::strap_narrower_arm:
    case Change::strap_narrower_neck:
      return std::max(0.0, v[K::strap_width] - 1.5);
    case Change::armhole_lower: {
      const double seam = distance(front.underarm, front.side_waist) - 4;
      return std::max(0.0, has_dart(front) ? std::min(seam, v[K::shaping_dart_drop] - 0.5) : seam);
    }
    case Change::armhole_scoop_front:
      return 0.3 * front.notch.x;
    case Change::armhole_scoop_back:
      return 0.3 * back.notch.x;
    case Change::neckline_deeper:
      return std::max(0.0, front.centre_neck.y - 4);
    case Change::neckline_filled:
      return std::max(0.0, v[K::neckline_depth]);
    case Change::back_neck_lower:
      return std::max(0.0, back.centre_neck.y - 4);
    case Change::side_dart:
      return std::max(0.0, made.bodice.figures.waist_share);
    case Change::armhole_dart:
      return 0.5 * distance(front.pivot, front.notch);
    case Change::neck_dart:
      return 0.5 * neck_reach(front);
    case Change::back_neck_dart:
      return 0.5 * neck_reach(back);
    case Change::waist_tuck:
    case Change::waist_down:
      return std::max(0.0, 0.5 * back.underarm.y);
    case Change::elastic_shorter:
      return 0.4 * v[K::elastic_length];
    case Change::overlap_narrower:
      return std::max(0.0, v[K::skirt_overlap]);
    case Change::overlap_wider:
      return 0.5 * v[K::skirt_front_width];
    case Change::slit_caught:
      return std::max(0.0, v[K::skirt_length] - v[K::slit_catch]);
    case Change::slit_released:
      return std::max(0.0, v[K::slit_catch]);
    case Change::slit_edge_filled:
      return std::max(0.0, v[K::slit_run_in]);
    case Change::hem_up:
      return std::max(0.0, v[K::skirt_length] - std::max(v[K::slit_start], made.cut_for.hip_y) - 5);
    case Change::belt_shorter:
      return 0.5 * v[K::belt_length];
    default:
      return 1e6;
  }
}

bool of_bodice(Change c) {
  return c <= Change::waist_front_down && c != Change::sides_in_skirt &&
         c != Change::sides_out_skirt;
}
bool of_skirt(Change c) {
  return (c >= Change::overlap_wider && c <= Change::hem_band) || c == Change::sides_in_skirt ||
         c == Change::sides_out_skirt || c == Change::waist_back_up;
}

/// The reason why a garment has no place for the change; empty where it has.
std::string no_such_part(Change c, const Made& made) {
  const bool skirt = !made.switches.is(Switch::skirt, "none") && made.kind != MadeKind::top;
  if (made.kind == MadeKind::skirt && of_bodice(c)) return "it has no bodice";
  if (!skirt && of_skirt(c)) return "it has no skirt";
  const bool wrapped = made.switches.is(Switch::skirt, "wrapped");
  if (!wrapped && c >= Change::overlap_wider && c <= Change::slit_edge_filled)
    return "its skirt is not wrapped";
  if ((c == Change::elastic_shorter || c == Change::elastic_longer) &&
      !made.switches.is(Switch::waist, "elastic"))
    return "it has no elastic";
  if (c == Change::belt_shorter && !made.switches.is(Switch::belt, "tied")) return "it has no belt";
  if (c == Change::straps_up_neck_end || c == Change::straps_up_arm_end) {
    if (made.values[K::strap_width] < 2) return "the strap is too narrow to turn";
  }
  return {};
}

/// Tapering turns the strap, which then stands on its outer edge: 5 degrees of its width at most
/// (cutter's notes, point 6).
double most_by_sense(Change c, const Made& made) {
  constexpr double kTurn = 0.087;
  if (c == Change::straps_up_neck_end || c == Change::straps_up_arm_end)
    return kTurn * made.values[K::strap_width];
  // A lined edge takes 2 % eased in without puckers, an unlined one 3 % (cutter's notes, table E).
  const double eases = made.switches.is(Switch::lining, "lined") ? 0.02 : 0.03;
  const HalfBodice<double>& front = made.bodice.front;
  if (c == Change::armhole_eased) {
    const double edge =
        geometry::arc_length(front.armhole_upper) + geometry::arc_length(front.armhole_lower);
    return std::max(0.0, eases * edge - made.values[K::armhole_taken]);
  }
  if (c == Change::neck_tape) {
    return std::max(0.0,
                    0.03 * geometry::arc_length(front.neck[0]) - made.values[K::neckline_taken]);
  }
  return 1e6;
}

std::optional<MoveLimits> find_limits(const Move& move, const Made& made, std::string& why) {
  why = no_such_part(move.change, made);
  if (!why.empty()) return std::nullopt;
  for (const Condition& c : move.when) {
    if (c.holds(made.switches)) continue;
    why = "it is not that kind of garment";
    return std::nullopt;
  }
  const bool knit = made.cloth.stretch >= 0.15;
  if (move.structure == ClothStructure::knit && !knit) why = "only a knit allows it";
  if (move.structure == ClothStructure::woven && knit) why = "not on a knit";
  if (move.leaves_holes && made.holes_show) why = "the line would leave holes in this cloth";
  const bool lined = made.switches.is(Switch::lining, "lined") && of_bodice(move.change);
  if (lined && move.lined == WhenLined::blocked) why = "the lining does not let it out";
  if (!why.empty()) return std::nullopt;

  MoveLimits limits{move.least, move.most, move.minutes_fixed, move.minutes_per_unit};
  if (lined && move.lined == WhenLined::dearer) {
    limits.minutes_fixed *= move.lined_factor;
    limits.minutes_per_unit *= move.lined_factor;
  }
  limits.most =
      std::min({limits.most, most_of(made, move.change), most_by_sense(move.change, made)});
  if (move.let_out_of) {
    const Seam& seam = made.seam(*move.let_out_of);
    limits.most = std::min(limits.most, seam.allowance - seam.keep);
    if (limits.most < limits.least) {
      why = fmt::format("the {} holds {:.1f} cm and {:.1f} must stay",
                        *move.let_out_of == SeamKey::hem
                            ? std::string("hem")
                            : std::string(to_string(*move.let_out_of)) + " seam",
                        seam.allowance,
                        seam.keep);
      return std::nullopt;
    }
  }
  if (limits.most < limits.least) {
    why = "there is no room for it";
    return std::nullopt;
  }
  return limits;
}

}  // namespace

const ChangeInfo& info(Change change) { return kInfo[static_cast<size_t>(change)]; }

Change inverse_of(Change change) {
  const std::pair<Change, Change> pairs[] = {{Change::sides_in, Change::sides_out},
                                             {Change::sides_in_bodice, Change::sides_out_bodice},
                                             {Change::sides_in_skirt, Change::sides_out_skirt},
                                             {Change::straps_up, Change::straps_down},
                                             {Change::waist_tuck, Change::waist_down},
                                             {Change::waist_front_up, Change::waist_front_down},
                                             {Change::elastic_shorter, Change::elastic_longer},
                                             {Change::overlap_wider, Change::overlap_narrower},
                                             {Change::slit_caught, Change::slit_released},
                                             {Change::hem_up, Change::hem_down}};
  for (const auto& [a, b] : pairs) {
    if (change == a) return b;
    if (change == b) return a;
  }
  return Change::count;
}

void make_change(Made& made, Change change, double amount) {
  const double kept = std::min(amount, most_of(made, change));
  if (kept <= 0 || change == Change::count) return;
  apply(made, change, kept);
  keep_allowances(made, change, kept);
}

Made changed(const Made& made, Change change, double amount) {
  Made result = made;
  make_change(result, change, amount);
  return result;
}

std::optional<MoveLimits> limits_of(const Move& move, const Made& made) {
  std::string why;
  return find_limits(move, made, why);
}

std::string why_impossible(const Move& move, const Made& made) {
  std::string why;
  find_limits(move, made, why);
  return why;
}

}  // namespace easewright
