#pragma once
// What a drawn outline must be, whatever it shows.

#include "model/figure/path.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace easewright::tests {

/// How often a polyline crosses itself. Neighbouring chords share an end and don't count; nor do
/// the first and the last of a closed one.
inline int crossings(const std::vector<figure::Point>& line) {
  using figure::Point;
  const size_t n = line.size() < 2 ? 0 : line.size() - 1;
  const auto side = [](const Point& a, const Point& b, const Point& p) {
    return geometry::cross(Point(b - a), Point(p - a));
  };
  int count = 0;
  for (size_t i = 0; i < n; ++i) {
    const Point &a = line[i], &b = line[i + 1];
    const auto [left, right] = std::minmax(a.x, b.x);
    const auto [low, high] = std::minmax(a.y, b.y);
    for (size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;
      const Point &c = line[j], &d = line[j + 1];
      if (std::max(c.x, d.x) < left || std::min(c.x, d.x) > right || std::max(c.y, d.y) < low ||
          std::min(c.y, d.y) > high)
        continue;
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) ++count;
    }
  }
  return count;
}

/// The largest distance between the ends of curves that should meet.
inline double widest_gap(const figure::Path& path) {
  double gap = 0;
  for (size_t i = 0; i + 1 < path.size(); ++i)
    gap =
        std::max(gap, std::hypot(path[i].p3.x - path[i + 1].p0.x, path[i].p3.y - path[i + 1].p0.y));
  return gap;
}
inline double open_by(const figure::Path& path) {
  if (path.empty()) return 1e9;
  return std::hypot(path.back().p3.x - path.front().p0.x, path.back().p3.y - path.front().p0.y);
}

inline bool all_finite(const std::vector<figure::Point>& line) {
  return std::all_of(line.begin(), line.end(), [](const figure::Point& p) {
    return std::isfinite(p.x) && std::isfinite(p.y);
  });
}

/// Where an outline crosses a height, x from left to right.
inline std::vector<double> at_height(const std::vector<figure::Point>& line, double height) {
  std::vector<double> xs;
  for (size_t i = 0; i + 1 < line.size(); ++i) {
    const auto &a = line[i], &b = line[i + 1];
    if ((a.y < height) == (b.y < height)) continue;
    xs.push_back(a.x + (b.x - a.x) * (height - a.y) / (b.y - a.y));
  }
  std::sort(xs.begin(), xs.end());
  return xs;
}

}  // namespace easewright::tests
