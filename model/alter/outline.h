#pragma once
// Acts on the outline of one half piece as it was cut. An edge that a seam moves across is cut off
// exactly: the rest of it is the same polynomial, and goes on as that polynomial when the seam
// moves back, so that the cloth of before comes back to rounding. Only `recut` gives an edge a new
// line.

#include "model/garment/bodice.h"

namespace easewright::outline {

using Point = Vec2<double>;
using Curve = Bezier<double>;
using Half = HalfBodice<double>;

/// Whether a dart is sewn in the side seam.
bool has_dart(const Half& half);
/// Down the side seam at the underarm, of length 1.
Point side_direction(const Half& half);
/// From the underarm to the waist.
Point side_seam(const Half& half);
/// Slope of the strap seam as the cloth lies, rad, down outwards.
double strap_slope(const Half& half);
/// From the pivot to the neck edge's chord, cm.
double neck_reach(const Half& half);

/// Moves the side seam inwards by `bottom` at the waist and by `top` at the height `length` above
/// it; out where negative. Armhole and waist edge are cut off, or come back.
void shift_side(Half& half, double top, double bottom, double length);

/// Takes the strap's end up by `inner` at the neck edge and by `outer` at the arm: the seam goes to
/// a new line, neck and armhole are cut off there, or come back where negative.
void shift_strap_end(Half& half, double inner, double outer);

/// Takes the whole strap end up by so much, parallel. `taken_up` is how much it is shorter than it
/// was cut: what was cut off comes back first, and further down the strap goes straight on, as wide
/// as it is at its seam.
void take_up_strap(Half& half, double by, double& taken_up);

/// Adds length just above the waist seam; folds it out where negative.
void raise_above_waist(Half& half, double by);

/// Recuts the edges that `draw(half)` draws, after `shift(half)` has moved their ends: each bends
/// as the drafted line does from the old ends to the new ones. An edge that is as drafted becomes
/// the drafted one; an edge that was cut off starts at what is left of it. (Drawing it anew gave
/// back, at no amount at all, the cloth that sides taken in had cut off.)
template <typename Shift, typename Draw>
void recut(Half& half, const Shift& shift, const Draw& draw);

// ---------------------------------------------------------------------------------------------

template <typename Shift, typename Draw>
void recut(Half& half, const Shift& shift, const Draw& draw) {
  Half before = half;
  draw(before);
  shift(half);
  Half after = half;
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

}  // namespace easewright::outline
