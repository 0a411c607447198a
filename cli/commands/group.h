#pragma once
// `easewright group JOB BODIES`: one job drafted for many bodies.

#include "cli/options.h"

namespace easewright {

int run_group(const Options& options);

}  // namespace easewright
