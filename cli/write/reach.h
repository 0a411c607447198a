#pragma once
// How far each value can go and what stops it there: a table, and the same for programs.

#include "cli/write/judged.h"
#include "cli/write/page.h"

#include <string>
#include <vector>

namespace easewright {

std::string write_reach(const Judged& judged, const std::vector<ValueReach>& found, Colour colour);

/// The schema is written down in cli/write/README.md.
std::string write_reach_json(const Judged& judged, const std::vector<ValueReach>& found);

}  // namespace easewright
