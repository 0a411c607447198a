#pragma once
// Everything that each job is read against: rules, values and body tables. Of styles and cloths
// only those that a job names are read, so that a growing library costs a run nothing.

#include "cli/read/complaint.h"
#include "model/job.h"

#include <optional>
#include <string>

namespace easewright {

/// Reads tables/values.yaml, tables/bodies-*.csv and rules/*.yaml. Nothing after a complaint.
std::optional<Catalogue> read_catalogue(const std::string& data_folder, Complaints& complaints);

}  // namespace easewright
