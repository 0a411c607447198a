#pragma once
// The bodice: front and back half as sectors round the bust point and the shoulder blade.
//
// The front is drawn as the body has it above the bust, with the whole bust angle theta open at the
// waist: the upright side panel is turned about the bust point by theta. Then the angle is handed
// out: shares left in the neckline and in the armhole, one sewn as a side dart, the rest gathered
// into the waist. Walking round the outline from the centre front, every slash turns all that
// follows it clockwise by its share. The back does the same round the blade, its angle left in
// neckline, strap seam and armhole, the rest given to the waist.

#include "model/garment/frame.h"
#include "model/garment/values.h"
#include "model/geometry/bezier.h"

namespace easewright {

using geometry::Bezier;
using geometry::Turn;
using geometry::Vec2;

/// Draft values of the bodice block: ValueKey 0 up to and including casing_allowance.
inline constexpr int kBodiceValues = static_cast<int>(ValueKey::casing_allowance) + 1;

template <typename T>
struct BodiceValues {
  const T* at;
  const T& operator[](ValueKey key) const { return at[static_cast<size_t>(key)]; }
};

/// One half piece, flat as it is cut (the side dart's wedge included), sew lines only.
template <typename T>
struct HalfBodice {
  Vec2<T> centre_waist;  ///< on the centre line
  Vec2<T> centre_neck;   ///< on the centre line, bottom of the neckline
  Vec2<T> side_neck;     ///< side neck point, turned with the strap (not on the outline)
  Vec2<T> strap_inner, strap_outer;
  Vec2<T> notch;  ///< on the armhole, where the edge is nearest the centre
  Vec2<T> underarm;
  Vec2<T> dart_upper,
      dart_lower;  ///< legs of the side dart on the side seam; equal where none is sewn
  Vec2<T> side_waist;
  Vec2<T> pivot;                  ///< bust point or shoulder blade
  std::array<Bezier<T>, 2> neck;  ///< centre to strap; second used by the square neckline alone
  int neck_curves = 1;
  Bezier<T> armhole_upper, armhole_lower;  ///< strap to notch, notch to underarm
  Bezier<T> waist;                         ///< centre to side
};

/// What the two halves share or what both need, worked out on the way.
template <typename T>
struct BodiceFigures {
  T underarm_y;   ///< underarm of the upright side panel above the waist
  T bust_y;       ///< bust point, ease and balance shift included
  T waist_share;  ///< of the bust angle
  T blade_waist;  ///< of the blade angle
  T strap_angle;  ///< front neck edge against the strap seam, rad
};

template <typename T>
struct Bodice {
  HalfBodice<T> front, back;
  BodiceFigures<T> figures;
};

template <typename T>
Bodice<T> draft_bodice(const Frame& frame, const BodiceValues<T>& v);

}  // namespace easewright

#include "model/garment/bodice_draft.h"
