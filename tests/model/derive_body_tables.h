#pragma once
// Derives the shipped body tables from the open surveys: means, s.d., correlations and percentiles, no rows.

#include <string>

#include "model/body/estimate.h"

namespace easewright {

/// Moments of `women` or `men`, or empty ones when the surveys (ANSUR 1988 and NHANES) are absent.
Moments derive_moments(Build build);

/// What stands at the head of the shipped file.
std::string table_comments(Build build);

}  // namespace easewright
