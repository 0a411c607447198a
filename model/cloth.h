#pragma once
// What a garment is cut from. Ratios are plain numbers (5 % is 0.05), lengths cm.

#include "model/units.h"

#include <string>
#include <string_view>

namespace easewright {

// clang-format off
// EASEWRIGHT_CLOTH_FACTS(X): X(id, dimension, default, least, most, definition)
#define EASEWRIGHT_CLOTH_FACTS(X)                                                                                \
  X(width, kLength, 140, 20, 400, "usable width, selvedge to selvedge")                                          \
  X(thickness, kLength, 0.03, 0.002, 1, "thickness of one layer")                                                \
  X(lining_thickness, kLength, 0.02, 0, 1, "thickness of one layer of the lining; 0 when unlined")               \
  X(lining_width, kLength, 140, 20, 400, "usable width of the lining, between its selvedges")                    \
  X(stretch, kRatio, 0, 0, 2, "hand-test stretch across, 0 for a woven without elastane")                        \
  X(bias_growth, kRatio, 0.01, 0, 0.3, "growth of an edge cut on the bias, handled as the cutter handles it")    \
  X(shrinkage_length, kRatio, 0, 0, 0.2, "loss of length in the first wash; 0 when washed before cutting")       \
  X(shrinkage_width, kRatio, 0, 0, 0.2, "loss of width in the first wash; 0 when washed before cutting")         \
  X(repeat_length, kLength, 0, 0, 150, "repeat of the pattern along the cloth; 0 when plain")                    \
  X(repeat_width, kLength, 0, 0, 150, "repeat of the pattern across the cloth; 0 when plain")                    \
  X(gather_limit, kRatio, 2.0, 1, 4, "flat : finished length above which gathers turn bulky at a waist")         \
  X(elastic_width, kLength, 2.0, 0.3, 10, "width of the waist elastic")                                          \
  X(elastic_extension, kRatio, 0.8, 0.1, 2.5, "usable extension of the elastic; it is worked to 70 % of it")     \
  X(elastic_growth, kRatio, 0.04, 0, 0.2, "growth of the elastic in its first washes")
// clang-format on

struct Cloth {
  std::string label;
  bool nap = false;           ///< one way: all pieces lie the same way up
  bool leaves_holes = false;  ///< needle marks stay: nothing can be let out
#define EASEWRIGHT_X(id, dimension, value, ...) double id = value;
  EASEWRIGHT_CLOTH_FACTS(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};

struct ClothFactInfo {
  std::string_view id;
  Dimension dimension;
  double least, most;
  double Cloth::*member;
  std::string_view definition;
};

inline constexpr int kClothFacts = 14;
const ClothFactInfo& cloth_fact(int i);

}  // namespace easewright
