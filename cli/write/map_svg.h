#pragma once
// The map as a drawing, read as well in black and white: each rule that is missed first has a hatch
// and a letter of its own, what holds is left white, and both sides are ruled like a tape.

#include "cli/write/map.h"

#include <string>

namespace easewright {

std::string write_map_svg(const Judged& judged, const ValueMap& map, const MapKey& key);

}  // namespace easewright
