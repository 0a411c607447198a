#pragma once
// A group in a few lines: how many it fits, what it misses most.

#include "cli/commands/group_run.h"

#include <string>

namespace easewright {

std::string write_group_line(const GroupRun& run);

}  // namespace easewright
