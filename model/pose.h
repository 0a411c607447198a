#pragma once
// A garment and its rules as a solver problem: draft values are the variables, rules, wishes and
// habits the outputs.

#include "model/garment/garment.h"
#include "model/job.h"
#include "solver/problem.h"

#include <array>
#include <memory>
#include <vector>

namespace easewright {

/// One rule or wish as the problem has it.
struct PosedRule {
  const Rule* rule = nullptr;  ///< null for a wish; owned by the catalogue that was posed
  std::string name;            ///< the rule's name, or the spoken id of the wish
  std::string wish_id;         ///< set for wishes
  Expression expression;
  std::optional<Expression> lo, hi;
  solver::Level strength = solver::Level::should;
  double tolerance = 0.3;
  std::vector<int> outputs;  ///< one, or two where a limit varies with the draft
};

struct Posed {
  solver::Problem problem;
  Frame frame;
  std::vector<ValueKey> keys;    ///< of each variable
  std::vector<PosedRule> rules;  ///< rules, then wishes
  int first_habit = 0;           ///< outputs from here on are the habits, one a variable
  Values<double>
      base{};  ///< values that are not variables stand here; the variables at their habits
  std::vector<bool> has_value;  ///< kValueKeys

  /// The full set of values with the variables at x.
  Values<double> values_at(const std::vector<double>& x) const;
};

/// Where the garment's waist lies on the body: an elastic slides to the narrowest place, a seam
/// stays at the ISO level.
WaistLevel waist_level_of(const Switches& switches);

/// Limits of one value that leave it no room on this body, where the job or its style sets one of
/// them.
struct CrossedLimits {
  ValueKey key = ValueKey::count;
  double least = 0, most = 0;                ///< least > most, inside units
  bool own_least = false, own_most = false;  ///< set by the job or its style, not by the table
};
std::vector<CrossedLimits> crossed_limits(const Job& job,
                                          const Catalogue& catalogue,
                                          const CompleteBody& body,
                                          const Switches& switches);

/// Poses the job for a complete body with these switches (put_on and build set). catalogue must
/// outlive the result. Limits that cross are swapped: see crossed_limits().
std::shared_ptr<const Posed> pose(const Job& job,
                                  const Catalogue& catalogue,
                                  const CompleteBody& body,
                                  const Switches& switches);

/// The problem's outputs at values and measures that were not drafted from each other: a made
/// garment's cloth decides its measures.
std::vector<double> outputs_at(const Posed& posed,
                               const Values<double>& values,
                               const Measures<double>& measures);

/// A body and a cloth as expressions read them, laid out once for many.
struct FrameFacts {
  std::array<double, kBodyKeys> body{};
  std::array<double, kClothFacts> cloth{};
  explicit FrameFacts(const Frame& frame);
};
double evaluate(const Expression& expression,
                const FrameFacts& facts,
                const Values<double>& values,
                const Measures<double>& measures);

/// A name's value or an expression's, at a draft.
double evaluate(const Expression& expression,
                const Frame& frame,
                const Values<double>& values,
                const Measures<double>& measures);

}  // namespace easewright
