#include "model/pattern/nesting/grid.h"

#include "model/pattern/nesting/clip.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace easewright::nesting {

std::int64_t to_grid(double cm) { return std::llround(cm * kUnitsPerCm); }

double to_cm(std::int64_t units) { return static_cast<double>(units) / kUnitsPerCm; }

GridBox box_of(const GridPolygon& polygon) {
  if (polygon.empty()) return {};
  GridBox box{polygon[0].x, polygon[0].y, polygon[0].x, polygon[0].y};
  for (const GridPoint& p : polygon) {
    box.x0 = std::min(box.x0, p.x);
    box.x1 = std::max(box.x1, p.x);
    box.y0 = std::min(box.y0, p.y);
    box.y1 = std::max(box.y1, p.y);
  }
  return box;
}

double area_of(const GridPolygon& polygon) {
  // About the first point, so that a small polygon far off keeps its digits.
  double twice = 0;
  for (size_t i = 1; i + 1 < polygon.size(); ++i) {
    twice += static_cast<double>(cross(polygon[i] - polygon[0], polygon[i + 1] - polygon[0]));
  }
  return 0.5 * twice;
}

namespace {

GridPolygon without_idle_points(const GridPolygon& polygon) {
  GridPolygon kept = polygon;
  for (bool changed = true; changed && kept.size() >= 3;) {
    changed = false;
    GridPolygon next;
    const size_t n = kept.size();
    for (size_t i = 0; i < n; ++i) {
      const GridPoint before = next.empty() ? kept[n - 1] : next.back();
      if (cross(kept[i] - before, kept[(i + 1) % n] - kept[i]) == 0) {
        changed = true;
      } else {
        next.push_back(kept[i]);
      }
    }
    kept = std::move(next);
  }
  if (kept.size() < 3) kept.clear();
  return kept;
}

}  // namespace

GridPolygon on_grid(const std::vector<geometry::Vec2<double>>& outline_cm) {
  GridPolygon raw;
  for (const auto& p : outline_cm) raw.push_back({to_grid(p.x), to_grid(p.y)});
  // The union cleans up crossings; a sound outline comes back as it is.
  std::vector<GridPolygon> islands = outer_boundaries({raw});
  for (GridPolygon& island : islands) island = without_idle_points(island);
  std::erase_if(islands, [](const GridPolygon& p) { return p.empty(); });
  if (islands.empty()) return {};
  if (islands.size() == 1) return islands[0];
  GridPolygon all;
  for (const GridPolygon& island : islands) all.insert(all.end(), island.begin(), island.end());
  return hull_of(all);
}

GridPolygon widened(const GridPolygon& polygon, double units) {
  if (units <= 0) return polygon;
  std::vector<GridPolygon> islands = offset_boundaries(polygon, units);
  if (islands.size() == 1) return without_idle_points(islands[0]);
  GridPolygon all = polygon;
  for (const GridPolygon& island : islands) all.insert(all.end(), island.begin(), island.end());
  return hull_of(all);
}

bool is_rectilinear(const GridPolygon& polygon) {
  for (size_t i = 0; i < polygon.size(); ++i) {
    const GridPoint side = polygon[(i + 1) % polygon.size()] - polygon[i];
    if (side.x != 0 && side.y != 0) return false;
  }
  return true;
}

GridPolygon hull_of(GridPolygon points) {
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return {};
  GridPolygon hull;
  const auto add = [&hull](GridPoint p, size_t floor) {
    while (hull.size() > floor &&
           cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0) {
      hull.pop_back();
    }
    hull.push_back(p);
  };
  for (const GridPoint& p : points) add(p, 1);
  const size_t floor = hull.size();
  for (size_t i = points.size() - 1; i-- > 0;) add(points[i], floor);
  hull.pop_back();
  return hull.size() < 3 ? GridPolygon{} : hull;
}

namespace {

bool inside_or_on(GridPoint p, GridPoint a, GridPoint b, GridPoint c) {
  return cross(b - a, p - a) >= 0 && cross(c - b, p - b) >= 0 && cross(a - c, p - c) >= 0;
}

double distance_to_line(GridPoint p, GridPoint a, GridPoint b) {
  const double along = std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
  return std::abs(static_cast<double>(cross(b - a, p - a))) / std::max(1.0, along);
}

/// Where the lines a-b and d-c, both prolonged beyond b and c, meet; none when they part.
std::optional<GridPoint> meeting(GridPoint a, GridPoint b, GridPoint c, GridPoint d) {
  const GridPoint u = b - a, v = c - d;
  const double turn = static_cast<double>(cross(u, v));
  if (turn >= 0) return std::nullopt;  // v comes from the other end: an inward turn here
  const double k = static_cast<double>(cross(d - a, v)) / turn;
  const double x = static_cast<double>(a.x) + k * static_cast<double>(u.x);
  const double y = static_cast<double>(a.y) + k * static_cast<double>(u.y);
  if (!(k >= 1) || std::abs(x) > static_cast<double>(kFarthest) ||
      std::abs(y) > static_cast<double>(kFarthest)) {
    return std::nullopt;
  }
  return GridPoint{std::llround(x), std::llround(y)};
}

/// One way to lose a corner, and by how far it moves the boundary.
struct Loss {
  bool side = false;  ///< the side to the next corner is cut off, else the hollow corner is filled
  GridPoint corner;
  double moved = 0;
};

bool triangle_is_empty(const GridPolygon& p, GridPoint a, GridPoint b, GridPoint c) {
  for (const GridPoint& q : p) {
    if (q == a || q == b || q == c) continue;
    if (inside_or_on(q, a, b, c)) return false;
  }
  return true;
}

/// What the corner i may lose; none where more than `units` would move, or something is in the way.
std::optional<Loss> loss_at(const GridPolygon& p, size_t i, double units) {
  const size_t n = p.size();
  const GridPoint a = p[(i + n - 1) % n], b = p[i], c = p[(i + 1) % n], d = p[(i + 2) % n];
  if (cross(b - a, c - b) <= 0) {
    const double moved = distance_to_line(b, a, c);
    if (moved > units || !triangle_is_empty(p, a, c, b)) return std::nullopt;
    return Loss{false, {}, moved};
  }
  if (cross(c - b, d - c) <= 0) return std::nullopt;
  const auto corner = meeting(a, b, c, d);
  if (!corner) return std::nullopt;
  const double moved = distance_to_line(*corner, b, c);
  if (moved > units || !triangle_is_empty(p, b, *corner, c)) return std::nullopt;
  return Loss{true, *corner, moved};
}

}  // namespace

GridPolygon coarsened(const GridPolygon& polygon, double units) {
  GridPolygon p = polygon;
  std::vector<std::optional<Loss>> losses(p.size());
  for (size_t i = 0; i < p.size(); ++i) losses[i] = loss_at(p, i, units);
  while (p.size() > 4) {
    size_t best = p.size();
    for (size_t i = 0; i < p.size(); ++i) {
      if (losses[i] && (best == p.size() || losses[i]->moved < losses[best]->moved)) best = i;
    }
    if (best == p.size()) break;
    if (losses[best]->side) p[(best + 1) % p.size()] = losses[best]->corner;
    p.erase(p.begin() + static_cast<std::ptrdiff_t>(best));
    losses.erase(losses.begin() + static_cast<std::ptrdiff_t>(best));
    // Only the neighbours' corners have changed.
    const size_t n = p.size();
    for (size_t k = 0; k < 5; ++k) {
      const size_t i = (best + n + n - 3 + k) % n;
      losses[i] = loss_at(p, i, units);
    }
  }
  return p;
}

bool is_convex(const GridPolygon& p) {
  const size_t n = p.size();
  for (size_t i = 0; i < n; ++i) {
    const GridPoint a = p[i], b = p[(i + 1) % n], c = p[(i + 2) % n];
    if (cross(b - a, c - b) <= 0) return false;
  }
  return true;
}

double common_area(const GridPolygon& a, const GridPolygon& b) {
  double sum = 0;
  for (const GridPolygon& p : intersection_boundaries(a, b)) sum += area_of(p);
  return sum;
}

}  // namespace easewright::nesting
