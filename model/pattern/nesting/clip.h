#pragma once
// The few calls on polyclipping (Clipper 1) that nesting needs, so that its header stays in one
// file. All results are closed boundaries, outer ones counter-clockwise, holes clockwise. Crossing
// points are rounded to the grid: a boundary may be off by kRounding.

#include "model/pattern/nesting/grid.h"

#include <vector>

namespace easewright::nesting {

/// Half a unit for each of two crossing points' coordinates, and as much again for a side between
/// two such points.
inline constexpr double kRounding = 1.5;

/// All that the closed curves wind round more often counter-clockwise than clockwise.
std::vector<GridPolygon> wound_round(const std::vector<GridPolygon>& curves);

/// Outer boundaries of the union of a polygon that may run either way round.
std::vector<GridPolygon> outer_boundaries(const std::vector<GridPolygon>& polygons);

/// Outer boundaries of the polygon widened by `units`.
std::vector<GridPolygon> offset_boundaries(const GridPolygon& polygon, double units);

std::vector<GridPolygon> intersection_boundaries(const GridPolygon& a, const GridPolygon& b);

}  // namespace easewright::nesting
