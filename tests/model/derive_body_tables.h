#pragma once
// Derives the shipped body tables from the open surveys: means, s.d., correlations and percentiles,
// no rows.

#include "model/body/estimate.h"

#include <string>

namespace easewright {

/// Which rows of the 1988 survey go in: a half, to be tried on the other.
enum class Half { both, first, second };

/// Moments of `women` or `men`, or empty ones when the surveys (ANSUR 1988 and NHANES) are absent.
Moments derive_moments(Build build, Half half = Half::both);

/// What stands at the head of the shipped file.
std::string table_comments(Build build);

}  // namespace easewright
