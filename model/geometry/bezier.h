#pragma once
// A cubic Bezier curve over a scalar, and integrals along it by Gauss-Legendre.

#include "model/geometry/vec2.h"

#include <array>

namespace easewright::geometry {

/// Nodes and weights on [0, 1]. Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4
/// (n = 8).
inline constexpr int kGaussPoints = 8;
inline constexpr std::array<double, kGaussPoints> kGaussNode = {0.0198550717512319,
                                                                0.1016667612931866,
                                                                0.2372337950418355,
                                                                0.4082826787521751,
                                                                0.5917173212478249,
                                                                0.7627662049581645,
                                                                0.8983332387068134,
                                                                0.9801449282487681};
inline constexpr std::array<double, kGaussPoints> kGaussWeight = {0.0506142681451881,
                                                                  0.1111905172266872,
                                                                  0.1568533229389436,
                                                                  0.1813418916891810,
                                                                  0.1813418916891810,
                                                                  0.1568533229389436,
                                                                  0.1111905172266872,
                                                                  0.0506142681451881};

template <typename T>
struct Bezier {
  Vec2<T> p0, p1, p2, p3;

  Vec2<T> at(double t) const {
    const double u = 1 - t;
    const double b0 = u * u * u, b1 = 3 * u * u * t, b2 = 3 * u * t * t, b3 = t * t * t;
    return {b0 * p0.x + b1 * p1.x + b2 * p2.x + b3 * p3.x,
            b0 * p0.y + b1 * p1.y + b2 * p2.y + b3 * p3.y};
  }

  /// d(point)/dt.
  Vec2<T> tangent(double t) const {
    const double u = 1 - t;
    const double b0 = -3 * u * u, b1 = 3 * u * (u - 2 * t), b2 = 3 * t * (2 * u - t),
                 b3 = 3 * t * t;
    return {b0 * p0.x + b1 * p1.x + b2 * p2.x + b3 * p3.x,
            b0 * p0.y + b1 * p1.y + b2 * p2.y + b3 * p3.y};
  }
};

/// From a to b, leaving a along start and reaching b along end (unit vectors), with given handle
/// lengths.
template <typename T>
Bezier<T> curve_between(const Vec2<T>& a,
                        const Vec2<T>& start,
                        const T& start_handle,
                        const Vec2<T>& end,
                        const T& end_handle,
                        const Vec2<T>& b) {
  return {a, a + start_handle * start, b - end_handle * end, b};
}

/// The straight line as a cubic.
template <typename T>
Bezier<T> straight(const Vec2<T>& a, const Vec2<T>& b) {
  const Vec2<T> third = T(1.0 / 3) * (b - a);
  return {a, a + third, b - third, b};
}

template <typename T>
T arc_length(const Bezier<T>& curve) {
  T sum(0.0);
  for (int i = 0; i < kGaussPoints; ++i) {
    sum += kGaussWeight[static_cast<size_t>(i)] *
           length(curve.tangent(kGaussNode[static_cast<size_t>(i)]));
  }
  return sum;
}

/// Integrals of the squared unit tangent's parts along a curve: what strain across, along and on
/// the bias adds.
template <typename T>
struct Directions {
  T across{};  ///< integral of tx^2 ds
  T along{};   ///< integral of ty^2 ds
  T bias{};    ///< integral of 4 tx^2 ty^2 ds
  T total{};   ///< the arc length

  friend Directions operator+(const Directions& a, const Directions& b) {
    return {a.across + b.across, a.along + b.along, a.bias + b.bias, a.total + b.total};
  }
};

template <typename T>
Directions<T> directions(const Bezier<T>& curve) {
  Directions<T> sum{T(0.0), T(0.0), T(0.0), T(0.0)};
  for (int i = 0; i < kGaussPoints; ++i) {
    const Vec2<T> d = curve.tangent(kGaussNode[static_cast<size_t>(i)]);
    const T s = length(d);
    const double w = kGaussWeight[static_cast<size_t>(i)];
    const T inverse = w / s;
    const T xx = d.x * d.x * inverse;  // w tx^2 ds
    const T yy = d.y * d.y * inverse;
    sum.total += w * s;
    sum.across += xx;
    sum.along += yy;
    sum.bias += 4.0 / w * xx * yy / s;
  }
  return sum;
}

}  // namespace easewright::geometry
