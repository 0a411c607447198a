#include "cli/commands/slip.h"

#include "cli/commands/explore.h"
#include "cli/commands/load.h"
#include "cli/write/slip.h"

#include <unistd.h>

namespace easewright {

int run_slip(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  if (!loaded) return refuse(complaints);
  const Allowances allowances = allowances_of(loaded->jobs.front(), complaints);
  const auto judged = fit_to_explore(*loaded, complaints);
  if (!judged) return refuse(complaints);
  const int code = fits(judged->result) ? kAllHolds : kSomethingMissed;
  const Slip slip = slip_of(*judged, allowances);
  std::vector<Wanted> files;
  if (options.slip) files.push_back({*options.slip, write_slip(*judged, slip)});
  if (options.json) files.push_back({*options.json, write_slip_json(*judged, slip)});
  return deliver(files,
                 options.slip ? "" : write_slip(*judged, slip, colour_of_terminal(STDOUT_FILENO)),
                 code);
}

}  // namespace easewright
