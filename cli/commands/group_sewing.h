#pragma once
// Sewing for a group: every body's pieces on one plan, a cut list by body, what to buy in all.

#include "cli/commands/group_run.h"
#include "cli/commands/load.h"
#include "cli/options.h"
#include "cli/write/group_summary.h"

#include <cstdint>
#include <vector>

namespace easewright {

/// More garments are not cut from one plan.
inline constexpr std::uint32_t kMostSewn = 60;

/// Complains where there are too many to be sewn, before anything is drafted.
void check_sewing(const Options& options, const RowRange& range, Complaints& complaints);

/// The sums, and files into `files` where --out names a folder: cutting-plan.pdf and .svg,
/// cut-list.csv. `bodies` is read again.
SewingSums sew_group(const Options& options,
                     const GroupRun& run,
                     const Allowances& allowances,
                     Bodies& bodies,
                     std::vector<Wanted>& files);

}  // namespace easewright
