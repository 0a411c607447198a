#pragma once
// The measures: quantities computed from the draft values, the body and the cloth. Girths are
// whole, 'front' and 'back' of a symmetric piece are halves, slack is per side. The draft values
// are measures too, by their own ids.

#include "model/units.h"

#include <array>
#include <string_view>

namespace easewright {

// clang-format off
// EASEWRIGHT_MEASURES(X): X(identifier, "id", dimension, definition)
#define EASEWRIGHT_MEASURES(X)                                                                                        \
  X(neckline_edge, "neckline.edge", kLength, "whole neck edge, finished, stay tape counted")                          \
  X(neckline_front, "neckline.front", kLength, "half front neck edge, centre front to strap")                         \
  X(neckline_back, "neckline.back", kLength, "half back neck edge, centre back to strap")                             \
  X(neckline_half_width, "neckline.half_width", kLength, "centre to the strap's inner edge, level")                   \
  X(neckline_above_bust, "neckline.above_bust", kLength, "bottom of the front neckline above the bust level")         \
  X(neckline_back_above_band, "neckline.back_above_band", kLength, "bottom of the back neckline above the underbust") \
  X(neckline_depth_sum, "neckline.depth_sum", kLength, "front and back neckline depth together")                      \
  X(neckline_strap_angle, "neckline.strap_angle", kAngle, "front neck edge against the strap seam")                   \
  X(neckline_slack, "neckline.slack", kLength, "slack of the front neckline, each side")                              \
  X(neckline_slack_shaping, "neckline.slack_shaping", kLength, "of it from bust shaping left in the edge")            \
  X(neckline_slack_width, "neckline.slack_width", kLength, "of it from width ease up there")                          \
  X(neckline_slack_length, "neckline.slack_length", kLength, "of it from length ease over the shoulder")              \
  X(neckline_slack_bias, "neckline.slack_bias", kLength, "of it from bias growth")                                    \
  X(neckline_slack_contour, "neckline.slack_contour", kLength, "of it from running over the hollow (contour)")        \
  X(neckline_slack_leaning, "neckline.slack_leaning", kLength, "slack of the front neckline when leaning forward")    \
  X(neckline_back_slack, "neckline.back_slack", kLength, "slack of the back neckline, each side")                     \
  X(strap_outer, "strap.outer", kLength, "along the shoulder, side neck point to the strap's outer edge")             \
  X(strap_cut_in, "strap.cut_in", kLength, "strap's outer edge inside the shoulder point")                            \
  X(strap_centre, "strap.centre", kLength, "centre line to the middle of the strap, level")                           \
  X(strap_centre_share, "strap.centre_share", kRatio, "where the strap's middle lies: 0 neck point, 1 shoulder point") \
  X(strap_off_bust_line, "strap.off_bust_line", kLength, "middle of the strap outside (+) the line over the bust point") \
  X(strap_hides, "strap.hides", kLength, "strap beyond each edge of the underwear strap")                             \
  X(strap_lean, "strap.lean", kAngle, "direction of the strap at the back, inward from plumb")                        \
  X(strap_slope_over, "strap.slope_over", kAngle, "shoulder seam steeper (+) than the body's")                        \
  X(strap_turns, "strap.turns", kLength, "strap wider (+) than what one whole back needs to be turned through it")    \
  X(strap_turns_half, "strap.turns_half", kLength, "the same with an open centre back seam")                          \
  X(armhole_girth, "armhole.girth", kLength, "whole armhole edge, sewn")                                              \
  X(armhole_front, "armhole.front", kLength, "front armhole edge, strap to underarm")                                 \
  X(armhole_back, "armhole.back", kLength, "back armhole edge, strap to underarm")                                    \
  X(armhole_ease, "armhole.ease", kLength, "armhole girth beyond the armscye and the girth that a cut-in strap adds") \
  X(armhole_front_depth, "armhole.front_depth", kLength, "side neck point down to the front underarm, on the piece")  \
  X(armhole_back_depth, "armhole.back_depth", kLength, "side neck point down to the back underarm, on the piece")     \
  X(armhole_balance, "armhole.balance", kLength, "back armhole depth less front")                                     \
  X(armhole_front_inside, "armhole.front_inside", kLength, "front edge inside the arm crease at the notch")           \
  X(armhole_back_inside, "armhole.back_inside", kLength, "back edge inside the arm crease at the notch")              \
  X(armhole_reach, "armhole.reach", kLength, "room left at the back edge when the arms come forward")                 \
  X(armhole_front_run, "armhole.front_run", kLength, "front underarm outside the front notch")                        \
  X(armhole_back_run, "armhole.back_run", kLength, "back underarm outside the back notch")                            \
  X(armhole_slack, "armhole.slack", kLength, "slack of the front armhole, each side")                                 \
  X(armhole_slack_shaping, "armhole.slack_shaping", kLength, "of it from bust shaping left in the edge")              \
  X(armhole_slack_width, "armhole.slack_width", kLength, "of it from width ease up there")                            \
  X(armhole_slack_length, "armhole.slack_length", kLength, "of it from length ease over the shoulder")                \
  X(armhole_slack_bias, "armhole.slack_bias", kLength, "of it from bias growth")                                      \
  X(armhole_slack_contour, "armhole.slack_contour", kLength, "of it from running over the hollow (contour)")          \
  X(armhole_back_slack, "armhole.back_slack", kLength, "slack of the back armhole, each side")                        \
  X(bodice_bust, "bodice.bust", kLength, "girth at bust point level")                                                 \
  X(bodice_bust_ease, "bodice.bust_ease", kLength, "girth at bust point level beyond the body's")                     \
  X(bodice_underarm, "bodice.underarm", kLength, "girth at the underarm")                                             \
  X(bodice_underbust, "bodice.underbust", kLength, "flat girth at under-bust level, shaping open")                    \
  X(bodice_underbust_ease, "bodice.underbust_ease", kLength, "flat girth at under-bust level beyond the body's")      \
  X(bodice_waist, "bodice.waist", kLength, "whole flat waist seam of the bodice")                                     \
  X(bodice_waist_front, "bodice.waist_front", kLength, "half front waist edge, flat")                                 \
  X(bodice_waist_back, "bodice.waist_back", kLength, "half back waist edge, flat")                                    \
  X(bodice_waist_ease, "bodice.waist_ease", kLength, "flat waist seam beyond the body's waist")                       \
  X(bodice_side, "bodice.side", kLength, "side seam, underarm to waist seam, sewn")                                   \
  X(bodice_side_mismatch, "bodice.side_mismatch", kLength, "slant of the front side seam less the back's")            \
  X(bodice_side_slant, "bodice.side_slant", kLength, "underarm half width less waist half width, mean of both")       \
  X(bodice_balance, "bodice.balance", kLength, "front waist line correction that the body's balance asks")            \
  X(shaping_total, "shaping.total", kAngle, "the bust angle that the flat front has to lose")                         \
  X(shaping_waist, "shaping.waist", kAngle, "share of the bust angle gathered into the waist")                        \
  X(shaping_waist_width, "shaping.waist_width", kLength, "width that the waist share adds to each half front")        \
  X(shaping_side_width, "shaping.side_width", kLength, "width of the side dart at the seam")                          \
  X(shaping_dart_above_waist, "shaping.dart_above_waist", kLength, "side dart above the waist seam, along the seam")  \
  X(shaping_dart_tilt, "shaping.dart_tilt", kAngle, "axis of the side dart from the level, rising to the bust point") \
  X(blade_waist, "blade.waist", kAngle, "share of the blade angle left for the waist")                                \
  X(blade_shoulder_ratio, "blade.shoulder_ratio", kRatio, "eased length over the length of the strap seam")           \
  X(blade_armhole_length, "blade.armhole_length", kLength, "blade shaping left in the back armhole, as a length")     \
  X(dressing_need, "dressing.need", kLength, "largest girth that has to pass when dressing over the head")            \
  X(dressing_elastic, "dressing.elastic", kLength, "girth of the elastic at 70 % of its usable extension")            \
  X(dressing_strain, "dressing.strain", kRatio, "strain of the elastic at the girth that has to pass")                \
  X(elastic_tightening, "elastic.tightening", kRatio, "how much shorter the elastic is than the waist, once grown")   \
  X(elastic_front, "elastic.front", kLength, "front part of the elastic, side seam to side seam")                     \
  X(elastic_back, "elastic.back", kLength, "back part of the elastic")                                                \
  X(elastic_pressure, "elastic.pressure", kRatio, "pressure under the elastic in kPa, scaled from published belts")   \
  X(gather_ratio, "gather.ratio", kRatio, "flat waist seam over the elastic as worn")                                 \
  X(gather_front_ratio, "gather.front_ratio", kRatio, "flat front waist over the front elastic as worn")              \
  X(casing_play, "casing.play", kLength, "casing wider than its elastic")                                             \
  X(casing_spare, "casing.spare", kLength, "waist allowance beyond elastic, play, stitching and finished edge")       \
  X(casing_opening, "casing.opening", kLength, "gap left in the casing's seam to thread the elastic, closed last")    \
  X(skirt_hip, "skirt.hip", kLength, "girth of the skirt at hip level, overlap closed")                               \
  X(skirt_hip_ease, "skirt.hip_ease", kLength, "girth of the skirt at hip level beyond the hip")                      \
  X(skirt_front_across, "skirt.front_across", kLength, "both fronts side seam to side seam, finished, overlap closed")    \
  X(skirt_waist, "skirt.waist", kLength, "whole flat waist edge of the skirt, overlap closed")                        \
  X(skirt_waist_mismatch, "skirt.waist_mismatch", kLength, "skirt waist edge beyond the bodice waist seam")           \
  X(skirt_hem, "skirt.hem", kLength, "girth of the skirt at the hem, overlap closed")                                 \
  X(skirt_clearance, "skirt.clearance", kLength, "hem above the floor at the side, before shoes")                     \
  X(skirt_seated_drop, "skirt.seated_drop", kLength, "seated, front hem lower on the shin; the back rises by 4 to 8") \
  X(skirt_below_knee, "skirt.below_knee", kLength, "hem below the middle of the knee")                                \
  X(skirt_front_tilt, "skirt.front_tilt", kLength, "front waist edge less what the body's waist line asks")           \
  X(skirt_back_tilt, "skirt.back_tilt", kLength, "back waist edge less what the body's waist line asks")              \
  X(skirt_step_room, "skirt.step_room", kLength, "hem girth, opened overlap counted, beyond what a full step needs")  \
  X(skirt_panel_spare, "skirt.panel_spare", kLength, "usable cloth width beyond the widest panel, allowances counted") \
  X(skirt_overlap_share, "skirt.overlap_share", kRatio, "overlap over the hip girth")                                 \
  X(slit_opening, "slit.opening", kLength, "where the overlap really ends, below the waist, standing")                \
  X(slit_opening_above_knee, "slit.opening_above_knee", kLength, "real opening above the middle of the knee")         \
  X(slit_below_fold, "slit.below_fold", kLength, "real opening below the gluteal fold")                               \
  X(slit_below_crotch, "slit.below_crotch", kLength, "real opening below the crotch")                                 \
  X(slit_step_cover, "slit.step_cover", kLength, "least cover at a full step, from the waist to mid thigh")           \
  X(slit_seated_cover, "slit.seated_cover", kLength, "least cover beyond the crest of the other thigh, seated")       \
  X(slit_knee_cover, "slit.knee_cover", kLength, "cover at the knee, seated")                                         \
  X(slit_edge_radius, "slit.edge_radius", kLength, "radius of the free edge where its curve begins")                  \
  X(slit_edge_length, "slit.edge_length", kLength, "length of one free front edge, waist to hem")                     \
  X(hem_fullness, "hem.fullness", kRatio, "length that the turned hem has to lose over its edge")                     \
  X(hem_edge_fullness, "hem.edge_fullness", kRatio, "the same along the curved free edge")                            \
  X(belt_over_waist, "belt.over_waist", kLength, "belt beyond once round the worn waist")                             \
  X(belt_hang, "belt.hang", kLength, "end of the belt above the hem when tied in a bow")                              \
  X(belt_strips, "belt.strips", kRatio, "strips across the cloth that the belt takes")                                \
  X(belt_strip_width, "belt.strip_width", kLength, "width to which a strip is cut: both faces and two seams of 1 cm")
// clang-format on

enum class MeasureKey {
#define EASEWRIGHT_X(name, ...) name,
  EASEWRIGHT_MEASURES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kMeasureKeys = static_cast<int>(MeasureKey::count);

struct MeasureInfo {
  std::string_view id;
  Dimension dimension;
  std::string_view definition;
};

const MeasureInfo& info(MeasureKey key);

template <typename T>
struct Measures {
  std::array<T, kMeasureKeys> at;
  T& operator[](MeasureKey key) { return at[static_cast<size_t>(key)]; }
  const T& operator[](MeasureKey key) const { return at[static_cast<size_t>(key)]; }
};

}  // namespace easewright
