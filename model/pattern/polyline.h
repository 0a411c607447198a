#pragma once
// Polylines: an edge of a piece once it is flattened. Lengths in cm; 'outward' is to the right of
// the direction in which a counter-clockwise outline is walked.

#include "model/geometry/bezier.h"

#include <optional>
#include <vector>

namespace easewright {

using geometry::Vec2;
using Polyline = std::vector<Vec2<double>>;

/// A curve and its chords part by no more than this, cm.
inline constexpr double kFlat = 0.001;

/// Chords for a number that a bend asks for: at least 1, and no more than anybody could cut.
int chords_for(double wanted);

Polyline flattened(const geometry::Bezier<double>& curve);
Polyline reversed(Polyline line);
/// Adds `tail`, whose first point is the last of `line`.
void append(Polyline& line, const Polyline& tail);

double length_of(const Polyline& line);
/// The point this far along; before the beginning and past the end it is the end point.
Vec2<double> point_at(const Polyline& line, double along);
/// Unit direction this far along.
Vec2<double> direction_at(const Polyline& line, double along);
/// The part from one length to another.
Polyline part_of(const Polyline& line, double from, double to);
/// How far along the nearest point to p lies.
double nearest_along(const Polyline& line, const Vec2<double>& p);

Vec2<double> outward_of(const Vec2<double>& direction);
/// Unit directions in which a line begins and ends. A flattened curve's first and last chord are up
/// to 2 degrees off its own.
struct Ends {
  Vec2<double> leaves, arrives;
};
Ends ends_of(const Polyline& line);  ///< of its chords

/// The parallel line at a distance outwards (inwards when negative): each chord is moved exactly.
Polyline parallel(const Polyline& line, double distance);
Polyline parallel(const Polyline& line, double distance, const Ends& ends);

/// Without points that lie on the straight way between their neighbours.
Polyline without_idle_points(const Polyline& line);

/// A crossing of two polylines.
struct Crossing {
  Vec2<double> at;
  size_t first = 0, second = 0;  ///< chords, by their first points
};
/// The crossing nearest to a point; none where they don't cross.
std::optional<Crossing> crossing_near(const Polyline& a,
                                      const Polyline& b,
                                      const Vec2<double>& near_to);

/// Signed area of a closed outline, positive when counter-clockwise.
double area_of(const Polyline& outline);

}  // namespace easewright
