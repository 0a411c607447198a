#pragma once
// Seam allowances of a job, by the words that `made.seams` has for a garment in hand:
//
//   allowances: {side: 2 cm, shoulder: 1.5 cm, centre back: 2 cm, belt: 1 cm}
//
// A hem's is its turning and what that folds in, an elastic waist's its casing: both are draft
// values, to be wished for.

#include "cli/read/complaint.h"
#include "cli/read/yaml.h"
#include "model/pattern/pieces.h"
#include "model/style.h"

#include <string>
#include <vector>

namespace easewright {

/// What may be given, in this order: side, shoulder, centre back, waist, neck, armhole, front edge,
/// belt.
const std::vector<std::string>& allowance_words();

/// Those given, the usual ones besides. What the garment has no seam for is complained of.
Allowances read_allowances(const YamlNode& map,
                           const std::string& path,
                           const Source& source,
                           const Switches& switches);

}  // namespace easewright
