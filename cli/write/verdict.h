#pragma once
// Whether it fits, in one line, and a miss in one sentence: what the report, the sheets of a
// pattern and the summary of `cut` say alike.

#include "cli/write/quantity.h"
#include "model/fit.h"

#include <string>

namespace easewright {

struct Verdict {
  std::string head;  ///< 'DOES NOT FIT WELL: '
  std::string rest;  ///< 'missed 1 should and 1 wish of 101'
  bool good = true;  ///< no must and no should is missed
};
Verdict verdict_of(const FitResult& result);

/// The rule's notation, but fine where that would write value and limit alike.
Notation notation_of_miss(const Finding& finding, LengthUnit unit);

/// '1 cm under'.
std::string miss_of(const Finding& finding, LengthUnit unit);

/// 'armhole clears the arm: 1 cm, wanted at least 2 cm (1 cm under)'.
std::string miss_sentence(const Finding& finding, LengthUnit unit);

}  // namespace easewright
