#pragma once
// What the HTML report shows of one job besides its words: slip and drawings.

#include "cli/write/html.h"

namespace easewright {

/// `judged` must outlive the leaf. `place`: of the job among those of one file, so that ids differ.
Leaf leaf_of(const Judged& judged, const Allowances& allowances, size_t place = 0);

}  // namespace easewright
