#pragma once
// The vocabularies of alterations: moves/*.yaml and faults/*.yaml of the data folder.

#include "cli/read/complaint.h"
#include "model/alter/plan.h"

#include <optional>
#include <string>

namespace easewright {

/// Nothing after a complaint.
std::optional<AlterCatalogue> read_alter_catalogue(const std::string& data_folder,
                                                   Complaints& complaints);

}  // namespace easewright
