#include "model/body/bust_angle.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

AngleEvidence from_difference(BodyValue larger,
                              BodyValue smaller,
                              double standard_cm,
                              double degrees_per_cm) {
  const double slope = radians(degrees_per_cm);
  return {.angle = radians(15.4) + slope * (larger.value - smaller.value - standard_cm),
          .sd = std::hypot(radians(5), slope * larger.sd, slope * smaller.sd)};
}

double smoothstep(double t) {
  t = std::clamp(t, 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

// Evidence that counts only in part: its precision times `share`.
void add_share(std::vector<AngleEvidence>& all, AngleEvidence one, double share) {
  if (share <= 0) return;
  one.sd /= std::sqrt(share);
  all.push_back(one);
}

}  // namespace

AngleEvidence cup_evidence(BodyValue bust, BodyValue underbust) {
  return from_difference(bust, underbust, 13.7, 1.5);
}

AngleEvidence slant_evidence(BodyValue bust, BodyValue upper_chest) {
  return from_difference(bust, upper_chest, 4.6, 2.2);
}

AngleEvidence formula_evidence(BodyValue bust) {
  const double outside = std::max({0.0, 78 - bust.value, bust.value - 96});
  return {.angle = radians(bust.value / 4 - 2.5),
          .sd = std::hypot(radians(4 + 0.3 * outside), radians(bust.sd / 4))};
}

AngleEvidence flat_evidence() { return {.angle = radians(5), .sd = radians(3)}; }

AngleEvidence dart_evidence(double intake_cm, double leg_cm, double intake_sd_cm) {
  const double sine = std::clamp(intake_cm / (2 * leg_cm), -1.0, 1.0);
  const double cosine = std::sqrt(std::max(1e-6, 1 - sine * sine));
  return {.angle = 2 * std::asin(sine), .sd = intake_sd_cm / (leg_cm * cosine)};
}

std::optional<AngleEvidence> join(const std::vector<AngleEvidence>& evidence) {
  double precision = 0, weighted = 0;
  for (const AngleEvidence& one : evidence) {
    if (!(one.sd > 0)) return std::nullopt;
    precision += 1 / (one.sd * one.sd);
    weighted += one.angle / (one.sd * one.sd);
  }
  if (!(precision > 0)) return std::nullopt;
  return AngleEvidence{.angle = weighted / precision, .sd = 1 / std::sqrt(precision)};
}

AngleEvidence bust_angle(Build build, BodyValue bust, BodyValue underbust, BodyValue upper_chest) {
  std::vector<AngleEvidence> all;
  const bool slant_taped = is_taped(upper_chest.origin);
  const bool cup_taped = is_taped(underbust.origin);
  if (cup_taped || !slant_taped) all.push_back(cup_evidence(bust, underbust));
  if (slant_taped) all.push_back(slant_evidence(bust, upper_chest));
  const double full =
      build == Build::woman ? smoothstep((bust.value - underbust.value - 6) / (10 - 6)) : 0;
  add_share(all, formula_evidence(bust), full);
  add_share(all, flat_evidence(), 1 - full);
  const AngleEvidence joined = join(all).value_or(flat_evidence());
  return {.angle = std::max(0.0, joined.angle), .sd = std::max(kBustAngleFloor, joined.sd)};
}

double knit_bust_angle(double angle, double stretch) {
  // 4 deg at a quarter and 8 deg at a half lie on one line.
  return std::max(0.0, angle - radians(16) * std::clamp(stretch, 0.0, 0.5));
}

}  // namespace easewright
