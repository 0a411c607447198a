#pragma once
// Measures of the bodice, its casing and how it is put on. Each step fills the measures of one
// part.

#include "model/garment/bodice.h"
#include "model/garment/measures.h"
#include "model/garment/slack.h"

namespace easewright {
namespace bodice_steps {

using geometry::arc_length;
using geometry::directions;
using geometry::distance;
using geometry::smooth_abs;

template <typename T>
struct Sheet {
  const Frame& f;
  const BodiceValues<T>& v;
  const Bodice<T>& b;
  T* m;
  T& operator[](MeasureKey key) const { return m[static_cast<size_t>(key)]; }
};

/// Distance from the pivot to the straight line between an edge's ends, smooth where the edge meets
/// the pivot.
template <typename T>
T distance_to_chord(const Vec2<T>& pivot, const Vec2<T>& a, const Vec2<T>& b) {
  const Vec2<T> chord = unit(Vec2<T>(b - a));
  const T off = geometry::cross(chord, Vec2<T>(pivot - a));
  using std::sqrt;
  return sqrt(off * off + 0.25);  // rounded over 0.5 cm: what a bust point is wide
}

template <typename T>
void measure_strap(const Sheet<T>& s) {
  using M = MeasureKey;
  using K = ValueKey;
  using std::cos;
  const Frame& f = s.f;
  const double shoulder = f.body[BodyKey::shoulder_length];
  s[M::strap_outer] = s.v[K::strap_inset] + s.v[K::strap_width];
  s[M::strap_cut_in] = shoulder - s[M::strap_outer];
  const T middle = s.v[K::strap_inset] + 0.5 * s.v[K::strap_width];
  const T level = cos(s.v[K::strap_slope]);
  s[M::strap_centre] = f.neck_half + middle * level;
  s[M::strap_centre_share] = middle / shoulder;
  s[M::strap_off_bust_line] = s[M::strap_centre] - f.bust_x;
  s[M::strap_hides] = 0.5 * (s.v[K::strap_width] - f.body[BodyKey::underwear_strap_width]);
  s[M::strap_slope_over] = s.v[K::strap_slope] - f.body[BodyKey::shoulder_slope];
  // Rolled bulk against the strap's tube: a strap passes a width b of cloth t thick when it is
  // sqrt(pi b t / 0.35).
  const double thickness = f.cloth.thickness + f.cloth.lining_thickness;
  using std::sqrt;
  const T half_back = s.v[K::bodice_back_underarm];
  s[M::strap_turns] = s.v[K::strap_width] - sqrt((kPi / 0.35) * thickness * 2.0 * half_back);
  s[M::strap_turns_half] = s.v[K::strap_width] - sqrt((kPi / 0.35) * thickness * half_back);
}

template <typename T>
void measure_neckline(const Sheet<T>& s) {
  using M = MeasureKey;
  using K = ValueKey;
  const Frame& f = s.f;
  const HalfBodice<T>& front = s.b.front;
  const HalfBodice<T>& back = s.b.back;
  geometry::Directions<T> edge = directions(front.neck[0]);
  if (front.neck_curves == 2) edge = edge + directions(front.neck[1]);
  const geometry::Directions<T> back_edge = directions(back.neck[0]);
  s[M::neckline_front] = edge.total;
  s[M::neckline_back] = back_edge.total;
  s[M::neckline_edge] = 2.0 * (edge.total + back_edge.total - s.v[K::neckline_taken]);
  s[M::neckline_half_width] = front.strap_inner.x;
  s[M::neckline_above_bust] = front.centre_neck.y - s.b.figures.bust_y;
  s[M::neckline_back_above_band] =
      back.centre_neck.y - (s.b.figures.bust_y - s.f.balance_shift - f.underbust_drop);
  s[M::neckline_depth_sum] = s.v[K::neckline_depth] + s.v[K::neckline_back_depth];
  s[M::neckline_strap_angle] = s.b.figures.strap_angle;

  // Width ease up there is how far the edge lies outside its place inside the arm crease (not the
  // bust ease); length ease is what the strap has over the shoulder.
  const double across_front = f.body[BodyKey::across_front];
  const T place = 0.5 * across_front - 0.5 - 0.25 * (s[M::strap_cut_in] - 1.0);
  const T width_strain = (s.v[K::armhole_front_edge] - place) / (0.5 * across_front);
  const T length_strain = s.v[K::strap_ease] / (f.front_neck_y - f.bust_y);
  const double bias = f.taped ? 0.0 : f.cloth.bias_growth;
  const T tau = s.v[K::neckline_depth] / (f.front_neck_y - f.neck_depth - f.bust_y);
  const Slack<T> slack =
      slack_of(edge,
               Strains<T>{width_strain, length_strain, T(bias)},
               distance_to_chord(front.pivot, front.centre_neck, front.strap_inner),
               s.v[K::shaping_neck],
               T(f.contour * neckline_contour(tau)),
               s.v[K::neckline_taken]);
  s[M::neckline_slack] = slack.total();
  s[M::neckline_slack_shaping] = slack.shaping;
  s[M::neckline_slack_width] = slack.width;
  s[M::neckline_slack_length] = slack.length;
  s[M::neckline_slack_bias] = slack.bias;
  s[M::neckline_slack_contour] = slack.contour;
  s[M::neckline_slack_leaning] = slack.total() + 0.5 + 0.1 * s.v[K::neckline_depth];

  // A back neckline that runs below the blade frees the neck's share: nothing stands off there any
  // more.
  const T above_blade = geometry::smooth_max(T(0.0), T(back.centre_neck.y - back.pivot.y));
  const T reach = distance_to_chord(back.pivot, back.centre_neck, back.strap_inner);
  const T blade_distance = reach * above_blade / (above_blade + 1.0);
  s[M::neckline_back_slack] = blade_distance * s.v[K::blade_neck] +
                              length_strain * back_edge.along +
                              f.cloth.bias_growth * back_edge.bias;

  // The back neck edge leaves the seam at 180 degrees less the front's angle; plumb is at 90 less
  // the slope.
  const T seam_slope = s.v[K::strap_slope] + s.v[K::blade_neck] + s.v[K::blade_shoulder];
  s[M::strap_lean] = seam_slope + 0.5 * kPi - s.b.figures.strap_angle;
}

template <typename T>
void measure_armhole(const Sheet<T>& s) {
  using M = MeasureKey;
  using K = ValueKey;
  const Frame& f = s.f;
  const HalfBodice<T>& front = s.b.front;
  const HalfBodice<T>& back = s.b.back;
  const geometry::Directions<T> front_edge =
      directions(front.armhole_upper) + directions(front.armhole_lower);
  const geometry::Directions<T> back_edge =
      directions(back.armhole_upper) + directions(back.armhole_lower);
  s[M::armhole_front] = front_edge.total;
  s[M::armhole_back] = back_edge.total;
  s[M::armhole_girth] = front_edge.total + back_edge.total - s.v[K::armhole_taken];
  // Each cm that the strap ends inside the shoulder point adds 1.14 cm of girth (trial on 1,104
  // bodies).
  s[M::armhole_ease] =
      s[M::armhole_girth] - (f.body[BodyKey::armscye_girth] + 1.14 * s[M::strap_cut_in]);
  s[M::armhole_front_depth] = front.side_neck.y - front.underarm.y;
  s[M::armhole_back_depth] = back.side_neck.y - back.underarm.y;
  s[M::armhole_balance] = s[M::armhole_back_depth] - s[M::armhole_front_depth];
  const double half_front = 0.5 * f.body[BodyKey::across_front];
  const double half_back = 0.5 * f.body[BodyKey::across_back];
  s[M::armhole_front_inside] = half_front - s.v[K::armhole_front_edge];
  s[M::armhole_back_inside] = half_back - s.v[K::armhole_back_edge];
  s[M::armhole_front_run] = front.underarm.x - front.notch.x;
  s[M::armhole_back_run] = back.underarm.x - back.notch.x;

  const T place = half_front - 0.5 - 0.25 * (s[M::strap_cut_in] - 1.0);
  const T width_strain = (s.v[K::armhole_front_edge] - place) / half_front;
  const T length_strain = s.v[K::strap_ease] / (f.front_neck_y - f.bust_y);
  const T bias = T(f.cloth.bias_growth);
  const Slack<T> slack =
      slack_of(front_edge,
               Strains<T>{width_strain, length_strain, bias},
               distance(front.pivot, front.notch),
               s.v[K::shaping_armhole],
               T(0.5 * f.contour),  // an allowance; the published 1.3 is for a cut-away armhole
               s.v[K::armhole_taken]);
  s[M::armhole_slack] = slack.total();
  s[M::armhole_slack_shaping] = slack.shaping;
  s[M::armhole_slack_width] = slack.width;
  s[M::armhole_slack_length] = slack.length;
  s[M::armhole_slack_bias] = slack.bias;
  s[M::armhole_slack_contour] = slack.contour;

  s[M::blade_armhole_length] = distance(back.pivot, back.notch) * s.v[K::blade_armhole];
  const T back_strain =
      (s.v[K::armhole_back_edge] - (half_back - 0.25 * s[M::strap_cut_in])) / half_back;
  s[M::armhole_back_slack] = s[M::blade_armhole_length] + back_strain * back_edge.across +
                             length_strain * back_edge.along + bias * back_edge.bias;
  // Arms forward: about a quarter of the back's growth falls between the edges of a sleeveless
  // back, the rest lies outside them; slack of the edges and their distance from the crease give
  // way to it (common practice).
  s[M::armhole_reach] = 2.0 * (s[M::armhole_back_inside] + s[M::armhole_back_slack]) -
                        0.25 * f.body[BodyKey::back_reach];
}

template <typename T>
void measure_rounds(const Sheet<T>& s) {
  using M = MeasureKey;
  using K = ValueKey;
  using std::sin;
  using std::sqrt;
  const Frame& f = s.f;
  const auto& v = s.v;
  const BodiceFigures<T>& fig = s.b.figures;
  // Girths are read on the side seams at their own level, side panels upright: the seams slant, so
  // a girth read at the underarm flatters the bust below it.
  const T bust_y = fig.bust_y - f.balance_shift;
  const T front_slant = v[K::bodice_front_underarm] - v[K::bodice_front_waist];
  const T back_slant = v[K::bodice_back_underarm] - v[K::bodice_back_waist];
  const auto girth_at = [&](const T& y) {
    const T up = y / fig.underarm_y;
    return T(2.0 * (v[K::bodice_front_waist] + v[K::bodice_back_waist] +
                    up * (front_slant + back_slant)));
  };
  s[M::bodice_bust] = girth_at(bust_y);
  s[M::bodice_bust_ease] = s[M::bodice_bust] - f.body[BodyKey::bust_girth];
  s[M::bodice_underarm] = 2.0 * (v[K::bodice_front_underarm] + v[K::bodice_back_underarm]);
  s[M::bodice_underbust] = girth_at(T(bust_y - f.underbust_drop)) +
                           4.0 * f.underbust_drop * sin(T(0.5 * fig.waist_share));
  s[M::bodice_underbust_ease] = s[M::bodice_underbust] - f.body[BodyKey::underbust_girth];
  s[M::bodice_waist_front] = arc_length(s.b.front.waist);
  s[M::bodice_waist_back] = arc_length(s.b.back.waist);
  s[M::bodice_waist] = 2.0 * (s[M::bodice_waist_front] + s[M::bodice_waist_back]);
  s[M::bodice_waist_ease] = s[M::bodice_waist] - f.waist();
  s[M::bodice_side] = sqrt(back_slant * back_slant + fig.underarm_y * fig.underarm_y);
  s[M::bodice_side_mismatch] = front_slant - back_slant;
  s[M::bodice_side_slant] = 0.5 * (front_slant + back_slant);
  s[M::bodice_balance] = T(f.balance_shift);

  s[M::shaping_total] = T(f.theta);
  s[M::shaping_waist] = fig.waist_share;
  s[M::shaping_waist_width] = 2.0 * s.b.front.pivot.y * sin(T(0.5 * fig.waist_share));
  s[M::shaping_side_width] = distance(s.b.front.dart_upper, s.b.front.dart_lower);
  s[M::shaping_dart_above_waist] = s[M::bodice_side] - v[K::shaping_dart_drop];
  using std::atan2;
  const T at = v[K::shaping_dart_drop] / s[M::bodice_side];
  s[M::shaping_dart_tilt] = atan2(T(fig.bust_y - fig.underarm_y * (1.0 - at)),
                                  T(v[K::bodice_front_underarm] - at * front_slant - f.bust_x));
  s[M::blade_waist] = fig.blade_waist;
  s[M::blade_shoulder_ratio] =
      distance(s.b.back.strap_outer, s.b.back.strap_inner) / v[K::strap_width] - 1.0;
}

template <typename T>
void measure_waist(const Sheet<T>& s) {
  using M = MeasureKey;
  using K = ValueKey;
  const Frame& f = s.f;
  // The front of the waist is somewhat more than its half.
  constexpr double kFrontWaist = 0.52;
  s[M::dressing_need] = T(f.need);
  if (!f.elastic_waist) return;
  const T& elastic = s.v[K::elastic_length];
  s[M::dressing_elastic] = elastic * (1 + 0.7 * f.cloth.elastic_extension);
  s[M::dressing_strain] = f.passes_waist / elastic - 1.0;
  s[M::elastic_tightening] = 1.0 - elastic * ((1 + f.cloth.elastic_growth) / f.waist());
  s[M::elastic_front] = kFrontWaist * elastic + 0.5;
  s[M::elastic_back] = elastic - s[M::elastic_front];
  // 3.6 % of tightening gave 1.77 kPa in a published trial of 2.5 cm belts; taken as proportional.
  s[M::elastic_pressure] = (1.77 / 0.036) * s[M::elastic_tightening];
  s[M::gather_ratio] = s[M::bodice_waist] / f.waist();
  s[M::gather_front_ratio] = 2.0 * s[M::bodice_waist_front] / (kFrontWaist * f.waist());
  s[M::casing_play] = s.v[K::casing_width] - f.cloth.elastic_width;
  const double edge = f.switches.is(Switch::waist_edge, "turned") ? 0.6 : 0.0;
  s[M::casing_spare] = s.v[K::casing_allowance] - s.v[K::casing_width] - (0.3 + edge);
  // The elastic and the pin that draws it, turned in by two fingers.
  s[M::casing_opening] = T(f.cloth.elastic_width + 2.5);
}

}  // namespace bodice_steps

/// Fills m (kMeasureKeys) with the measures of the bodice block; the skirt's are left as they are.
template <typename T>
void measure_bodice(const Frame& frame,
                    const BodiceValues<T>& values,
                    const Bodice<T>& bodice,
                    T* m) {
  using namespace bodice_steps;
  const Sheet<T> sheet{frame, values, bodice, m};
  measure_strap(sheet);
  measure_neckline(sheet);
  measure_armhole(sheet);
  measure_rounds(sheet);
  measure_waist(sheet);
}

}  // namespace easewright
