#pragma once
// `easewright alter JOB`: from a garment in hand and the faults seen to ranked plans.

#include "cli/options.h"

namespace easewright {

int run_alter(const Options& options);

}  // namespace easewright
