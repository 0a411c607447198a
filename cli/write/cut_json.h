#pragma once
// What `cut` drew, for programs: pieces with the lengths of their seams, sheets, how the pieces lie
// on the cloth and how much of it to buy. The schema is written down in cli/write/README.md.

#include "cli/write/cut.h"

#include <string>

namespace easewright {

/// Lengths in cm whatever the report is written in, unrounded: what a tape would read is on the
/// slip.
std::string write_cut_json(const CutOut& cut);

}  // namespace easewright
