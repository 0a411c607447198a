#pragma once
// What is said of one finding, and of all of them: the sentences that the report, its HTML and the
// slip share.

#include "cli/write/quantity.h"
#include "model/fit.h"

#include <string>

namespace easewright {

/// The whole in a few words.
struct Verdict {
  std::string head;    ///< 'FITS', 'DOES NOT FIT WELL', ...
  std::string reason;  ///< 'missed 1 must and 3 wishes of 98'
  bool good = false;   ///< musts and shoulds hold
};
Verdict verdict_of(const FitResult& result);

/// The rule's notation, but fine where that would write value and limit alike.
Notation notation_of_miss(const Finding& f, LengthUnit unit);

/// '1 cm under'.
std::string miss_of(const Finding& f, LengthUnit unit);

/// 'armhole clears the arm: 1 cm, wanted at least 2 cm (1 cm under)'.
std::string sentence_of(const Finding& f, LengthUnit unit);

/// '; in it 1.7 cm from running over the hollow (contour), -0.6 cm drawn up', or empty for what is
/// no slack.
std::string slack_sentence(const Finding& f, const FitResult& result, LengthUnit unit);

/// Rules that the draft misses once it is read off a tape: 'neck edge passes the head by 0.2 cm,
/// ...'; empty where none does.
std::string lost_by_reading(const FitResult& result, LengthUnit unit);

}  // namespace easewright
