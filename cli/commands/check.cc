#include "cli/commands/check.h"

#include "cli/commands/judge.h"
#include "model/fit.h"

namespace easewright {

int run_check(const Options& options) {
  return judge(options, Draft::required, [](const Job& job, const Catalogue& catalogue) { return check(job, catalogue); });
}

}  // namespace easewright
