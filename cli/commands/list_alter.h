#pragma once
// What `easewright list` knows of alterations: moves, changes, faults, and flat measurements with
// how to take them.

#include "cli/read/complaint.h"
#include "cli/write/page.h"

#include <string_view>

namespace easewright {

/// A name, its unit in brackets, and what it means.
void list_entry(Page& page,
                std::string_view name,
                std::string_view unit,
                std::string_view definition);

void list_moves(Page& page, Complaints& complaints);
void list_changes(Page& page, Complaints& complaints);
void list_faults(Page& page, Complaints& complaints);
void list_flat(Page& page, Complaints& complaints);

}  // namespace easewright
