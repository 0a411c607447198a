#pragma once
// Bust angle. The cloth over the bust is close to a cone, so a flat front needs an angle theta
// taken out around the bust point. Nobody tapes it; it is inferred from several pieces of evidence,
// each with its own error, joined by inverse variance. All angles here in rad, lengths in cm.

#include "model/body/body.h"

#include <optional>
#include <vector>

namespace easewright {

struct AngleEvidence {
  double angle = 0;
  double sd = 0;
};

/// Known to 3 deg at best, whatever the evidence: practice, and what cup, slant and formula
/// disagree by.
inline constexpr double kBustAngleFloor = 3 * kPi / 180;

/// 15.4 deg + 1.5 deg/cm (bust - underbust - 13.7), s.d. 5 deg and the tapes' own. One cup step
/// of 2.5 cm opens the dart of a teaching block by 1.6 cm at 25 cm, 3.7 deg; 13.7 is the mean of
/// the 1988 women.
AngleEvidence cup_evidence(BodyValue bust, BodyValue underbust);

/// 15.4 deg + 2.2 deg/cm (bust - slanting upper chest - 4.6), s.d. 5 deg and the tapes' own: a half
/// front opened by a quarter of the difference over a hinge of 13 cm. The upper chest is taped
/// slanting, never level.
AngleEvidence slant_evidence(BodyValue bust, BodyValue upper_chest);

/// bust/4 - 2.5 in degrees, of a Japanese block (Bunka): women only. S.d. 4 deg for a bust of 78 to
/// 96, growing by 0.3 deg a cm outside.
AngleEvidence formula_evidence(BodyValue bust);

/// Men and flat chests: 5 +- 3 deg (practice; the 1988 men give 4.5 +- 2.7 by the cup).
AngleEvidence flat_evidence();

/// A dart known to fit: intake w at leg length L is 2 asin(w / 2L). Intake sd 0.3 cm by default.
AngleEvidence dart_evidence(double intake_cm, double leg_cm, double intake_sd_cm = 0.3);

/// Weighted by inverse variance; not floored. Nothing for no evidence or an s.d. that is not
/// positive.
std::optional<AngleEvidence> join(const std::vector<AngleEvidence>& evidence);

/// The bust angle of a body whose girths are known, from all evidence that its tapes allow; never
/// below 0, s.d. never below kBustAngleFloor. The slanting girth counts only when it was taped; an
/// estimated underbust counts with its larger error, and not at all beside a taped slant, which it
/// was estimated from. Between a flat chest (bust less underbust of 6 cm) and a full one (10) the
/// formula gives way smoothly.
AngleEvidence bust_angle(Build build, BodyValue bust, BodyValue underbust, BodyValue upper_chest);

/// What a knit takes off: 4 deg at 25 % stretch, 8 deg at 50 % (practice), in proportion, never
/// below 0. `stretch` is the cloth's, as a fraction; below 0 counts as 0, and above 0.5 as 0.5.
double knit_bust_angle(double angle, double stretch);

}  // namespace easewright
