#pragma once
// alter: from a garment in hand and the faults seen to ranked plans.
//
// First the most likely body is found (believe.h), then moves are chosen that make the garment fit
// it (solver/choice.h), judged by the same rules as a draft. What the style merely wished for and
// the garment has not is left alone: a garment in hand is not unpicked for taste. A miss smaller
// than its tolerance isn't felt and does not call for work either.

#include "model/alter/asked.h"
#include "model/alter/believe.h"
#include "model/alter/flat.h"
#include "model/alter/moves.h"
#include "model/alter/unmet.h"
#include "model/fit.h"

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// The garment in hand, as it is described. What is not given is taken from a fit of the body that
/// it was made for.
struct InHand {
  MadeKind kind = MadeKind::dress;
  std::optional<Body> made_for;   ///< nothing: the job's own body
  std::vector<Wish> made_wishes;  ///< wishes it was cut by, where they differ from the job's
  std::vector<FlatReading> flat;  ///< its flat measurements
  std::array<std::optional<Seam>, static_cast<size_t>(kSeamKeys)> seams;
  std::array<std::optional<Finish>, static_cast<size_t>(kSeamKeys)> finishes;
  bool holes_show = false;
  std::vector<SeenFault> faults;  ///< seen at the try-on, on the job's body
};

/// Vocabularies from data/moves and data/faults; they outlive what is made with them.
struct AlterCatalogue {
  std::vector<Move> moves;
  std::vector<FaultKind> faults;
};

struct PlanStep {
  const Move* move = nullptr;
  double amount = 0;                  ///< inside units, rounded as it is printed
  double minutes = 0;                 ///< less what earlier steps have left open
  std::vector<Opening> open_already;  ///< by earlier steps
};

struct AlterPlan {
  std::vector<PlanStep> steps;  ///< in the order in which they are done
  double minutes = 0;
  Made after;
  Worn worn;                         ///< on the body believed
  std::vector<Finding> findings;     ///< rules judged after it, misses first
  std::vector<double> faults_after;  ///< what each fault reads then, inside units
  bool meets_all = false;            ///< all that was to be met
  std::vector<Finding> left;         ///< felt misses of musts and shoulds that it leaves
};

struct AlterOptions {
  int plans = 3;
  double round_cm = 0.1;  ///< of amounts; 2.54 / 8 for inches
};

struct AlterResult {
  Completed made_for;                  ///< body that the garment was cut for
  FromFlat in_hand;                    ///< the garment as made, with what its readings say
  Completed taped;                     ///< the wearer as taped
  Belief belief;                       ///< the wearer as believed
  std::shared_ptr<const Posed> posed;  ///< rules on the body believed; null: impossible body
  Worn before;                         ///< the garment as it is, on the body believed
  std::vector<Finding> findings;       ///< rules judged before
  std::vector<AlterPlan> plans;        ///< none where nothing is to be done
  std::vector<Unmet> unmet;
  int possible = 0, nodes = 0;  ///< moves that can be done at all; nodes of the search
  bool proved = true;           ///< the search ended of itself and weighed all that can be done
  /// No plan is better: all was weighed, and the moves' effects add up or every subset was solved.
  /// Where not, local solves may hide one (solver/choice.h).
  bool exact = true;
  Impossible impossible;  ///< moves ruled out, and why
  /// Moves that can be done and were not weighed, and why: where there are more than a search can
  /// hold, those that help least and those that don't help.
  std::vector<std::pair<const Move*, std::string>> not_weighed;
  int weighed = 0;  ///< moves that the search weighed
  /// Faults that no plan answers, since neither body nor garment explains them or since they
  /// contradict another.
  std::vector<int> unclear;
};

/// Plans the alteration. `job` is the wearer's: body, cloth, style and wishes of the garment.
AlterResult alter(const Job& job,
                  const InHand& in_hand,
                  const Catalogue& catalogue,
                  const AlterCatalogue& vocabulary,
                  const AlterOptions& options = {});

}  // namespace easewright
