#include "model/figure/path.h"

#include <algorithm>
#include <cmath>

namespace easewright::figure {
namespace {

constexpr double kMeet = 1e-9;

bool is_straight(const Curve& c) {
  const Point chord = c.p3 - c.p0;
  const double reach = 1e-9 * (1 + std::abs(chord.x) + std::abs(chord.y));
  return std::abs(geometry::cross(chord, Point(c.p1 - c.p0))) < reach &&
         std::abs(geometry::cross(chord, Point(c.p2 - c.p0))) < reach;
}

}  // namespace

std::vector<Point> flat(const Path& path, int steps) {
  std::vector<Point> points;
  if (path.empty()) return points;
  points.push_back(path.front().p0);
  for (const Curve& curve : path) {
    const int chords = is_straight(curve) ? 1 : steps;
    for (int i = 1; i <= chords; ++i)
      points.push_back(i == chords ? curve.p3 : curve.at(static_cast<double>(i) / chords));
  }
  return points;
}

Path reversed(const Path& path) {
  Path back;
  for (auto c = path.rbegin(); c != path.rend(); ++c) back.push_back({c->p3, c->p2, c->p1, c->p0});
  return back;
}

Path mirrored(const Path& path) {
  Path other = path;
  for (Curve& c : other)
    for (Point* p : {&c.p0, &c.p1, &c.p2, &c.p3}) p->x = -p->x;
  return other;
}

void line_to(Path& path, const Point& to) {
  path.push_back(geometry::straight(path.back().p3, to));
}

void join(Path& path, const Path& more) {
  if (more.empty()) return;
  if (!path.empty()) {
    // Not geometry::distance, which never falls below 1e-6.
    const Point gap = more.front().p0 - path.back().p3;
    if (std::hypot(gap.x, gap.y) > kMeet) line_to(path, more.front().p0);
  }
  path.insert(path.end(), more.begin(), more.end());
}

Path through(const std::vector<Point>& points) {
  Path path;
  const size_t n = points.size();
  const auto along = [&](size_t i) {
    const Point& before = points[i == 0 ? 0 : i - 1];
    const Point& after = points[std::min(i + 1, n - 1)];
    return 0.5 * (after - before);
  };
  for (size_t i = 0; i + 1 < n; ++i) {
    path.push_back({points[i],
                    points[i] + (1.0 / 3) * along(i),
                    points[i + 1] - (1.0 / 3) * along(i + 1),
                    points[i + 1]});
  }
  return path;
}

}  // namespace easewright::figure
