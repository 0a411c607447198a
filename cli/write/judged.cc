#include "cli/write/judged.h"

#include <algorithm>

namespace easewright {
namespace {

/// The one of `all` whose rule is the finding's.
template <typename T>
const T* about(const std::vector<T>& all, const Judged& judged, const Finding& finding) {
  const auto& rules = judged.result.posed->rules;
  const auto found = std::find_if(all.begin(), all.end(), [&](const T& one) {
    const PosedRule& rule = rules[static_cast<size_t>(one.rule)];
    return rule.name == finding.name && rule.wish_id == finding.wish_id;
  });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace

bool fits(const FitResult& result) {
  return has_answer(result) && result.all_hold(solver::Level::should);
}

bool has_answer(const FitResult& result) {
  return result.posed != nullptr && result.outcome.status != solver::Status::not_finite;
}

const Explanation* explanation_of(const Judged& judged, const Finding& finding) {
  return judged.why ? about(*judged.why, judged, finding) : nullptr;
}

const RuleSureness* sureness_of(const Judged& judged, const Finding& finding) {
  return judged.doubts ? about(judged.doubts->rules, judged, finding) : nullptr;
}

}  // namespace easewright
