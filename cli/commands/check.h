#pragma once
// `easewright check JOB...`: judges the draft that the job brings, without solving.

#include "cli/options.h"

namespace easewright {

int run_check(const Options& options);

}  // namespace easewright
