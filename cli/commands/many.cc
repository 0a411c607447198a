#include "cli/commands/many.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {

std::optional<RowRange> rows_asked(const Options& options,
                                   const Bodies& bodies,
                                   Complaints& complaints) {
  if (!options.body_rows) return RowRange{1, bodies.count()};
  const auto [first, last] = *options.body_rows;
  if (first <= bodies.count()) return RowRange{first, std::min(last, bodies.count())};
  complaints.add(
      "--rows",
      {},
      "",
      fmt::format("{} has {} bodies; there is no row {}", options.bodies, bodies.count(), first));
  return std::nullopt;
}

}  // namespace easewright
