#pragma once
// Values and pairs of values that no body can have (errors), and those that few have (warnings).

#include "model/body/conditional.h"
#include "model/body/estimate.h"

#include <vector>

namespace easewright {

/// '72 cm', '18.5 deg', '34 years', with as many decimals as a tape gives.
std::string format_body_value(BodyKey key, double value);

/// Not finite, or outside info(key).least..most; with a likely slip (mm, m, inches) where one fits.
/// `expected` may be null; when present, a slip that lands within its percentiles is preferred.
bool refuse_values(const Body& body, const Moments* expected, std::vector<BodyNote>& notes);

/// Pairs that contradict each other: an error where both were taped, a warning where one was
/// estimated.
void check_pairs(const CompleteBody& body, std::vector<BodyNote>& notes);

/// Outside the survey's 0.1 to 99.9 percentiles.
void warn_unlikely(const Body& body, const Moments& moments, std::vector<BodyNote>& notes);

/// A girth and a length that fit a body better when one of them was taken at another waist level.
void warn_mixed_levels(const Body& body, const Moments& moments, std::vector<BodyNote>& notes);

/// A measure more than 4.5 s.d. from what all others make it: a slip of the tape.
void warn_odd_one_out(const Moments& moments,
                      const std::vector<Observation>& observations,
                      std::vector<BodyNote>& notes);

}  // namespace easewright
