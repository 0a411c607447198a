#pragma once
// Units. Inside: centimetres, radians, plain ratios, years. Outside, converted at the edge only:
// cm, mm, m, in (with eighths), deg, %. A dimension is carried by every measure, so that a rule
// which adds an angle to a length is refused when it is read.

#include <string>
#include <string_view>

namespace easewright {

inline constexpr double kPi = 3.14159265358979323846;
inline constexpr double kCmPerInch = 2.54;

/// Power of length (cm), power of angle (rad), power of time (years). A ratio is all zero.
struct Dimension {
  int length = 0;
  int angle = 0;
  int time = 0;
  friend constexpr bool operator==(Dimension, Dimension) = default;
};
inline constexpr Dimension kRatio{};
inline constexpr Dimension kLength{1, 0, 0};
inline constexpr Dimension kAngle{0, 1, 0};
inline constexpr Dimension kTime{0, 0, 1};

/// "length", "angle", "ratio", "length^2" ...
std::string to_string(Dimension d);

constexpr double degrees(double rad) { return rad * 180 / kPi; }
constexpr double radians(double deg) { return deg * kPi / 180; }

/// 'neckline.back_depth' -> 'neckline back depth': what a user reads and types.
std::string spoken(std::string_view id);

}  // namespace easewright
