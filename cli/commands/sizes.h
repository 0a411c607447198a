#pragma once
// `easewright sizes JOB BODIES --count K`: whose drafts serve a group with the least alteration.

#include "cli/options.h"

namespace easewright {

int run_sizes(const Options& options);

}  // namespace easewright
