#pragma once
// min, max and abs whose slope never jumps. Each differs from the exact one by at most kSmoothCm /
// 2, far below anything that can be cut, and has a derivative everywhere; one jump in a Jacobian
// costs the solver its convergence.

#include <cmath>

namespace easewright::geometry {

/// 0.01 mm: the width over which a corner is rounded.
inline constexpr double kSmoothCm = 1e-3;
/// Below this two points are one: keeps a square root's slope finite where they meet.
inline constexpr double kTinyCm = 1e-6;

template <typename T>
T smooth_abs(const T& x) {
  using std::sqrt;
  return sqrt(x * x + kSmoothCm * kSmoothCm);
}

template <typename T>
T smooth_max(const T& a, const T& b) {
  return 0.5 * (a + b + smooth_abs(T(a - b)));
}

template <typename T>
T smooth_min(const T& a, const T& b) {
  return 0.5 * (a + b - smooth_abs(T(a - b)));
}

}  // namespace easewright::geometry
