#pragma once
// What `group` says at its end: the summary, with what would help tried on the bodies.

#include "cli/commands/group_run.h"
#include "cli/options.h"

namespace easewright {

/// Writes the report to standard output, JSON where it was asked for, and `summary.html` into the
/// folder of --out. Returns the exit code. `bodies` is read again.
int finish_group(const Options& options, const GroupRun& run, Bodies& bodies);

}  // namespace easewright
