#pragma once
// What-if: the command line changes a wish, a measure or a switch without touching the files.

#include "cli/read/complaint.h"
#include "cli/read/job.h"

namespace easewright {

/// Puts the wishes, measures, switches and the unit into the job; a mistake is complained of by its
/// option.
void apply_overrides(const Overrides& overrides, Complaints& complaints, LoadedJob& loaded);

}  // namespace easewright
