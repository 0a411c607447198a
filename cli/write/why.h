#pragma once
// Why a rule is missed and what would settle it, in a sewist's words; and the same as options of
// the command line.

#include "cli/write/judged.h"
#include "cli/write/page.h"
#include "model/job.h"

#include <string>
#include <vector>

namespace easewright {

/// 'neckline depth 20 cm', 'strap width at least 4.5 cm', 'neckline hides a full cup (at least 4.5
/// cm)', 'strap inset at least 0.5 cm (its limit)'.
std::string write_participant(const Participant& participant,
                              const FitResult& result,
                              LengthUnit unit);

/// Members in the order in which they are told: wishes and limits, since these can be changed, then
/// rules, then limits of 0.
std::vector<Participant> told_order(const Explanation& explanation);

/// 'neckline depth 24 -> 19.8 cm', 'a side dart of 6.5 deg', 'strap width 9 -> 8.6 cm and armhole
/// drop 1.5 -> 1.2 cm'.
std::string write_cure(const Cure& cure, const FitResult& result, LengthUnit unit);

/// What makes the cure's changes on the command line, in place of what it says of the same values:
/// {'--wish', 'neckline depth 19.8 cm'}.
std::vector<std::string> cure_options(const Cure& cure, const Job& job, const FitResult& result);

/// What can't all hold and what would settle it, under the miss that it explains.
void write_why(Page& page, const Explanation& explanation, const Judged& judged);

}  // namespace easewright
