#pragma once
// A faults file: what may be seen at a try-on, and how its amount is taken.
//
//   group: bodice
//   faults:
//     - fault: front neckline gapes
//       how: pinch a fold out of each half ... both halves added
//       reads: 2 * neckline.slack     # what the model says the same amount is
//       error: 0.5 cm                 # one s.d. of an amount that is taken so
//       hem: {front: 1, back: -1}     # of the hem's level alone: what the hem's own cut takes off it
//       when: {underwear: full}
//       source: common practice

#include "cli/read/section.h"
#include "model/alter/believe.h"

#include <vector>

namespace easewright {

/// Adds the file's faults. A name that is among `faults` already is complained of.
void read_fault_kinds(const YamlNode& map, const Source& source, std::vector<FaultKind>& faults);

}  // namespace easewright
