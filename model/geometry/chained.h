#pragma once
// Integrals along a curve for wide jets, by the chain rule: an integral depends on the eight
// coordinates of the control points alone, so it is differentiated by those (jets of width 8) and
// then carried on to the many unknowns behind them. The result is the same; the work of a curve
// falls to about a third. Include where the jets are, in .cc files.

#include "model/geometry/bezier.h"

#include <ceres/jet.h>

namespace easewright::geometry {
namespace chained {

using Inner = ceres::Jet<double, 8>;

template <int N>
Bezier<Inner> seed(const Bezier<ceres::Jet<double, N>>& c) {
  return {{Inner(c.p0.x.a, 0), Inner(c.p0.y.a, 1)},
          {Inner(c.p1.x.a, 2), Inner(c.p1.y.a, 3)},
          {Inner(c.p2.x.a, 4), Inner(c.p2.y.a, 5)},
          {Inner(c.p3.x.a, 6), Inner(c.p3.y.a, 7)}};
}

template <int N>
ceres::Jet<double, N> carry(const Inner& inner, const Bezier<ceres::Jet<double, N>>& c) {
  ceres::Jet<double, N> result(inner.a);
  result.v = inner.v[0] * c.p0.x.v + inner.v[1] * c.p0.y.v + inner.v[2] * c.p1.x.v +
             inner.v[3] * c.p1.y.v + inner.v[4] * c.p2.x.v + inner.v[5] * c.p2.y.v +
             inner.v[6] * c.p3.x.v + inner.v[7] * c.p3.y.v;
  return result;
}

}  // namespace chained

template <int N>
requires(N > 8) ceres::Jet<double, N> arc_length(const Bezier<ceres::Jet<double, N>>& curve) {
  return chained::carry(arc_length(chained::seed(curve)), curve);
}

template <int N>
requires(N > 8)
    Directions<ceres::Jet<double, N>> directions(const Bezier<ceres::Jet<double, N>>& curve) {
  const Directions<chained::Inner> d = directions(chained::seed(curve));
  return {chained::carry(d.across, curve),
          chained::carry(d.along, curve),
          chained::carry(d.bias, curve),
          chained::carry(d.total, curve)};
}

}  // namespace easewright::geometry
