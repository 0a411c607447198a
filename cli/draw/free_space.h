#pragma once
// Where words fit: what is taken already, and the search for a place inside an outline.

#include "cli/draw/canvas.h"

#include <optional>
#include <vector>

namespace easewright::draw {

/// True when the point lies inside the closed outline.
bool is_inside(const Line& outline, const Point& p);

/// True when two closed convex outlines share more than an edge.
bool convex_meet(const Line& a, const Line& b);

/// True when the polyline (its end joined to its beginning where closed) comes into the box.
bool runs_into(const Line& line, bool closed, const Box& box);

/// The parts of a polyline that lie inside a closed outline, in its order.
std::vector<Line> parts_inside(const Line& line, const Line& outline);

/// The corners of the words' box, as they are turned.
Line corners_of(const Words& words);

/// A line of fewer points that parts from it by no more than `off`.
Line simplified(const Line& line, double off);

class FreeSpace {
 public:
  void take(Line convex) { taken_.push_back(std::move(convex)); }
  void take_line(const Line& line) { lines_.push_back(line); }

  /// Whether a convex outline lies clear of all that is taken; lines may be crossed.
  bool is_clear(const Line& convex) const;
  /// Whether a box lies clear of all of it, lines too.
  bool is_clear(const Box& box) const;

  /// The place of a box of this size inside the outline, clear of all that is taken, that is
  /// nearest to a point, of places `step` apart; nothing where it fits nowhere.
  std::optional<Box> find(const Line& outline,
                          double width,
                          double height,
                          const Point& near_to,
                          double step = 0.5) const;

 private:
  std::vector<Line> taken_, lines_;
};

}  // namespace easewright::draw
