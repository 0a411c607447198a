#pragma once
// What `fit` and `check` share: read the catalogue and every job, judge each, write reports and
// JSON. Nothing is written before all input has been found good.

#include "cli/commands/load.h"
#include "cli/write/judged.h"

#include <functional>

namespace easewright {

/// Fills the answer and what is to be said about it; the file and the job are set.
using Judgement = std::function<void(const Catalogue&, Judged&)>;

int judge(const Options& options, Draft draft, const Judgement& judgement);

}  // namespace easewright
