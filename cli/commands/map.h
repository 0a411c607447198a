#pragma once
// `easewright map JOB X Y`: what goes with what, two draft values over a grid.

#include "cli/options.h"

namespace easewright {

int run_map(const Options& options);

}  // namespace easewright
