#pragma once
// Switches in files: 'side dart: sewn', and the conditions of a rule: 'when: {lining: lined, waist:
// [elastic, seam]}'.

#include "cli/read/section.h"
#include "model/style.h"

#include <string_view>
#include <vector>

namespace easewright {

/// The switch of this name, or nothing after a complaint at `place` that suggests the nearest.
std::optional<Switch> switch_named(std::string_view name,
                                   Place place,
                                   std::string_view path,
                                   const Source& source);

/// Sets the style's switches from a map of them. 'put on' may name one way or a list of ways to
/// try, in order.
void read_switches(const YamlNode& map, std::string_view path, const Source& source, Style& style);

/// Sets one switch, or the ways to put the garment on. The build of the body is no choice of the
/// style's.
void read_switch(
    Switch which, const YamlNode& node, std::string_view path, const Source& source, Style& style);

/// The conditions in a map; those with an error are left out after a complaint.
std::vector<Condition> read_conditions(const YamlNode& map,
                                       std::string_view path,
                                       const Source& source);

}  // namespace easewright
