#pragma once
// How sure a draft is. A tape errs, and what was not taped is estimated; the draft is cut all the
// same. The errors reach the measures and the rules to first order,
//
//     var(m) = J S J',   J = d(measure or margin) / d(body), by central differences,  S the errors'
//     covariance,
//
// and a rule holds with the probability that its margin, taken as normal, stays inside. Tested
// against sampling.

#include "model/fit.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// 90 % and above, 70 % and above, the rest; below 30 % the rule is more likely broken than not.
enum class Sureness { sure, likely, toss_up, unlikely };
std::string_view to_string(Sureness sureness);  ///< 'sure', 'likely', 'a toss-up', 'unlikely'

struct RuleSureness {
  int rule = 0;            ///< place in Posed::rules
  double probability = 1;  ///< that it holds on the body as it really is
  double sd = 0;           ///< of its expression against its limits, inside units
  Sureness sureness = Sureness::sure;
};

/// A measure that is worth taping (if it was estimated) or taping again with more care (if it was
/// taped).
struct TapeAdvice {
  BodyKey key = BodyKey::count;
  double doubt_removed = 0;  ///< fall of the sum of p (1 - p) over musts and shoulds
};

struct Uncertainty {
  std::array<double, kMeasureKeys> measure_sd{};  ///< inside units
  std::vector<RuleSureness> rules;  ///< musts, shoulds and wishes, in Posed::rules' order
  std::vector<TapeAdvice> advice;   ///< at most two, the more helpful first
};

/// Rules alone cost a third: measure_sd stays 0 then, and advice empty.
enum class DoubtsOf { all, rules };

/// The body as `job` has it, the draft as `result` has it. result.posed must be there.
Uncertainty uncertainty(const Job& job,
                        const Catalogue& catalogue,
                        const FitResult& result,
                        DoubtsOf of = DoubtsOf::all);

/// A fit whose musts and shoulds hold with at least this probability, where they can: their ranges
/// are tightened by the s.d. that their margins have at the answer, and the tightened problem is
/// solved; twice, since the s.d. move with it. Findings are said against the rules' own ranges.
/// probability in (0.5, 1).
FitResult fit_surely(const Job& job,
                     const Catalogue& catalogue,
                     double probability,
                     const solver::SolveOptions& options = {});

/// By how much a rule's limit may be passed and the rule still counts as held: a felt amount. A
/// rule that says exactly how much can't be sure to the last hair: it has its tolerance.
double granted(const PosedRule& rule);

/// Standard normal distribution and its inverse (for 0 < p < 1).
double normal_distribution(double z);
double normal_quantile(double p);

}  // namespace easewright
