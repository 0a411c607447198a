#pragma once
// Bodies that nobody has, drawn from the shipped tables: jointly normal with their means, s.d. and
// correlations (data/tables/bodies-*.csv, where the sources stand). For what needs many bodies
// where no survey is at hand.

#include "model/body/estimate.h"

#include <cstdint>
#include <string>
#include <vector>

namespace easewright::tests {

/// `count` women with every measure that their table has, waist measures at the natural level, the
/// slope as a garment's, to the tape's millimetre. Who would be refused as impossible is drawn
/// again. The same `seed`, the same bodies.
std::vector<Body> invented_women(const BodyTables& tables, size_t count, std::uint64_t seed);

/// A table of bodies as `easewright group` reads it; all have to share level and reading.
std::string table_of(const std::vector<Body>& bodies);

}  // namespace easewright::tests
