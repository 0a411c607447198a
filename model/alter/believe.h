#pragma once
// First explain: the most likely body behind the faults seen at a try-on.

#include "model/alter/made.h"
#include "model/body/estimate.h"
#include "model/rules/expression.h"

#include <string>
#include <utility>
#include <vector>

namespace easewright {

/// A fault as data/faults has it.
struct FaultKind {
  std::string name;    ///< 'front neckline gapes'
  std::string how;     ///< how its amount is taken at the try-on
  Expression reads;    ///< what the model says the amount is: '2 * neckline.slack'
  double error = 0.5;  ///< one s.d., inside units
  /// Up to here nobody minds, inside units; infinite where the amount is evidence of the body and
  /// no fault in itself.
  double fine = 0;
  std::vector<Condition> when;
  /// Of a fault of the hem's level: how much of what the hem itself was cut higher at either centre
  /// it reads less. `reads` tells how the skirt hangs from its waist edge.
  HemLevel hem;
  std::string source;

  bool is_of_hem() const { return hem.front != 0 || hem.back != 0; }
};

/// What a fault reads on a garment as it is worn, inside units.
double reading_of(const FaultKind& kind, const Frame& frame, const Worn& worn);

struct SeenFault {
  const FaultKind* kind = nullptr;
  double amount = 0;  ///< inside units
  double error = 0;   ///< one s.d.
};

struct FaultReading {
  double before = 0;  ///< what the model says on the body as taped
  double after = 0;   ///< on the body believed
  double off = 0;     ///< (after - amount) / error
};

struct BodyShift {
  BodyKey key = BodyKey::count;
  double before = 0, sd_before = 0;
  double after = 0, sd_after = 0;
};

/// A reading this many errors from what was seen is not explained.
inline constexpr double kExplained = 2.5;
/// Nor is a fault that no body within this many s.d. of the tapes shows, its error counted.
inline constexpr double kBelievable = 4;

struct Belief {
  CompleteBody body;                   ///< its s.d. are those after the faults are known
  std::vector<BodyShift> shifts;       ///< those that moved by over half their s.d., largest first
  std::vector<FaultReading> readings;  ///< of each fault
  bool explained = true;               ///< nothing is unexplained or against another
  std::vector<int> unexplained;  ///< faults that the model can't produce, or not beside the others
  std::vector<int> left_out;     ///< of those the ones that it can't produce even alone: a slip, or
                                 ///< nothing that the model knows; the belief is without them
  std::vector<std::pair<int, int>>
      against;  ///< pairs of which one is only explained without the other
  int iterations = 0;
};

/// The body that makes tape and faults likeliest: (tape - body) / s.d. with the surveys'
/// correlations, and (fault as the model reads it on that body - amount) / error, one least-squares
/// problem over those measures that any fault depends on. The other measures follow by their
/// correlations. `body` is what was taped, `taped` the same completed at the garment's waist.
/// Faults need an error above 0.
Belief believe(const Made& made,
               const Body& body,
               const Completed& taped,
               const BodyTables& tables,
               const std::vector<SeenFault>& faults);

/// The same where only the complete body is at hand: what was converted or read off a garment then
/// counts as if taped with its s.d.
Belief believe(const Made& made,
               const Completed& taped,
               const BodyTables& tables,
               const std::vector<SeenFault>& faults);

}  // namespace easewright
