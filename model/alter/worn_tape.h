#pragma once
// A garment that fits, in place of the tape. Many sewists copy a garment they wear instead of
// measuring themselves. What a tape reads on it lying flat is evidence for the body inside it: the
// body's measure and the ease that is usual there, each with its own error, larger than a tape's.
// It is joined with whatever tapes there are by complete() (body/estimate.h), so that fit, check
// and alter all use it.

#include "model/alter/flat.h"
#include "model/body/body.h"

#include <string>
#include <vector>

namespace easewright {

/// How a garment fits: `closely` as a close or fitted one, `loosely` as a semi-fitted or loose one.
enum class WornFit { closely, loosely };

struct WornTape {
  std::string label = {};  ///< 'the blue linen dress'
  MadeKind kind = MadeKind::dress;
  /// Which readings there are and how much ease is usual: put on, waist, skirt, lining, side dart.
  Switches switches = {};
  WornFit fit = WornFit::closely;
  double stretch = 0;  ///< of the cloth, as a fraction: 0 woven, 0.5 stretches by half
  std::vector<FlatReading> readings = {};
};

/// Whether the reading says anything of the body, by itself or together with others. A skirt's
/// length is taste.
bool tells_of_body(FlatKey key);

/// What the garment says of a body. Readings that it can't have and those that say nothing give
/// nothing. BodyEvidence::from is the reading's name.
std::vector<BodyEvidence> evidence_of(const WornTape& garment);

}  // namespace easewright
