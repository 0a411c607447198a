#pragma once
// A garment that was drafted for one body of a group, on another: what of it can be mended, by
// which moves and in how many minutes, and what stays.
//
// One figure says how well it serves: the minutes of the work, and so many more for each
// tolerance by which a should stays missed beyond what is felt (a must ten times as many, a wish of
// the job's own a tenth). So work is done where it pays, as a fitter would: nobody opens a lined
// side seam for half a centimetre.
//
// A search over all pairs of a group can't afford the exact choice of moves (plan.h): seconds a
// pair. Here moves are added one at a time, the amount read off a line through the present garment
// and tried on the cloth, in two orders: what brings most for its minutes first, and what brings
// most; then moves that others have made needless are left out again, and the better of both
// stands. Every figure is of the cloth itself after the moves, rounded as printed: what it meets is
// met, what it leaves is left. Only that nothing cheaper exists is not shown.

#include "model/alter/altered.h"
#include "model/alter/plan.h"
#include "model/fit.h"

#include <array>
#include <memory>
#include <optional>
#include <vector>

namespace easewright {

/// A draft of the group as it would be sewn.
struct SizeDraft {
  Made made;
  Switches switches;            ///< as solved: the way it goes on, the build
  std::vector<Possible> moves;  ///< that can be done on it, in the order of work
};

/// How a group's garments are made, where it is not as usual.
struct MadeHow {
  std::array<std::optional<Seam>, static_cast<size_t>(kSeamKeys)> seams;
  std::array<std::optional<Finish>, static_cast<size_t>(kSeamKeys)> finishes;
  bool holes_show = false;
};

/// `drafted` must have an answer (FitResult::posed).
SizeDraft size_draft(const Job& job,
                     const FitResult& drafted,
                     const MadeHow& how,
                     const AlterCatalogue& vocabulary);

/// The rules on a body, by its own build, in a garment with these switches, which decide where its
/// waist lies; null where the body is impossible.
std::shared_ptr<const Posed> pose_wearer(const Job& job,
                                         const Body& body,
                                         const Switches& switches,
                                         const Catalogue& catalogue);

struct ServeOptions {
  /// Minutes of work that a fitter gives for one tolerance of a should. Common practice, roughly: a
  /// round that is a centimetre off (two tolerances) is let out or taken in, which takes an hour
  /// and more on a lined dress; one that is off by less is left.
  double minutes_per_miss = 40;
  double most_minutes =
      600;                ///< work past this is given up: a garment of one's own takes no longer
  double round_cm = 0.1;  ///< of amounts; 2.54 / 8 for inches
};

struct Serving {
  std::vector<PlanStep> steps;   ///< in the order of work
  double minutes = 0;            ///< of the steps
  double before = 0, after = 0;  ///< misses beyond what isn't felt, in tolerances of a should
  std::vector<Finding> left;     ///< felt misses of musts and shoulds after the steps
  double cost = 0;               ///< minutes, and what is left at its price
};

/// What is felt of the draft as it stands on the wearer (Serving::before). No moves are tried: a
/// hundred pairs a millisecond.
double felt_on(const SizeDraft& draft, const Job& job, const Posed& wearer);

/// `job` for its wishes; `wearer` by pose_wearer() with the draft's switches.
Serving serve(const SizeDraft& draft,
              const Job& job,
              const std::shared_ptr<const Posed>& wearer,
              const ServeOptions& options = {});

}  // namespace easewright
