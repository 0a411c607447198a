#pragma once
// `easewright reach JOB [VALUE...]`: how far each draft value can go, and what stops it.

#include "cli/options.h"

namespace easewright {

int run_reach(const Options& options);

}  // namespace easewright
