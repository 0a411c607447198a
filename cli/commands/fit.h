#pragma once
// `easewright fit JOB...`: computes the draft values.

#include "cli/options.h"

namespace easewright {

int run_fit(const Options& options);

}  // namespace easewright
