#pragma once
// The body as the draft sees it: levels and points of a half piece, with its centre line at x = 0,
// its waist at y = 0 and y upwards, in cm, before any ease. Plain numbers, worked out once a body.

#include "model/body/body.h"
#include "model/cloth.h"
#include "model/garment/smooth_table.h"
#include "model/style.h"

namespace easewright {

enum class NecklineShape { v, round, square };

struct Frame {
  CompleteBody body;
  Cloth cloth;
  Switches switches;

  NecklineShape neckline = NecklineShape::v;
  bool lined = true, taped = true, elastic_waist = true, skirt = true, wrapped = true,
       slit_sewn = false, belt = true;

  double theta = 0;          ///< bust angle on this cloth, rad: stretch eats angle
  double beta = 0;           ///< blade angle, rad
  double neck_half = 0;      ///< half width of the neck at its base
  double neck_depth = 0;     ///< side neck point down to the front neck point, on the piece
  double neck_rise = 0;      ///< back neck point up to the side neck point, on the piece
  double bust_x = 0;         ///< centre to bust point
  double bust_y = 0;         ///< bust point above the waist, front, without ease
  double front_neck_y = 0;   ///< side neck point above the waist, front, without ease
  double back_neck_y = 0;    ///< back neck point above the waist
  double blade_x = 0;        ///< shoulder blade, from the centre back
  double blade_below = 0;    ///< shoulder blade below the back neck point
  double armpit_y = 0;       ///< armpit above the waist at the side, its shift included
  double armpit_shift = 0;   ///< so much lower (+) than the scye depth says, for the armscye's sake
  double armscye_gap = 0;    ///< armhole girth of a bare draft on the scye depth, less the armscye
  double balance_shift = 0;  ///< front raised (+) by so much above its side panel, and as much
                             ///< taken at the centre waist
  double underbust_drop = 0;  ///< underbust level below the bust point
  double contour = 1;  ///< published contour allowances are for a standard figure: times this
  double need = 0;     ///< girth that has to pass when dressing over the head
  double passes_waist =
      0;  ///< girth that passes the waist this way in: need, or hip + 2 stepped into

  // Levels of the skirt, below the waist.
  double hip_y = 0, fold_y = 0, crotch_y = 0, knee_y = 0, mid_thigh_y = 0;
  double lap_y = 0, lap_end_y = 0, seated_knee_y = 0;
  double step = 0;        ///< full step, heel to heel
  SmoothTable leg_girth;  ///< girth of one leg against the height above the floor

  double waist() const { return body[BodyKey::waist_girth]; }
};

/// Back armhole depth less front. Published blocks have 2.6 and 3.8 (from memory of Bunka and
/// Aldrich, derived), women 3.4 with s.d. 2.0; kept inside these limits.
inline constexpr double kBalanceLeast = 1.5;
inline constexpr double kBalanceMost = 4.5;

/// Works the frame out. body must be complete, its waist at the garment's level.
/// Two lengths can't both be right when the armscye does not agree with scye depth and widths: one
/// constant a body shifts the underarm, so that a draft with the full shoulder, no drop and no ease
/// has the body's own armscye girth.
Frame frame_of(const CompleteBody& body, const Cloth& cloth, const Switches& switches);

/// The girth that has to pass raised arms, shoulders and bust. Common practice; cross-checked in
/// tests against an ellipse of shoulder breadth by chest depth over the open survey.
double dressing_need(double bust_girth, double shoulder_girth);

/// Girth that a hem needs for a full step: legs hinged at the hip joint, a taut loop round both
/// (Murray, Kory & Sepic 1970 for the step). height: of the hem above the floor; leg: girth of one
/// leg there. All cm.
double walking_girth(double height, double leg, double step, double hip_joint_height);

/// Contour allowance of a front neckline, cm a side, of a standard figure: 0.6 above the bust
/// level, towards 1.9 past it (a published teaching block); smooth, and never falling as the edge
/// deepens. tau: depth over the distance from front neck point to bust level.
template <typename T>
T neckline_contour(const T& tau) {
  using std::sqrt;
  const T z = 6.0 * (tau - 0.9);
  return 0.6 * std::sqrt(2.0) * tau / sqrt(1.0 + tau * tau) + 0.65 * (1.0 + z / sqrt(1.0 + z * z));
}

}  // namespace easewright
