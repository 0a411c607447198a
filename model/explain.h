#pragma once
// Why a rule is missed, in the garment's words, and what would settle it.
//
// The conflict is the solver's smallest set; its members are rules, wishes and the limits of draft
// values. A cure changes what a user can change: a wish, the limit of a value, or a switch of the
// style that is off (a side dart, a stay tape, an opening). Every cure that is handed out has been
// tried: with it the job is fitted again, the rule holds, and nothing of its strength or above is
// missed by more than before.

#include "model/fit.h"
#include "solver/conflict.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// One of those that can't all hold.
struct Participant {
  enum class Kind { rule, wish, limit };
  Kind kind = Kind::rule;
  int rule = -1;                     ///< place in Posed::rules; -1 for a limit
  ValueKey value = ValueKey::count;  ///< of a limit
  solver::Side side = solver::Side::lower;
  double at = 0;        ///< the limit that it holds to, inside units
  bool as_got = false;  ///< missed itself: it stands at what it got
};

/// One change to the job.
struct CureStep {
  enum class Kind { wish, limit, option };
  Kind kind = Kind::wish;
  std::string id;  ///< of the wish; or of the limit's value
  Dimension dimension;
  solver::Side side = solver::Side::lower;
  double from = 0, to = 0;  ///< the limit before and after, inside units; `to` is rounded so that a
                            ///< reader can type it
  bool between = false;     ///< of an exact wish: anything from `from` to `to` is accepted
  Switch which = Switch::count;  ///< of an option
  std::string option;
  ValueKey added = ValueKey::count;  ///< the value that the option brings with it, if one tells the
                                     ///< story (the dart's angle)
  double added_amount = 0;
};

struct Cure {
  std::vector<CureStep> steps;  ///< one, or two
  double asks = 0;              ///< in tolerances and scales; options ask nothing
  FitResult after;              ///< the job fitted with it
};

struct Explanation {
  int rule = 0;                      ///< the missed one, place in Posed::rules
  std::vector<Participant> members;  ///< the missed one first; empty when no set was found
  bool proved = false;               ///< found points without each member, none with all of them
  std::vector<Cure> cures;           ///< least asked first, options after them
  int solves = 0;
};

struct ExplainOptions {
  int most_cures = 4;  ///< of each miss
  bool try_options = true;
  double round_cm = 0.1;  ///< what `to` is rounded to, away from the old limit; 2.54 / 8 for inches
};

/// One for each missed must, should and wish, in the order of result.findings.
std::vector<Explanation> explain(const Job& job,
                                 const Catalogue& catalogue,
                                 const FitResult& result,
                                 const ExplainOptions& options = {});

/// A limit of the solver's problem in the garment's words.
Participant participant_of(const FitResult& result, const solver::Member& member);

/// The job with a cure's changes made.
Job with_cure(const Job& job, const FitResult& result, const std::vector<CureStep>& steps);

}  // namespace easewright
