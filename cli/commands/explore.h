#pragma once
// What `reach` and `map` share: the fit that they start from, and draft values by name.

#include "cli/commands/load.h"
#include "cli/write/judged.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// The job fitted, or nothing after a complaint: of its body, or that it has no answer.
std::optional<Judged> fit_to_explore(const Loaded& loaded, Complaints& complaints);

/// The draft value of this name that the garment is free to choose; nothing after a complaint.
std::optional<ValueKey> free_value(const std::string& name,
                                   const Judged& judged,
                                   const Source& source);

/// True when the garment has the value and may choose it.
bool is_free(ValueKey key, const FitResult& result);

}  // namespace easewright
