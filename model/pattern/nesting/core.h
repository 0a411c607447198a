#pragma once
// Cores: rectangles inside the pieces. Where a core has no room none of its pieces has, so on a
// long cloth the search for a place may begin where the core's last one ended.

#include "model/pattern/nesting/ways.h"

namespace easewright::nesting {

/// A large rectangle, sides along x and y, inside the polygon: the largest on a raster of 32 by 32.
/// Empty where a polygon is too thin for the raster.
GridBox inscribed_rectangle(const GridPolygon& polygon);

/// Gives the ways that can share one a core, and adds the cores' own ways.
void add_cores(Prepared& prepared);

}  // namespace easewright::nesting
