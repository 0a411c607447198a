#pragma once
// Lines of a drawing: Bezier curves that follow each other, in cm. x to the viewer's right, y the
// height above the floor.

#include "model/geometry/bezier.h"

#include <vector>

namespace easewright::figure {

using Point = geometry::Vec2<double>;
using Curve = geometry::Bezier<double>;

/// Each curve begins where the one before it ends.
using Path = std::vector<Curve>;

/// The path as points, `steps` chords a curve, both ends included; a straight curve is one chord.
std::vector<Point> flat(const Path& path, int steps = 12);

Path reversed(const Path& path);
/// Mirrored about the line x = 0.
Path mirrored(const Path& path);
/// Appends `more` to `path`, with a straight line between where they don't meet.
void join(Path& path, const Path& more);
/// A straight line to `to` from where the path ends.
void line_to(Path& path, const Point& to);

/// A smooth path through the points: each curve's ends run along the chord of its neighbours.
Path through(const std::vector<Point>& points);

}  // namespace easewright::figure
