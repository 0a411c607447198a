#pragma once
// A job and everything that is to be said about it.

#include "model/explain.h"
#include "model/explore.h"
#include "model/fit.h"
#include "model/uncertainty.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

struct Judged {
  std::string file;
  const Job* job = nullptr;
  FitResult result;
  std::optional<std::vector<Explanation>>
      why;  ///< of the misses, in the findings' order; nothing when not looked for
  std::optional<Uncertainty> doubts;
  std::optional<std::vector<WishEffect>> effects;
  std::optional<double> sure;  ///< the probability that was asked for
  bool tell_effects = false;   ///< in the report
  bool tell_all = false;       ///< every rule's sureness in the report
  bool tell_slacks = false;    ///< where every slack comes from, missed or not, in the report
};

/// True when musts and shoulds hold and the search found an answer.
bool fits(const FitResult& result);

/// False when the body is impossible or the garment can't be computed on it.
bool has_answer(const FitResult& result);

/// Why this finding is missed; null when nothing is known of it.
const Explanation* explanation_of(const Judged& judged, const Finding& finding);

/// How sure this finding is; null when it wasn't computed.
const RuleSureness* sureness_of(const Judged& judged, const Finding& finding);

}  // namespace easewright
