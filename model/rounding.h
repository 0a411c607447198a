#pragma once
// The draft as a cutter reads it. Values are read to the millimetre or to the eighth of an inch,
// 0.32 cm, but seams that meet have to agree to 0.1: so one of each pair is rounded and its mate is
// derived from it, and everything is evaluated again.

#include "model/fit.h"

namespace easewright {

/// What a value is read to: 0.1 cm, or an eighth of an inch; half a degree for angles.
double reading_step(LengthUnit unit, Dimension dimension);

/// Values that are not rounded but follow from the others: the back's waist (side seams are equal)
/// and the back panel of the skirt (its waist edge is the bodice's).
bool is_derived_mate(ValueKey key);

/// The draft with every value rounded, inside its limits, but for the mates, which are settled
/// again. Findings and measures are those of the rounded draft.
FitResult as_rounded(const FitResult& result, LengthUnit unit);

/// What a rounded draft may be out by, in tolerances: eighths of an inch alone come to half of one.
inline constexpr double kFeltByRounding = 0.5;

/// Rules, musts to wishes, that the exact draft holds and the rounded one misses.
std::vector<Finding> lost_by_rounding(const FitResult& exact, const FitResult& rounded);

}  // namespace easewright
