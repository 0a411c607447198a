#pragma once
// What commands on many bodies share.

#include "cli/commands/rows.h"
#include "cli/options.h"
#include "cli/read/bodies.h"
#include "cli/read/complaint.h"

#include <optional>

#include <tbb/global_control.h>

namespace easewright {

/// The rows that --rows asks for, as far as there are bodies; all without it. Nothing after a
/// complaint.
std::optional<RowRange> rows_asked(const Options& options,
                                   const Bodies& bodies,
                                   Complaints& complaints);

/// While it lives no more threads than these work; 0: all that there are.
class ThreadLimit {
 public:
  explicit ThreadLimit(int threads) {
    if (threads > 0)
      limit_.emplace(tbb::global_control::max_allowed_parallelism, static_cast<size_t>(threads));
  }

 private:
  std::optional<tbb::global_control> limit_;
};

}  // namespace easewright
