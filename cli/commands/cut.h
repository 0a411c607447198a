#pragma once
// `easewright cut JOB --out DIR`: the pattern at true scale and the cutting plan.

#include "cli/options.h"

namespace easewright {

int run_cut(const Options& options);

}  // namespace easewright
