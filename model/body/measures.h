#pragma once
// The catalogue of body measures, by their ISO 8559-1:2017 names where the standard has one (terms as
// commonly quoted; the standard's text was not at hand). Lengths in cm, angles in rad, age in years.

#include <optional>
#include <string_view>

#include "model/units.h"

namespace easewright {

// clang-format off
// EASEWRIGHT_BODY_MEASURES(X): X(id, dimension, default tape s.d., least allowed, most allowed, definition)
// Limits are those outside which a value is refused; what is merely unlikely is a warning, from the tables.
// Error classes: trade practice, home tape: girth 1.0, length or width 0.5 (taken as 2 s.d. of 0.5 and 0.25),
// slope 3 deg; ISO 20685 asks 9, 5 and 4 mm of experts.
#define EASEWRIGHT_BODY_MEASURES(X)                                                                              \
  X(stature, kLength, 0.5, 70, 215, "vertical, crown of the head to the floor, standing")                        \
  X(head_girth, kLength, 0.5, 40, 70, "largest girth of the head, above the brows, hair included")               \
  X(neck_girth, kLength, 0.5, 20, 60, "just below the larynx, square to the neck")                               \
  X(neck_base_girth, kLength, 0.5, 22, 62, "through the back, side and front neck points")                       \
  X(shoulder_girth, kLength, 0.5, 55, 180, "level, over both upper arms, arms hanging")                          \
  X(upper_chest_girth, kLength, 0.5, 45, 175, "tape slanting: under the arms, above the bust, over the blades")  \
  X(bust_girth, kLength, 0.5, 45, 180, "level, over the bust points (men: over the nipples)")                    \
  X(underbust_girth, kLength, 0.5, 42, 175, "level, where the bust meets the ribs")                              \
  X(waist_girth, kLength, 0.5, 40, 180, "level, at the waist level that the body file names")                    \
  X(hip_girth, kLength, 0.5, 45, 190, "level, at the greatest projection of the buttocks")                       \
  X(thigh_girth, kLength, 0.5, 25, 110, "level, just below the gluteal fold")                                    \
  X(knee_girth, kLength, 0.5, 20, 75, "level, at the middle of the kneecap")                                     \
  X(calf_girth, kLength, 0.5, 15, 70, "level, largest girth of the calf")                                        \
  X(ankle_girth, kLength, 0.5, 10, 45, "least girth of the leg above the ankle bone")                            \
  X(armscye_girth, kLength, 0.5, 18, 75, "over the shoulder point and under the armpit, arm hanging")            \
  X(upper_arm_girth, kLength, 0.5, 12, 65, "around the upper arm at armpit level, arm relaxed")                  \
  X(back_waist_length, kLength, 0.25, 18, 65, "back neck point down the spine to the waist")                     \
  X(front_waist_length, kLength, 0.25, 15, 62, "front neck point down the centre front to the waist")            \
  X(front_over_bust, kLength, 0.25, 18, 70, "side neck point over the bust point to the waist")                  \
  X(side_neck_to_bust_point, kLength, 0.25, 12, 45, "side neck point to bust point, over the surface")           \
  X(bust_point_width, kLength, 0.25, 8, 40, "bust point to bust point, straight")                                \
  X(scye_depth, kLength, 0.25, 9, 35, "back neck point down the spine to the level of the armpits")              \
  X(shoulder_length, kLength, 0.25, 5, 22, "side neck point to shoulder point")                                  \
  X(shoulder_slope, kAngle, 0.0262, 0, 0.79, "shoulder line below the level, as a garment's shoulder runs")      \
  X(across_front, kLength, 0.25, 16, 60, "between the front armpit creases, over the surface")                   \
  X(across_back, kLength, 0.25, 18, 65, "between the back armpit creases, over the surface")                     \
  X(back_reach, kLength, 0.5, 0, 20, "growth of the across-back measure when the arms come forward")             \
  X(waist_height, kLength, 0.5, 35, 150, "waist to floor at the side")                                           \
  X(waist_height_front, kLength, 0.5, 35, 150, "waist to floor at the centre front, over the belly")             \
  X(waist_height_back, kLength, 0.5, 35, 150, "waist to floor at the centre back, over the seat")                \
  X(hip_height, kLength, 0.5, 25, 125, "level of the greatest projection of the buttocks to the floor")          \
  X(gluteal_fold_height, kLength, 0.5, 22, 115, "fold under the buttock to the floor")                           \
  X(crotch_height, kLength, 0.5, 22, 115, "crotch to the floor")                                                 \
  X(knee_height, kLength, 0.5, 12, 75, "middle of the kneecap to the floor")                                     \
  X(calf_height, kLength, 0.5, 8, 60, "level of the largest calf to the floor")                                  \
  X(trochanter_height, kLength, 0.5, 25, 125, "hip joint (trochanter) to the floor")                             \
  X(armpit_height, kLength, 0.5, 45, 175, "front armpit fold to the floor")                                      \
  X(bust_height, kLength, 0.5, 40, 170, "bust point to the floor")                                               \
  X(bust_breadth, kLength, 0.5, 12, 60, "straight breadth of the chest at bust level")                           \
  X(bust_depth, kLength, 0.5, 8, 55, "straight depth of the chest at bust level")                                \
  X(hip_breadth, kLength, 0.5, 15, 75, "straight breadth at hip level, standing")                                \
  X(hip_depth, kLength, 0.5, 8, 70, "straight depth at hip level, standing")                                     \
  X(hip_breadth_sitting, kLength, 0.5, 15, 85, "straight breadth of the hips, seated")                           \
  X(waist_height_sitting, kLength, 0.5, 10, 50, "waist above the seat, seated")                                  \
  X(thigh_clearance_sitting, kLength, 0.5, 5, 35, "top of the thigh above the seat, seated")                     \
  X(abdominal_depth_sitting, kLength, 0.5, 8, 70, "back plane to the front of the belly, seated")                \
  X(buttock_knee_length, kLength, 0.5, 25, 85, "back plane to the front of the kneecap, seated")                 \
  X(underwear_strap_width, kLength, 0.1, 0, 6, "width of the underwear strap that the strap has to hide")        \
  X(bust_angle, kAngle, 0.0524, 0, 0.79, "angle that a flat front has to lose around the bust point")            \
  X(blade_angle, kAngle, 0.0524, 0, 0.52, "angle that a flat back has to lose around the shoulder blade")        \
  X(age, kTime, 0, 1, 120, "age in years")
// clang-format on

enum class BodyKey {
#define EASEWRIGHT_X(id, ...) id,
  EASEWRIGHT_BODY_MEASURES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kBodyKeys = static_cast<int>(BodyKey::count);

struct BodyMeasureInfo {
  std::string_view id;  ///< 'bust_girth'; spoken('bust_girth') is what a file says
  Dimension dimension;
  double default_sd;  ///< 1 s.d. of a home tape
  double least;       ///< refused below
  double most;        ///< refused above
  std::string_view definition;
};

const BodyMeasureInfo& info(BodyKey key);

/// By id ('bust_girth') or spoken name ('bust girth'); nothing when unknown.
std::optional<BodyKey> find_body_key(std::string_view name);

}  // namespace easewright
