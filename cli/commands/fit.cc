#include "cli/commands/fit.h"

#include "cli/commands/judge.h"
#include "model/fit.h"

namespace easewright {

int run_fit(const Options& options) {
  return judge(options, Draft::optional, [](const Job& job, const Catalogue& catalogue) { return fit(job, catalogue); });
}

}  // namespace easewright
