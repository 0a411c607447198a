#pragma once
// The skirt: a back panel on the fold and two front panels that overlap, each front's free edge
// straight down to the slit's start and then curving away as run_in u^2 towards the hem. y runs
// down from the waist seam here.

#include "model/garment/frame.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"
#include "model/geometry/bezier.h"

namespace easewright {

/// Draft values of the skirt block: all that follow the bodice's.
inline constexpr int kSkirtFirst = static_cast<int>(ValueKey::casing_allowance) + 1;
inline constexpr int kSkirtValues = kValueKeys - kSkirtFirst;

template <typename T>
struct SkirtValues {
  const T* at;  ///< kSkirtValues, beginning with skirt_length
  const T& operator[](ValueKey key) const { return at[static_cast<int>(key) - kSkirtFirst]; }
};

/// Seam allowance of the belt's long edge, cm.
inline constexpr double kBeltSeam = 1.0;

namespace skirt_steps {

using geometry::smooth_max;
using geometry::smooth_min;

/// The skirt's functions of the depth y below the waist.
template <typename T>
struct Profile {
  const Frame& f;
  const SkirtValues<T>& v;
  T hip;    ///< girth at hip level, overlap closed
  T curve;  ///< length of the curved part of the free edge, along y

  /// How far one free edge has curved away at y.
  T run_in(const T& y) const {
    const T u = smooth_max(T(0.0), T(y - v[ValueKey::slit_start])) / curve;
    return v[ValueKey::slit_run_in] * u * u;
  }
  /// Width over which the fronts still cover each other at y; negative: they have parted by so
  /// much.
  T overlap(const T& y) const { return v[ValueKey::skirt_overlap] - 2.0 * run_in(y); }
  /// Girth at y, overlap closed. Straight to the hip, then each of four seam edges spreads to the
  /// hem.
  T girth(const T& y) const {
    const T down = smooth_max(T(0.0), T(y - f.hip_y)) / (v[ValueKey::skirt_length] - f.hip_y);
    return hip + 4.0 * v[ValueKey::skirt_flare] * down;
  }
};

/// What a full step asks of the girth at y below the waist.
template <typename T>
T step_girth(const Frame& f, const T& y) {
  const T height = f.body[BodyKey::waist_height] - y;
  const double joint = f.body[BodyKey::trochanter_height];
  const T apart = (f.step / joint) * smooth_max(T(0.0), T(joint - height));
  return f.leg_girth.at(height) + 2.0 * apart;
}

template <typename T>
struct SkirtSheet {
  const Frame& f;
  const SkirtValues<T>& v;
  T* m;
  T& operator[](MeasureKey key) const { return m[static_cast<size_t>(key)]; }
};

template <typename T>
void measure_panels(const SkirtSheet<T>& s, const Profile<T>& p) {
  using M = MeasureKey;
  using K = ValueKey;
  using std::sqrt;
  const Frame& f = s.f;
  const auto& v = s.v;
  const T& length = v[K::skirt_length];
  s[M::skirt_hip] = p.hip;
  s[M::skirt_hip_ease] = p.hip - f.body[BodyKey::hip_girth];
  // Finished panels, free edges turned: the overlap is a width of finished cloth, not half of a cut
  // edge.
  s[M::skirt_front_across] = 2.0 * v[K::skirt_front_width] - v[K::skirt_overlap];
  // The waist edge runs from the side's level to the centre's: a little longer than the panel is
  // wide.
  const T back = v[K::skirt_back_width], front = v[K::skirt_front_width];
  const T back_rise = v[K::skirt_back_rise], front_rise = v[K::skirt_front_rise];
  s[M::skirt_waist] = 2.0 * sqrt(back * back + back_rise * back_rise) +
                      2.0 * sqrt(front * front + front_rise * front_rise) - v[K::skirt_overlap];
  s[M::skirt_hem] = p.girth(length);
  s[M::skirt_clearance] = f.body[BodyKey::waist_height] - length;
  // Seated, the knee comes nearer the waist than it is when standing.
  s[M::skirt_seated_drop] = T(f.knee_y - f.seated_knee_y);
  s[M::skirt_below_knee] = length - f.knee_y;
  s[M::skirt_front_tilt] =
      front_rise - (f.body[BodyKey::waist_height_front] - f.body[BodyKey::waist_height]);
  s[M::skirt_back_tilt] =
      back_rise - (f.body[BodyKey::waist_height_back] - f.body[BodyKey::waist_height]);
  s[M::skirt_overlap_share] = v[K::skirt_overlap] / f.body[BodyKey::hip_girth];
  // Widest panel as cut, two seam allowances of 1.5 counted: the whole back, or a front.
  const T widest =
      smooth_max(T(2.0 * (back + v[K::skirt_flare])), T(front + v[K::skirt_flare])) + 3.0;
  s[M::skirt_panel_spare] = f.cloth.width * (1 - f.cloth.shrinkage_width) - widest;
}

template <typename T>
void measure_slit(const SkirtSheet<T>& s, const Profile<T>& p) {
  using M = MeasureKey;
  using K = ValueKey;
  using std::sqrt;
  const Frame& f = s.f;
  const auto& v = s.v;
  const T& length = v[K::skirt_length];
  const T& run = v[K::slit_run_in];
  // Two overlapped fronts open where the overlap is used up, not where the curve starts.
  T opening = v[K::slit_start];
  if (!f.slit_sewn) {
    const T reached = sqrt((v[K::skirt_overlap] + 1e-6) / (2.0 * run + 1e-4));
    opening =
        smooth_max(v[K::slit_catch], T(v[K::slit_start] + p.curve * smooth_min(T(1.0), reached)));
  }
  s[M::slit_opening] = opening;
  s[M::slit_opening_above_knee] = f.knee_y - opening;
  s[M::slit_below_fold] = opening - f.fold_y;
  s[M::slit_below_crotch] = opening - f.crotch_y;

  // Least cover at a full step, from the hip to mid thigh: what the girth lacks for the step is
  // taken out of the overlap; what it has to spare covers nothing.
  constexpr int kLevels = 5;
  T least(1e3);
  for (int i = 0; i < kLevels; ++i) {
    const T y(f.hip_y + (f.mid_thigh_y - f.hip_y) * i / (kLevels - 1.0));
    const T lacking = smooth_max(T(0.0), T(step_girth(f, y) - p.girth(y)));
    least = smooth_min(least, T(p.overlap(y) - lacking));
  }
  s[M::slit_step_cover] = least;

  // Seated: a free edge stays put only beyond the crest of the other thigh, and the hips take width
  // out of the skirt.
  const double broader = 2 * (f.body[BodyKey::hip_breadth_sitting] - f.body[BodyKey::hip_breadth]);
  const T loss = smooth_max(T(0.0), T(broader - s[M::skirt_hip_ease]));
  T cover(1e3);
  constexpr int kSeated = 4;
  for (int i = 0; i < kSeated; ++i) {
    const T y(f.lap_y + (f.lap_end_y - f.lap_y) * i / (kSeated - 1.0));
    cover = smooth_min(cover, p.overlap(y));
  }
  s[M::slit_seated_cover] = cover - loss - 0.5 * f.body[BodyKey::hip_breadth_sitting];
  s[M::slit_knee_cover] = p.overlap(T(f.seated_knee_y)) - loss;

  // Below a sewn slit's top the hem is free; a closed skirt has to give the step at its hem.
  const T hem_at = f.wrapped ? opening : length;
  s[M::skirt_step_room] = p.girth(hem_at) - step_girth(f, hem_at);

  const T curvature = 2.0 * run / (p.curve * p.curve);
  s[M::slit_edge_radius] = 1.0 / (curvature + 1e-4);
  T curved(0.0);
  for (size_t i = 0; i < geometry::kGaussPoints; ++i) {
    const T slope = (2.0 * geometry::kGaussNode[i]) * run / p.curve;
    curved += geometry::kGaussWeight[i] * sqrt(1.0 + slope * slope);
  }
  s[M::slit_edge_length] = v[K::slit_start] + p.curve * curved;
  s[M::hem_edge_fullness] = v[K::hem_turn] * curvature;
  s[M::hem_fullness] =
      v[K::hem_turn] * v[K::skirt_flare] / ((0.25 * s[M::skirt_hem]) * (length - f.hip_y));
}

template <typename T>
void measure_belt(const SkirtSheet<T>& s) {
  using M = MeasureKey;
  using K = ValueKey;
  const Frame& f = s.f;
  const T& length = s.v[K::belt_length];
  s[M::belt_over_waist] = length - f.waist();
  // A bow takes about 57 with 12 cm loops; what is left hangs in two ends.
  const T hanging = 0.5 * (s[M::belt_over_waist] - 57.0);
  s[M::belt_hang] = (f.skirt ? s.v[K::skirt_length] : T(f.knee_y)) - hanging;
  s[M::belt_strip_width] = 2.0 * s.v[K::belt_width] + 2.0 * kBeltSeam;
  s[M::belt_strips] = (length + 2.0) / (f.cloth.width * (1 - f.cloth.shrinkage_width));
}

}  // namespace skirt_steps

/// Fills the skirt's and the belt's measures in m (kMeasureKeys), but for skirt_waist_mismatch,
/// which needs the bodice.
template <typename T>
void measure_skirt(const Frame& frame, const SkirtValues<T>& values, T* m) {
  using namespace skirt_steps;
  using K = ValueKey;
  const SkirtSheet<T> sheet{frame, values, m};
  const Profile<T> profile{
      frame,
      values,
      T(2.0 * (values[K::skirt_back_width] + values[K::skirt_front_width]) -
        values[K::skirt_overlap]),
      // Kept positive whatever the values are: a slit that starts at the hem has a curve of 1 cm.
      smooth_max(T(1.0), T(values[K::skirt_length] - values[K::slit_start]))};
  if (frame.skirt) {
    measure_panels(sheet, profile);
    measure_slit(sheet, profile);
  }
  measure_belt(sheet);
}

}  // namespace easewright
