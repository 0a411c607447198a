#pragma once
// Bodies for the tests of complete(): the cutter's sample, and parts of a body.

#include "model/body/estimate.h"
#include "shipped_body_tables.h"

#include <utility>
#include <vector>

namespace easewright {

inline BodyValue taped(BodyKey key, double value) {
  return {.value = value, .sd = info(key).default_sd, .origin = Origin::measured};
}

/// The body with these measures only.
inline Body keeping(const Body& body, const std::vector<BodyKey>& keys) {
  Body result = body;
  result.given.fill(std::nullopt);
  for (const BodyKey key : keys) result[key] = body[key];
  return result;
}

/// The cutter's sample: level ISO, slope of the silhouette.
inline Body cutters_sample() {
  using B = BodyKey;
  Body body;
  body.label = "alto 2";
  body.waist_level = WaistLevel::iso;
  const std::pair<BodyKey, double> tapes[] = {{B::bust_girth, 92},
                                              {B::underbust_girth, 78},
                                              {B::upper_chest_girth, 88},
                                              {B::waist_girth, 74},
                                              {B::hip_girth, 98},
                                              {B::back_waist_length, 41},
                                              {B::front_over_bust, 43.5},
                                              {B::shoulder_length, 12.5},
                                              {B::stature, 163}};
  for (const auto& [key, value] : tapes) body[key] = taped(key, value);
  body[B::shoulder_slope] = taped(B::shoulder_slope, radians(21));
  return body;
}

inline Completed completed(const Body& body, WaistLevel to) {
  return complete(body, to, shipped_body_tables());
}

}  // namespace easewright
