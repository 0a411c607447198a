#pragma once
// Flat measurements of a garment, and amounts that are taken on one, each with its error:
//
//   chest width: 48 cm
//   chest width: 48 cm +- 0.3 cm
//   chest width: {amount: 48 cm, error: 0.3 cm}

#include "cli/read/quantity.h"
#include "cli/read/section.h"
#include "model/alter/flat.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// 'dress', 'top', 'skirt', in the order of MadeKind.
const std::vector<std::string>& kind_words();

/// False after a complaint at `node`: a top has no skirt, a dress and a skirt have one.
bool agrees_with_skirt(MadeKind kind,
                       const Switches& switches,
                       const YamlNode& node,
                       const std::string& path,
                       const Source& source);

/// An amount and, where it is given, its error. Nothing after a complaint.
std::optional<MeasuredQuantity> amount_of(const YamlNode& node,
                                          const std::string& path,
                                          const Source& source,
                                          Dimension dimension);

/// A map of flat measurements by name; complains of what is unknown, no part of such a garment or
/// no length that a garment has.
std::vector<FlatReading> read_flat(const YamlNode& map,
                                   const std::string& path,
                                   const Source& source,
                                   MadeKind kind,
                                   const Switches& switches);

}  // namespace easewright
