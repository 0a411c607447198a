#include "model/body/children.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace easewright {
namespace {

// European children's sizes by stature (from memory; shops' tables agree within 1 to 2 cm):
// stature, chest, waist, hip.
constexpr std::array<std::array<double, 4>, 8> kSizes = {{{86, 52, 50, 52},
                                                          {98, 54, 52, 56},
                                                          {110, 58, 54, 61},
                                                          {122, 62, 57, 67},
                                                          {134, 66, 60, 73},
                                                          {146, 73, 63, 79},
                                                          {158, 80, 67, 86},
                                                          {170, 86, 71, 92}}};

// Median stature of both sexes by age 1, 2, ... 18 (from memory of published growth charts), cm.
constexpr std::array<double, 18> kMedianStature = {
    75, 87, 95, 102, 109, 115.5, 122, 128, 133, 138.5, 144, 150, 156, 161, 165, 168, 169.5, 170};

// Straight lines through the rows, the first and last lines going on.
double size_at(double stature, size_t column) {
  size_t i = 1;
  while (i + 1 < kSizes.size() && stature > kSizes[i][0]) ++i;
  const double t = (stature - kSizes[i - 1][0]) / (kSizes[i][0] - kSizes[i - 1][0]);
  return kSizes[i - 1][column] + t * (kSizes[i][column] - kSizes[i - 1][column]);
}

enum class Kind { girth, length, height, other };

Kind kind_of(BodyKey key) {
  const std::string_view id = info(key).id;
  if (info(key).dimension != kLength) return Kind::other;
  if (key == BodyKey::stature || id.find("height") != std::string_view::npos) return Kind::height;
  return id.ends_with("girth") ? Kind::girth : Kind::length;
}

double growth_power(BodyKey key) {
  switch (key) {
    case BodyKey::head_girth:
      return 0.2;
    case BodyKey::neck_girth:
    case BodyKey::neck_base_girth:
      return 0.6;
    // Growth charts: mid-arm 17 at five years (from memory), against 30 of adults.
    case BodyKey::upper_arm_girth:
      return 1.4;
    // Children are slender in the limbs and hips.
    case BodyKey::thigh_girth:
    case BodyKey::hip_breadth:
    case BodyKey::hip_breadth_sitting:
    case BodyKey::thigh_clearance_sitting:
    case BodyKey::buttock_knee_length:
      return 1.2;
    // Legs grow longer than the trunk.
    case BodyKey::hip_height:
    case BodyKey::gluteal_fold_height:
    case BodyKey::crotch_height:
    case BodyKey::trochanter_height:
    case BodyKey::calf_height:
    case BodyKey::knee_height:
      return 1.1;
    default:
      return 1;
  }
}

constexpr double kAsInAdults = 0.8;  // share of the adults' correlations that is trusted; judgement

double relative_sd(Kind kind) {
  return kind == Kind::height ? 0.05 : kind == Kind::length ? 0.09 : 0.11;
}

}  // namespace

double child_stature(double age_years) {
  const double place = std::clamp(age_years, 1.0, 18.0) - 1;
  const auto i = std::min(static_cast<size_t>(place), kMedianStature.size() - 2);
  return kMedianStature[i] +
         (place - static_cast<double>(i)) * (kMedianStature[i + 1] - kMedianStature[i]);
}

double child_age(double stature_cm) {
  if (stature_cm <= kMedianStature.front()) return 1;
  for (size_t i = 1; i < kMedianStature.size(); ++i)
    if (stature_cm <= kMedianStature[i])
      return static_cast<double>(i) +
             (stature_cm - kMedianStature[i - 1]) / (kMedianStature[i] - kMedianStature[i - 1]);
  return 18;
}

Moments child_moments(const BodyTables& adults, double stature_cm) {
  Moments child = adults.women;
  const size_t n = child.variables.size();
  std::vector<double> adult = child.surveyed_mean;
  std::vector<int> other(n);
  for (size_t i = 0; i < n; ++i) {
    other[i] = adults.men.find(child.variables[i]);
    if (other[i] >= 0)
      adult[i] = 0.5 * (adult[i] + adults.men.surveyed_mean[static_cast<size_t>(other[i])]);
  }
  // A mean of positive definite matrices is positive definite; the unit matrix among them leaves
  // more unexplained than in adults.
  const size_t men = adults.men.variables.size();
  for (size_t i = 0; i < n; ++i)
    for (size_t j = 0; j < n; ++j)
      if (other[i] >= 0 && other[j] >= 0) {
        double& r = child.correlation[i * n + j];
        r = 0.5 * (r + adults.men.correlation[static_cast<size_t>(other[i]) * men +
                                              static_cast<size_t>(other[j])]);
        if (i != j) r *= kAsInAdults;
      }

  const auto adult_mean = [&](BodyVariable v) {
    const int at = child.find(v);
    return at < 0 ? 1.0 : adult[static_cast<size_t>(at)];
  };
  const double scale = stature_cm / adult_mean({.key = BodyKey::stature});
  const double waist = size_at(stature_cm, 2) / adult_mean({.key = BodyKey::waist_girth});
  const double chest = size_at(stature_cm, 1);
  for (size_t i = 0; i < n; ++i) {
    const BodyKey key = child.variables[i].key;
    const Kind kind = kind_of(key);
    double mean = adult[i] * (kind == Kind::other ? 1 : std::pow(scale, growth_power(key)));
    if (key == BodyKey::bust_girth || key == BodyKey::upper_chest_girth) mean = chest;
    if (key == BodyKey::underbust_girth) mean = 0.95 * chest;
    if (key == BodyKey::waist_girth) mean = waist * adult[i];
    if (key == BodyKey::hip_girth) mean = size_at(stature_cm, 3);
    child.mean[i] = mean;
    // Never tighter, in proportion, than adults are.
    if (kind != Kind::other)
      child.sd[i] = std::max(relative_sd(kind) * mean, child.surveyed_sd[i] * mean / adult[i]);
    child.surveyed_mean[i] = mean;
    child.surveyed_sd[i] = child.sd[i];
    child.p01[i] = mean - 3.09 * child.sd[i];
    child.p999[i] = mean + 3.09 * child.sd[i];
  }
  child.source = "adult proportions scaled by stature";
  return child;
}

}  // namespace easewright
