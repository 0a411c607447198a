#pragma once
// fit and check: from a job to a draft, or from a draft to its verdict.

#include "model/garment/measures.h"
#include "model/garment/values.h"
#include "model/job.h"
#include "model/pose.h"
#include "solver/outcome.h"
#include "solver/solve.h"

#include <memory>
#include <string>
#include <vector>

namespace easewright {

/// One rule, wish or habit against the draft.
struct Finding {
  std::string name;            ///< the rule's name, or the spoken id of the wish
  std::string group;           ///< 'wish' for wishes
  const Rule* rule = nullptr;  ///< null for wishes and habits
  std::string wish_id;         ///< set for wishes
  solver::Level strength = solver::Level::should;
  Dimension dimension;
  double value = 0;       ///< of the expression
  double lo = 0, hi = 0;  ///< +-kInfinity where open
  double tolerance = 0;
  double miss = 0;  ///< signed, inside units; 0 when it holds
  double pull = 0;  ///< multiplier of the side that binds, signed
  std::vector<int>
      outputs;  ///< places in the posed problem: one, or two where both limits vary with the draft
  bool missed = false;
  bool tight = false;  ///< holds, at its limit
};

/// One way of putting the garment on, tried.
struct Route {
  int option = 0;       ///< of Switch::put_on
  bool passes = false;  ///< all its musts hold
  double worst = 0;     ///< sum of missed tolerances at must and should level
};

/// One sentence for the reader; each '{}' in it stands for a length, in cm, that is written in the
/// reader's unit.
struct Note {
  std::string text;
  std::vector<double> lengths = {};
  bool on_slip = false;  ///< the sewing slip says it as well, in its own words
};

struct FitResult {
  Completed completed;
  Switches switches;  ///< as solved, put_on and build set
  Values<double> values{};
  std::vector<bool> has_value;  ///< kValueKeys: whether the garment has that value
  Measures<double> measures{};
  std::vector<bool>
      has_measure;  ///< kMeasureKeys: whether the garment has the parts that the measure needs
  std::vector<Finding> findings;  ///< rules and wishes, misses first, in order of strength and size
  std::vector<ValueKey> undecided;  ///< values that nothing but habit decides
  std::vector<Route> routes;
  solver::Outcome outcome;
  std::shared_ptr<const Posed>
      posed;                ///< the problem that was solved; null when the body is impossible
  std::vector<Note> notes;  ///< turning method, cautions, balance

  bool all_hold(solver::Level down_to) const;
};

/// Solves the job. The job's body must be possible (see Completed::notes); otherwise values stay
/// zero.
FitResult fit(const Job& job, const Catalogue& catalogue, const solver::SolveOptions& options = {});

/// Limits of the job's values that leave no room, on its body and on any way of putting it on. None
/// where the body is impossible.
std::vector<CrossedLimits> crossed_limits(const Job& job, const Catalogue& catalogue);

/// Reads another outcome's draft into the result, against the problem as it was posed: what a
/// tightened or relaxed problem found is said in the rules' own ranges. Pulls are those of the
/// outcome.
void reinterpret(FitResult& result, const solver::Outcome& outcome);

/// Evaluates job.draft (values that it does not give stay at their habits) without solving.
FitResult check(const Job& job, const Catalogue& catalogue);

/// The rules of `posed` on values and measures that were not drafted from each other (a made
/// garment's), misses first.
std::vector<Finding> findings_at(const Posed& posed,
                                 const Values<double>& values,
                                 const Measures<double>& measures);

}  // namespace easewright
