#include "model/alter/moves.h"

#include "model/alter/outline.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using K = ValueKey;
using bodice_steps::unit;
using geometry::distance;
using outline::Curve;
using outline::Half;
using outline::has_dart;
using outline::neck_reach;
using outline::Point;
using outline::recut;
using outline::side_direction;
using outline::side_seam;
using outline::strap_slope;

void shift_sides(Made& made, double top, double bottom) {
  Values<double>& v = made.values;
  const double length = made.bodice.figures.underarm_y;  // as cut
  const auto underarm_y = [&] {
    return made.cut_for.armpit_y + v[K::bodice_blouson] - v[K::armhole_drop];
  };
  const double front = (v[K::bodice_front_underarm] - v[K::bodice_front_waist]) / underarm_y();
  const double back = (v[K::bodice_back_underarm] - v[K::bodice_back_waist]) / underarm_y();
  const double before = 0.5 * (made.bodice.front.underarm.y + made.bodice.back.underarm.y);
  outline::shift_side(made.bodice.front, top, bottom, length);
  outline::shift_side(made.bodice.back, top, bottom, length);
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

/// Keeps the values true to strap ends that `act` takes up by these amounts on an average; let down
/// where negative.
template <typename Act>
void move_straps(Made& made, double front_up, double back_up, const Act& act) {
  Values<double>& v = made.values;
  const Half& front = made.bodice.front;
  const double width = distance(front.strap_inner, front.strap_outer);
  const double inner_x = front.strap_inner.x;
  const double slope = strap_slope(front);
  act();
  v[K::strap_width] += distance(front.strap_inner, front.strap_outer) - width;
  v[K::strap_inset] += (front.strap_inner.x - inner_x) / std::cos(v[K::strap_slope]);
  v[K::strap_slope] += strap_slope(front) - slope;
  // Everything hangs from the shoulders, each half from its own.
  const double up = 0.5 * (front_up + back_up);
  v[K::bodice_blouson] -= up, v[K::armhole_drop] -= up;
  v[K::neckline_depth] -= front_up, v[K::neckline_back_depth] -= back_up;
  made.front_shorter += front_up - back_up;
}

void take_up_straps(Made& made, double front, double back) {
  move_straps(made, front, back, [&] {
    outline::take_up_strap(made.bodice.front, front, made.front_taken_up);
    outline::take_up_strap(made.bodice.back, back, made.back_taken_up);
  });
}

/// Front and back alike, tapering from one end to the other.
void taper_straps(Made& made, double neck_end, double arm_end) {
  const double mean = 0.5 * (neck_end + arm_end);
  move_straps(made, mean, mean, [&] {
    outline::shift_strap_end(made.bodice.front, neck_end, arm_end);
    outline::shift_strap_end(made.bodice.back, neck_end, arm_end);
  });
}

/// How far the cloth at a half's strap was turned when it was cut, by the shaping left above it:
/// its seam slopes by so much more than the shoulder.
Turn<double> strap_turn(const Made& made, bool front) {
  const Half& half = front ? made.bodice.front : made.bodice.back;
  return Turn<double>(made.values[K::strap_slope] - strap_slope(half));
}

/// Draws a half's armhole as the draft does.
auto armhole_drawn(const Made& made, bool front) {
  constexpr double kFrontHollow = 0.64, kBackHollow = 0.60;
  return [turn = strap_turn(made, front), hollow = front ? kFrontHollow : kBackHollow](Half& half) {
    bodice_steps::draw_armhole<double>(half, turn, side_seam(half), hollow);
  };
}

void lower_armhole(Made& made, double by) {
  for (const bool front : {true, false}) {
    recut(
        front ? made.bodice.front : made.bodice.back,
        [by](Half& half) {
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
      [inwards](Half& half) { half.notch = half.notch + inwards; },
      armhole_drawn(made, front));
  made.values[front ? K::armhole_front_edge : K::armhole_back_edge] -= by;
  if (front) made.front_scooped += by;
}

/// The strap's arm end moves along the seam, outwards where `by` is positive.
void move_arm_edge(Made& made, double by) {
  for (const bool front : {true, false}) {
    recut(
        front ? made.bodice.front : made.bodice.back,
        [by](Half& half) {
          half.strap_outer =
              half.strap_outer + by * unit(Point(half.strap_outer - half.strap_inner));
        },
        armhole_drawn(made, front));
  }
  made.values[K::strap_width] += by;
}

/// The same of its neck end.
void move_neck_edge(Made& made, double by) {
  const auto along_seam = [by](Half& half) {
    half.strap_inner = half.strap_inner + by * unit(Point(half.strap_outer - half.strap_inner));
  };
  Half& front = made.bodice.front;
  const double angle = bodice_steps::strap_angle(front);
  recut(front, along_seam, [&made](Half& half) {
    bodice_steps::draw_front_neck<double>(half, made.cut_for.neckline);
  });
  // Both neck edges go on running smoothly into each other: the back follows the front's turn.
  const double turned = bodice_steps::strap_angle(front) - angle;
  bool moved = false;
  recut(
      made.bodice.back,
      [&](Half& half) { along_seam(half), moved = true; },
      [&](Half& half) {
        bodice_steps::draw_back_neck<double>(half, moved ? angle + turned : angle);
      });
  made.values[K::strap_inset] += by;
  made.values[K::strap_width] -= by;
}

void deepen_front(Made& made, double by) {
  recut(
      made.bodice.front,
      [by](Half& half) { half.centre_neck.y -= by; },
      [&made](Half& half) { bodice_steps::draw_front_neck<double>(half, made.cut_for.neckline); });
  made.values[K::neckline_depth] += by;
}

void deepen_back(Made& made, double by) {
  // The edge leaves the strap as it did.
  const Curve& old = made.bodice.back.neck[0];
  const Point arrive = unit(Point(old.p3 - old.p2));
  recut(
      made.bodice.back,
      [by](Half& half) { half.centre_neck.y -= by; },
      [arrive](Half& half) {
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

void fold_front(Made& made, bool neck, double width) {
  const Half& front = made.bodice.front;
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
  Half& front = made.bodice.front;
  Values<double>& v = made.values;
  if (!has_dart(front)) {
    if (v[K::shaping_dart_drop] < 3) v[K::shaping_dart_drop] = 6;
    front.dart_upper = front.underarm + v[K::shaping_dart_drop] * side_direction(front);
    front.dart_lower = front.dart_upper;
  }
  recut(
      front,
      [turn = Turn<double>(-angle)](Half& half) {
        half.dart_lower = turn.about(half.pivot, half.dart_lower);
        half.side_waist = turn.about(half.pivot, half.side_waist);
      },
      [](Half& half) {
        bodice_steps::draw_waist<double>(half, half.side_waist - half.dart_lower);
      });
  v[K::shaping_side] += angle;
  made.bodice.figures.waist_share -= angle;
}

/// Length added (-: folded out) all round just above the waist seam.
void lengthen_above_waist(Made& made, double by) {
  for (Half* half : {&made.bodice.front, &made.bodice.back}) outline::raise_above_waist(*half, by);
  made.bodice.figures.underarm_y += by;
  made.bodice.figures.bust_y += by;
  made.values[K::bodice_blouson] += by;
}

/// The front's waist edge at the centre, up or down, to nothing at the sides.
void raise_centre_front(Made& made, double by) {
  Half& front = made.bodice.front;
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

/// Hem at the sides, to nothing at the centres: these stay where they are.
void raise_side_hem(Made& made, double by) {
  made.values[K::skirt_length] -= by;
  made.hem_up.front -= by, made.hem_up.back -= by;
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
      take_up_straps(made, a, a);
      return;
    case Change::straps_up_front:
      take_up_straps(made, a, 0);
      return;
    case Change::straps_up_back:
      take_up_straps(made, 0, a);
      return;
    case Change::straps_up_neck_end:
      taper_straps(made, a, 0);
      return;
    case Change::straps_up_arm_end:
      taper_straps(made, 0, a);
      return;
    case Change::straps_down:
      take_up_straps(made, -a, -a);
      return;
    case Change::straps_down_arm_end:
      taper_straps(made, 0, -a);
      return;
    case Change::strap_extended:
      take_up_straps(made, -a / 2, -a / 2);
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
    case Change::waist_band:
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
    case Change::skirt_back_out:
      v[K::skirt_back_rise] += a;
      return;
    case Change::skirt_front_lower:
      v[K::skirt_front_rise] -= a;
      return;
    case Change::skirt_front_out:
      v[K::skirt_front_rise] += a;
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
    case Change::hem_front_up:
      made.hem_up.front += a;
      return;
    case Change::hem_front_down:
      made.hem_up.front -= a;
      return;
    case Change::hem_back_up:
      made.hem_up.back += a;
      return;
    case Change::hem_back_down:
      made.hem_up.back -= a;
      return;
    case Change::hem_sides_up:
      raise_side_hem(made, a);
      return;
    case Change::hem_sides_down:
      raise_side_hem(made, -a);
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
    case Change::straps_down_arm_end:
      return add(SeamKey::shoulder, -a);
    case Change::waist_down:
    case Change::waist_front_down:
    case Change::skirt_front_out:
    case Change::skirt_back_out:
      return add(SeamKey::waist, -a);
    case Change::hem_up:
      return add(SeamKey::hem, a);
    case Change::hem_down:
    case Change::hem_front_down:
    case Change::hem_back_down:
    case Change::hem_sides_down:
      return add(SeamKey::hem, -a);
    default:
      return;
  }
}

}  // namespace

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

}  // namespace easewright
