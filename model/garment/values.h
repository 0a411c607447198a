#pragma once
// The draft values: the unknowns that the solver sets. Lengths cm, angles rad. A half pattern piece
// lies with its centre line at x = 0 and its waist at y = 0, y upwards.

#include "model/units.h"

#include <array>
#include <optional>
#include <string_view>

namespace easewright {

// clang-format off
// EASEWRIGHT_DRAFT_VALUES(X): X(identifier, "id", dimension, definition)
#define EASEWRIGHT_DRAFT_VALUES(X)                                                                                   \
  X(neckline_depth, "neckline.depth", kLength, "front neckline at the centre, below the front neck point")           \
  X(neckline_back_depth, "neckline.back_depth", kLength, "back neckline at the centre, below the back neck point")   \
  X(neckline_taken, "neckline.taken", kLength, "length that stay tape draws up in each half of the front neckline")  \
  X(strap_inset, "strap.inset", kLength, "along the shoulder, from the side neck point to the strap's inner edge")   \
  X(strap_width, "strap.width", kLength, "finished width of the strap at the shoulder seam")                         \
  X(strap_ease, "strap.ease", kLength, "length of the garment over the shoulder beyond the body's, front and back")  \
  X(strap_slope, "strap.slope", kAngle, "slope of the shoulder seam below the level")                                \
  X(armhole_drop, "armhole.drop", kLength, "underarm of the garment below the armpit")                               \
  X(armhole_front_edge, "armhole.front_edge", kLength, "centre front to the armhole edge at the front notch")        \
  X(armhole_back_edge, "armhole.back_edge", kLength, "centre back to the armhole edge at the back notch")            \
  X(armhole_taken, "armhole.taken", kLength, "length eased into the lining along each front armhole")                \
  X(bodice_front_underarm, "bodice.front_underarm", kLength, "half front at the underarm, side panel upright")       \
  X(bodice_back_underarm, "bodice.back_underarm", kLength, "half back at the underarm, side panel upright")          \
  X(bodice_front_waist, "bodice.front_waist", kLength, "half front at the waist, side panel upright, shaping closed") \
  X(bodice_back_waist, "bodice.back_waist", kLength, "half back at the waist, side panel upright, shaping closed")   \
  X(bodice_blouson, "bodice.blouson", kLength, "length ease all round above the waist seam, below the bust")         \
  X(bodice_centre_front, "bodice.centre_front", kLength, "waist line raised (+) or dropped (-) at the centre front") \
  X(shaping_neck, "shaping.neck", kAngle, "share of the bust angle left in the neckline")                            \
  X(shaping_armhole, "shaping.armhole", kAngle, "share of the bust angle left in the armhole")                       \
  X(shaping_side, "shaping.side", kAngle, "share of the bust angle sewn as a side dart")                             \
  X(shaping_dart_drop, "shaping.dart_drop", kLength, "side dart below the underarm, along the side seam")            \
  X(blade_neck, "blade.neck", kAngle, "share of the blade angle left in the back neckline")                          \
  X(blade_shoulder, "blade.shoulder", kAngle, "share of the blade angle eased into the strap seam")                  \
  X(blade_armhole, "blade.armhole", kAngle, "share of the blade angle left in the back armhole")                     \
  X(elastic_length, "elastic.length", kLength, "cut length of the waist elastic between its joins")                  \
  X(casing_width, "casing.width", kLength, "finished inner width of the casing")                                     \
  X(casing_allowance, "casing.allowance", kLength, "seam allowance at the waist that forms the casing")              \
  X(skirt_length, "skirt.length", kLength, "waist seam to hem at the side")                                          \
  X(skirt_back_width, "skirt.back_width", kLength, "half back panel at hip level, centre back to side seam")         \
  X(skirt_front_width, "skirt.front_width", kLength, "front panel at hip level, free edge to side seam")             \
  X(skirt_overlap, "skirt.overlap", kLength, "width by which the two front panels lie over each other")              \
  X(skirt_flare, "skirt.flare", kLength, "spread of each side seam edge at the hem beyond the hip")                  \
  X(skirt_front_rise, "skirt.front_rise", kLength, "waist edge at the centre front above (+) the side's level")      \
  X(skirt_back_rise, "skirt.back_rise", kLength, "waist edge at the centre back above (+) the side's level")         \
  X(slit_start, "slit.start", kLength, "where the free edges begin to curve away, below the waist")                  \
  X(slit_run_in, "slit.run_in", kLength, "how far each free edge has curved away at the hem")                        \
  X(slit_catch, "slit.catch", kLength, "bar tack: the overlap is caught together down to here, below the waist")     \
  X(hem_turn, "hem.turn", kLength, "depth of the turned hem")                                                        \
  X(belt_length, "belt.length", kLength, "finished length of the tie belt")                                          \
  X(belt_width, "belt.width", kLength, "finished width of the tie belt")
// clang-format on

enum class ValueKey {
#define EASEWRIGHT_X(name, ...) name,
  EASEWRIGHT_DRAFT_VALUES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kValueKeys = static_cast<int>(ValueKey::count);

struct ValueInfo {
  std::string_view id;
  Dimension dimension;
  std::string_view definition;
};

const ValueInfo& info(ValueKey key);

template <typename T>
struct Values {
  std::array<T, kValueKeys> at;
  T& operator[](ValueKey key) { return at[static_cast<size_t>(key)]; }
  const T& operator[](ValueKey key) const { return at[static_cast<size_t>(key)]; }
};

}  // namespace easewright
