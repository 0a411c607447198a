#pragma once
// What is said of a finding beyond its miss (verdict.h): the parts of a slack, and what reading a
// draft off a tape costs. The report and its HTML say it alike.

#include "model/fit.h"
#include "model/job.h"

#include <string>

namespace easewright {

/// '; in it 1.7 cm from running over the hollow (contour), -0.6 cm drawn up', or empty for what is
/// no slack.
std::string slack_sentence(const Finding& finding, const FitResult& result, LengthUnit unit);

/// Rules that the draft misses once it is read off a tape: 'neck edge passes the head by 0.2 cm,
/// ...'; empty where none does.
std::string lost_by_reading(const FitResult& result, LengthUnit unit);

}  // namespace easewright
