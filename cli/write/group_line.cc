#include "cli/write/group_line.h"

#include <fmt/format.h>

namespace easewright {

std::string write_group_line(const GroupRun& run) {
  size_t fit = 0, wishes = 0;
  for (const Member& member : run.members) {
    if (all_hold(member, run.terms, solver::Level::wish)) {
      ++fit;
    } else if (all_hold(member, run.terms, solver::Level::should)) {
      ++wishes;
    }
  }
  std::string line = fmt::format(
      "{}: {} of {} bodies hold every must, should and wish, {} more "
      "miss a wish alone, {} miss more",
      run.job->job.label,
      fit,
      run.members.size(),
      wishes,
      run.members.size() - fit - wishes);
  if (!run.refused.empty()) line += fmt::format("; {} can't be drafted for", run.refused.size());
  return line + "\n";
}

}  // namespace easewright
