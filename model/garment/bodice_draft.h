#pragma once
// The steps of draft_bodice. Included by bodice.h.

namespace easewright {
namespace bodice_steps {

using geometry::curve_between;
using geometry::length;
using geometry::straight;

template <typename T>
Vec2<T> unit(const Vec2<T>& v) {
  return (1.0 / length(v)) * v;
}

/// Direction along the shoulder, outwards, sloping down.
template <typename T>
Vec2<T> shoulder_direction(const T& slope) {
  using std::cos;
  using std::sin;
  return {cos(slope), -sin(slope)};
}

/// The armhole from the strap's outer end over the notch to the underarm. It leaves the strap
/// square to its seam, passes the notch upright (turned with the strap) and reaches the underarm
/// square to the side seam, so that both corners are smooth once front and back are joined. hollow:
/// share of the box's side that a handle takes in the lower part (0.5523 is a quarter ellipse; the
/// front's lower third is hollower than the back's, by 0.3 to 0.6 cm).
template <typename T>
void draw_armhole(HalfBodice<T>& half,
                  const Turn<T>& with_strap,
                  const Vec2<T>& side_seam,
                  double hollow) {
  const Vec2<T> seam = unit(Vec2<T>(half.strap_outer - half.strap_inner));
  const Vec2<T> off_strap{seam.y, -seam.x};
  const Vec2<T> down = with_strap.vector({T(0.0), T(-1.0)});
  const T upper = (1.0 / 3) * length(Vec2<T>(half.notch - half.strap_outer));
  half.armhole_upper = curve_between(half.strap_outer, off_strap, upper, down, upper, half.notch);

  const Vec2<T> along = unit(side_seam);
  const Vec2<T> into_seam{-along.y, along.x};
  const Vec2<T> chord = half.underarm - half.notch;
  half.armhole_lower = curve_between(half.notch,
                                     down,
                                     T(hollow * geometry::dot(chord, down)),
                                     into_seam,
                                     T(hollow * geometry::dot(chord, into_seam)),
                                     half.underarm);
}

/// The waist edge, level at the centre and square to the side seam.
template <typename T>
void draw_waist(HalfBodice<T>& half, const Vec2<T>& side_seam) {
  const Vec2<T> along = unit(side_seam);
  const Vec2<T> into_seam{-along.y, along.x};
  const T handle = (1.0 / 3) * length(Vec2<T>(half.side_waist - half.centre_waist));
  half.waist = curve_between(
      half.centre_waist, {T(1.0), T(0.0)}, handle, into_seam, handle, half.side_waist);
}

/// The front neckline, from the centre to the strap.
template <typename T>
void draw_front_neck(HalfBodice<T>& front, NecklineShape shape) {
  const Vec2<T> a = front.centre_neck;
  const Vec2<T> b = front.strap_inner;
  switch (shape) {
    case NecklineShape::v:
      front.neck[0] = straight(a, b);
      front.neck_curves = 1;
      return;
    case NecklineShape::round: {
      const Vec2<T> seam = unit(Vec2<T>(front.strap_outer - front.strap_inner));
      const Vec2<T> up{-seam.y, seam.x};
      front.neck[0] =
          curve_between(a, {T(1.0), T(0.0)}, T(0.58 * (b.x - a.x)), up, T(0.5 * (b.y - a.y)), b);
      front.neck_curves = 1;
      return;
    }
    case NecklineShape::square: {
      // The upright runs 1 cm inwards to its foot, as square necklines are cut so that they do not
      // look splayed.
      const Vec2<T> corner{b.x - 1.0, a.y};
      front.neck[0] = straight(a, corner);
      front.neck[1] = straight(corner, b);
      front.neck_curves = 2;
      return;
    }
  }
}

/// Interior angle between the strap seam (outwards) and the front neck edge (downwards), at the
/// strap's inner end.
template <typename T>
T strap_angle(const HalfBodice<T>& front) {
  using std::atan2;
  const Vec2<T> seam = front.strap_outer - front.strap_inner;
  const Bezier<T>& last = front.neck[static_cast<size_t>(front.neck_curves - 1)];
  const Vec2<T> edge = last.p2 - last.p3;
  return atan2(-geometry::cross(seam, edge), geometry::dot(seam, edge));
}

/// The back neckline: level at the centre, and meeting the strap seam so that front and back neck
/// edge run on smoothly (their angles there add to 180 degrees).
template <typename T>
void draw_back_neck(HalfBodice<T>& back, const T& front_angle) {
  const Vec2<T> seam = unit(Vec2<T>(back.strap_outer - back.strap_inner));
  const Turn<T> turn(T(front_angle - kPi));
  const Vec2<T> edge = turn.vector(seam);  // down from the strap
  const Vec2<T> arrive{-edge.x, -edge.y};
  const T rise = back.strap_inner.y - back.centre_neck.y;
  back.neck[0] = curve_between(back.centre_neck,
                               {T(1.0), T(0.0)},
                               T(0.55 * back.strap_inner.x),
                               arrive,
                               T(0.45 * rise),
                               back.strap_inner);
  back.neck_curves = 1;
}

}  // namespace bodice_steps

template <typename T>
Bodice<T> draft_bodice(const Frame& f, const BodiceValues<T>& v) {
  using namespace bodice_steps;
  using K = ValueKey;
  using std::cos;
  using std::sin;
  Bodice<T> bodice;
  HalfBodice<T>& front = bodice.front;
  HalfBodice<T>& back = bodice.back;
  BodiceFigures<T>& figures = bodice.figures;
  const T& blouson = v[K::bodice_blouson];
  const Vec2<T> along_shoulder = shoulder_direction(v[K::strap_slope]);

  // Levels. Blouson is added parallel all round below the bust, so everything above the waist moves
  // up by it.
  figures.underarm_y = f.armpit_y + blouson - v[K::armhole_drop];
  const T bust_y = f.bust_y + blouson;
  const T front_underarm = v[K::bodice_front_underarm];

  const T run = front_underarm - f.bust_x;
  const T lift = run * std::sin(f.theta) - (figures.underarm_y - bust_y) * (1 - std::cos(f.theta));
  figures.bust_y = bust_y + f.balance_shift;

  // Front.
  front.pivot = {T(f.bust_x), figures.bust_y};
  figures.waist_share = f.theta - v[K::shaping_neck] - v[K::shaping_armhole] - v[K::shaping_side];
  const Turn<T> strap_turn(T(-v[K::shaping_neck]));
  const T panel = f.theta - v[K::shaping_neck] - v[K::shaping_armhole];
  const Turn<T> panel_turn(panel);
  const Turn<T> waist_turn(figures.waist_share);

  const Vec2<T> side_neck{T(f.neck_half),
                          f.front_neck_y + blouson + f.balance_shift + v[K::strap_ease]};
  const T outer = v[K::strap_inset] + v[K::strap_width];
  front.side_neck = strap_turn.about(front.pivot, side_neck);
  front.strap_inner = strap_turn.about(front.pivot, side_neck + v[K::strap_inset] * along_shoulder);
  front.strap_outer = strap_turn.about(front.pivot, side_neck + outer * along_shoulder);
  front.centre_neck = {
      T(0.0), f.front_neck_y - f.neck_depth + blouson + f.balance_shift - v[K::neckline_depth]};
  front.centre_waist = {T(0.0), v[K::bodice_centre_front]};
  // The notch lies 0.37 of the way from the armpit to the side neck point: the level at which
  // across front is taken.
  const T front_pit = f.armpit_y + blouson + lift;
  const T front_notch_y = front_pit + 0.37 * (side_neck.y - front_pit);
  front.notch = strap_turn.about(front.pivot, {v[K::armhole_front_edge], front_notch_y});

  // The side panel, upright and then turned about the bust point. Its heights are the back's: side
  // seams are equal.
  const Vec2<T> upright_underarm{front_underarm, figures.underarm_y};
  const Vec2<T> upright_waist{v[K::bodice_front_waist], T(0.0)};
  const Vec2<T> upright_seam = upright_waist - upright_underarm;
  const T dart_at = v[K::shaping_dart_drop] / length(upright_seam);
  const Vec2<T> upright_dart = upright_underarm + dart_at * upright_seam;
  front.underarm = panel_turn.about(front.pivot, upright_underarm);
  front.dart_upper = panel_turn.about(front.pivot, upright_dart);
  front.dart_lower = waist_turn.about(front.pivot, upright_dart);
  front.side_waist = waist_turn.about(front.pivot, upright_waist);

  draw_front_neck(front, f.neckline);
  figures.strap_angle = strap_angle(front);
  draw_armhole(front, strap_turn, panel_turn.vector(upright_seam), 0.64);
  draw_waist(front, waist_turn.vector(upright_seam));

  // Back.
  const T back_neck_y = f.back_neck_y + blouson;
  back.pivot = {T(f.blade_x), back_neck_y - f.blade_below};
  figures.blade_waist = f.beta - v[K::blade_neck] - v[K::blade_shoulder] - v[K::blade_armhole];
  const Turn<T> inner_turn(T(-v[K::blade_neck]));
  const Turn<T> outer_turn(T(-v[K::blade_neck] - v[K::blade_shoulder]));
  const Turn<T> back_turn(figures.blade_waist);
  const Vec2<T> back_side_neck{T(f.neck_half), back_neck_y + f.neck_rise + v[K::strap_ease]};
  back.side_neck = inner_turn.about(back.pivot, back_side_neck);
  back.strap_inner =
      inner_turn.about(back.pivot, back_side_neck + v[K::strap_inset] * along_shoulder);
  back.strap_outer = outer_turn.about(back.pivot, back_side_neck + outer * along_shoulder);
  back.centre_neck = {T(0.0), back_neck_y - v[K::neckline_back_depth]};
  back.centre_waist = {T(0.0), T(0.0)};
  const T back_pit = f.armpit_y + blouson;
  back.notch = outer_turn.about(
      back.pivot, {v[K::armhole_back_edge], back_pit + 0.37 * (back_side_neck.y - back_pit)});
  const Vec2<T> back_underarm{v[K::bodice_back_underarm], figures.underarm_y};
  const Vec2<T> back_waist{v[K::bodice_back_waist], T(0.0)};
  const Vec2<T> back_seam = back_turn.vector(back_waist - back_underarm);
  back.underarm = back_turn.about(back.pivot, back_underarm);
  back.side_waist = back_turn.about(back.pivot, back_waist);
  back.dart_upper = back.dart_lower = back.underarm;
  draw_back_neck(back, figures.strap_angle);
  draw_armhole(back, outer_turn, back_seam, 0.60);
  draw_waist(back, back_seam);
  return bodice;
}

}  // namespace easewright
