#pragma once
// figure: the garment on the body, drawn; with --plan before and after an alteration.

#include "cli/options.h"

namespace easewright {

int run_figure(const Options& options);

}  // namespace easewright
