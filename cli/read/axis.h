#pragma once
// One side of a map, as people write it: 'neckline depth', or with a range 'neckline depth 4 to 20
// cm'.

#include "cli/read/complaint.h"
#include "model/garment/values.h"

#include <optional>
#include <string>

namespace easewright {

struct AxisWords {
  std::string name;                ///< as it was typed, to be looked up among the garment's values
  std::optional<double> from, to;  ///< inside units; nothing: the value's own limit
};

/// Nothing after a complaint: of a range that isn't in plain quantities, runs backwards or has no
/// width.
std::optional<AxisWords> read_axis(const std::string& text, const Source& source);

}  // namespace easewright
