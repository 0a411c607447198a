#pragma once
// What `fit` and `check` share: read the catalogue and every job, judge each, write reports and JSON. Nothing is
// written before all input has been found good.

#include <functional>

#include "cli/options.h"
#include "cli/read/complaint.h"
#include "model/fit.h"

namespace easewright {

using Judgement = std::function<FitResult(const Job&, const Catalogue&)>;

int judge(const Options& options, Draft draft, const Judgement& judgement);

/// Prints the complaints to standard error, one line each, and returns kBadInput.
int refuse(const Complaints& complaints);

}  // namespace easewright
