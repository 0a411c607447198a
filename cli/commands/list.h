#pragma once
// `easewright list WHAT`: what rules, measures, values, styles, cloths, switches and body measures
// there are.

#include "cli/options.h"

namespace easewright {

int run_list(const Options& options);

}  // namespace easewright
