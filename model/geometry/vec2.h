#pragma once
// A point or vector of the plane over a scalar (double or a jet). x to the right, y upwards, turns
// counter-clockwise.

#include "model/geometry/smooth.h"

#include <cmath>

namespace easewright::geometry {

template <typename T>
struct Vec2 {
  T x{};
  T y{};

  friend Vec2 operator+(const Vec2& a, const Vec2& b) { return {a.x + b.x, a.y + b.y}; }
  friend Vec2 operator-(const Vec2& a, const Vec2& b) { return {a.x - b.x, a.y - b.y}; }
  friend Vec2 operator*(const T& k, const Vec2& a) { return {k * a.x, k * a.y}; }
};

template <typename T>
T dot(const Vec2<T>& a, const Vec2<T>& b) {
  return a.x * b.x + a.y * b.y;
}

/// z of the cross product: > 0 when b lies counter-clockwise of a.
template <typename T>
T cross(const Vec2<T>& a, const Vec2<T>& b) {
  return a.x * b.y - a.y * b.x;
}

/// Length, smooth at zero (a bare square root has no slope there).
template <typename T>
T length(const Vec2<T>& a) {
  using std::sqrt;
  return sqrt(dot(a, a) + kTinyCm * kTinyCm);
}

template <typename T>
T distance(const Vec2<T>& a, const Vec2<T>& b) {
  return length(Vec2<T>(b - a));
}

/// A turn by an angle, its sine and cosine kept so that many points can share them.
template <typename T>
struct Turn {
  T c{};
  T s{};
  explicit Turn(const T& angle_rad) {
    using std::cos;
    using std::sin;
    c = cos(angle_rad);
    s = sin(angle_rad);
  }
  Vec2<T> vector(const Vec2<T>& v) const { return {c * v.x - s * v.y, s * v.x + c * v.y}; }
  Vec2<T> about(const Vec2<T>& pivot, const Vec2<T>& p) const { return pivot + vector(p - pivot); }
};

}  // namespace easewright::geometry
