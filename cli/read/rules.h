#pragma once
// A rules file: one group of rules.
//
//   group: armhole
//   rules:
//     - rule: armhole clears the arm
//       range: armhole.girth >= body.armscye_girth + 2.5 cm
//       strength: should            # must, should, wish or habit
//       tolerance: 0.3 cm           # the size of a miss that is felt
//       shape: absolute             # or squared: misses are shared out
//       because: closer than this it cuts in when the arm comes forward
//       source: common practice
//       caution: ...                # said when somebody could be hurt
//       when: {lining: lined, waist: [elastic, seam]}

#include "cli/read/section.h"
#include "model/rules/rule.h"

#include <vector>

namespace easewright {

/// Adds the file's rules. A name that is among `rules` already is complained of.
void read_rules(const YamlNode& map, const Source& source, std::vector<Rule>& rules);

}  // namespace easewright
