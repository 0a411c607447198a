#pragma once
// `easewright slip JOB`: what a sewer needs at the machine, in order of work.

#include "cli/options.h"

namespace easewright {

int run_slip(const Options& options);

}  // namespace easewright
