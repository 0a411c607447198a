#pragma once
// One person's measurements, as a file gives them (Body) and complete (CompleteBody).

#include "model/body/measures.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace easewright {

enum class Build { woman, man, child };

/// Below this a value is refused: no grown body has it. A child of two may have three quarters of
/// it.
inline double least_possible(BodyKey key, Build build) {
  return (build == Build::child ? 0.75 : 1.0) * info(key).least;
}

/// Where the waist was taken. Three levels that lie 4 to 7 cm apart in length.
enum class WaistLevel { natural, iso, navel };
inline constexpr int kWaistLevels = 3;

/// Whether a measure runs to the waist or round it, so that it has one value at each level.
constexpr bool depends_on_waist_level(BodyKey key) {
  switch (key) {
    case BodyKey::waist_girth:
    case BodyKey::back_waist_length:
    case BodyKey::front_waist_length:
    case BodyKey::front_over_bust:
    case BodyKey::waist_height:
    case BodyKey::waist_height_front:
    case BodyKey::waist_height_back:
    case BodyKey::waist_height_sitting:
      return true;
    default:
      return false;
  }
}

/// 'natural', 'iso', 'navel'.
constexpr std::string_view to_string(WaistLevel level) {
  return level == WaistLevel::natural ? "natural" : level == WaistLevel::iso ? "iso" : "navel";
}

/// What a shoulder slope was read from. A garment's shoulder is flatter than the bone (5.7 deg) and
/// than the silhouette (2.5 deg); 'garment' is taken as it stands.
enum class SlopeReading { bone, silhouette, garment };

/// `garment`: estimated like any other, but from what a garment that fits says of this very
/// measure.
enum class Origin { measured, converted, estimated, garment };

/// Whether a tape was laid on it.
constexpr bool is_taped(Origin origin) {
  return origin == Origin::measured || origin == Origin::converted;
}

struct BodyValue {
  double value = 0;
  double sd = 0;
  Origin origin = Origin::measured;
};

/// What something other than a tape says of a body: the sum of factor * measure is `value`, give or
/// take `sd`. Twice the hip width of a skirt that fits is the hip and its usual ease.
struct BodyEvidence {
  std::vector<std::pair<BodyKey, double>> terms;  ///< the first is the measure it is read for
  WaistLevel waist_level = WaistLevel::natural;   ///< of those terms that run to the waist
  double value = 0;
  double sd = 0;          ///< more than 0
  std::string from = {};  ///< the reading it comes from: 'hip width'
};

/// What is known. Keys that are absent are estimated by complete(). A value whose origin is
/// 'estimated' is kept but is no evidence for others; one that is 'converted' is evidence with its
/// s.d.
struct Body {
  std::string label;  ///< 'alto 2'
  Build build = Build::woman;
  WaistLevel waist_level = WaistLevel::natural;
  SlopeReading slope_reading = SlopeReading::silhouette;
  std::array<std::optional<BodyValue>, kBodyKeys> given;
  std::vector<BodyEvidence> evidence;  ///< joined with the tapes wherever the body is completed

  std::optional<BodyValue>& operator[](BodyKey key) { return given[static_cast<size_t>(key)]; }
  const std::optional<BodyValue>& operator[](BodyKey key) const {
    return given[static_cast<size_t>(key)];
  }
};

/// A complete body: every measure has a value, all waist measures at one level, the slope as a
/// garment's.
struct CompleteBody {
  std::string label;
  Build build = Build::woman;
  WaistLevel waist_level = WaistLevel::natural;
  std::array<BodyValue, kBodyKeys> values;

  double operator[](BodyKey key) const { return values[static_cast<size_t>(key)].value; }
  const BodyValue& at(BodyKey key) const { return values[static_cast<size_t>(key)]; }
  BodyValue& at(BodyKey key) { return values[static_cast<size_t>(key)]; }
};

/// The complete body as one that is given: each value keeps its s.d. and origin, the slope is a
/// garment's. complete() of it at the same level changes nothing.
Body as_given(const CompleteBody& body);

}  // namespace easewright
