#pragma once
// Slack of an edge: the length by which a garment's edge is longer than the body under it, with
// every term kept apart,
//
//   slack = integral (ex tx^2 + ey ty^2 + b 4 tx^2 ty^2) ds + r delta + contour - taken,
//
// t the unit tangent, ex and ey the width and length ease up there as strain, b the growth of the
// edge on the bias, r the distance from the bust point (or blade) to the edge, delta the share of
// its angle left there, all cm and rad.

#include "model/geometry/bezier.h"

namespace easewright {

template <typename T>
struct Slack {
  T shaping, width, length, bias, contour, taken;
  T total() const { return shaping + width + length + bias + contour - taken; }
};

/// Strains that act along an edge.
template <typename T>
struct Strains {
  T across;  ///< width ease over the width
  T along;   ///< length ease over the length
  T bias;    ///< growth on the true bias; 0 where the edge is stayed
};

template <typename T>
Slack<T> slack_of(const geometry::Directions<T>& edge,
                  const Strains<T>& strains,
                  const T& distance,
                  const T& share,
                  const T& contour,
                  const T& taken) {
  return {distance * share,
          strains.across * edge.across,
          strains.along * edge.along,
          strains.bias * edge.bias,
          contour,
          taken};
}

}  // namespace easewright
