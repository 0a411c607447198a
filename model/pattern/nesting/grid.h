#pragma once
// Polygons on a whole-number grid, where a turn can be told exactly, and what nesting does to one:
// widen it for the scissors, drop corners it can do without.
//
// Counter-clockwise, first point not repeated. One unit is a micrometre; everything stays within
// kFarthest, so that cross products fit 64 bits.

#include "model/geometry/vec2.h"

#include <cstdint>
#include <vector>

namespace easewright::nesting {

inline constexpr double kUnitsPerCm = 1e4;
inline constexpr std::int64_t kFarthest = std::int64_t{1} << 30;  ///< about a kilometre

struct GridPoint {
  std::int64_t x = 0, y = 0;
  friend GridPoint operator+(GridPoint a, GridPoint b) { return {a.x + b.x, a.y + b.y}; }
  friend GridPoint operator-(GridPoint a, GridPoint b) { return {a.x - b.x, a.y - b.y}; }
  friend bool operator==(const GridPoint&, const GridPoint&) = default;
  friend auto operator<=>(const GridPoint&, const GridPoint&) = default;
};

using GridPolygon = std::vector<GridPoint>;

struct GridBox {
  std::int64_t x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  std::int64_t width() const { return x1 - x0; }
  std::int64_t height() const { return y1 - y0; }
};

/// > 0 when b lies counter-clockwise of a; exact.
inline std::int64_t cross(GridPoint a, GridPoint b) { return a.x * b.y - a.y * b.x; }
inline std::int64_t dot(GridPoint a, GridPoint b) { return a.x * b.x + a.y * b.y; }

std::int64_t to_grid(double cm);
double to_cm(std::int64_t units);
GridBox box_of(const GridPolygon& polygon);
double area_of(const GridPolygon& polygon);  ///< square units, > 0 when counter-clockwise

/// The outline rounded to the grid, counter-clockwise, repeated points and points on a straight
/// line left out. Where it crosses itself, the outer boundary of all it covers (of several islands,
/// their convex hull). Empty when it covers nothing.
GridPolygon on_grid(const std::vector<geometry::Vec2<double>>& outline_cm);

/// Everything within `units` of the polygon, corners mitred to twice that distance; holes that
/// close up are filled.
GridPolygon widened(const GridPolygon& polygon, double units);

/// A polygon with fewer corners that contains the given one: hollow corners filled and short sides
/// cut off by prolonging their neighbours, each as long as nothing moves by more than `units`.
GridPolygon coarsened(const GridPolygon& polygon, double units);

/// Whether every side runs along x or y.
bool is_rectilinear(const GridPolygon& polygon);

GridPolygon hull_of(GridPolygon points);

/// Whether every corner turns counter-clockwise.
bool is_convex(const GridPolygon& polygon);

/// Area that both cover, square units.
double common_area(const GridPolygon& a, const GridPolygon& b);

}  // namespace easewright::nesting
