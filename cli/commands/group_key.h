#pragma once
// What the rows of a group are made of, as numbers that change with it: rows of one key may be gone
// on with and joined.

#include "cli/commands/rows.h"
#include "cli/options.h"
#include "cli/read/bodies.h"
#include "cli/read/job.h"

namespace easewright {

/// 'program', 'rules', 'job', 'bodies', 'options'. The job counts as it was read, whatever file it
/// came from; its body does not.
RowsKey rows_key(const Options& options, const Job& job, const Bodies& bodies);

}  // namespace easewright
