#include "model/pattern/polyline.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using geometry::cross;
using geometry::dot;

double norm(const Vec2<double>& v) { return std::hypot(v.x, v.y); }

Vec2<double> unit(const Vec2<double>& v) { return (1.0 / norm(v)) * v; }

/// The chord in which a length along the line falls, and what is left of it there.
std::pair<size_t, double> chord_at(const Polyline& line, double along) {
  double left = std::max(along, 0.0);
  for (size_t i = 0; i + 2 < line.size(); ++i) {
    const double chord = norm(line[i + 1] - line[i]);
    if (left <= chord) return {i, left};
    left -= chord;
  }
  const size_t last = line.size() - 2;
  return {last, std::min(left, norm(line[last + 1] - line[last]))};
}

}  // namespace

int chords_for(double wanted) {
  constexpr int kMost = 4096;
  // Written so that what is no number gives one chord.
  if (!(wanted > 1)) return 1;
  return wanted < kMost ? static_cast<int>(std::ceil(wanted)) : kMost;
}

Polyline flattened(const geometry::Bezier<double>& c) {
  // A chord over a step h of a curve with |second derivative| <= M parts from it by h^2 M / 8 at
  // most; a cubic's is 6 times its control polygon's second differences at most.
  const double bend = 6 * std::max(norm(c.p0 - 2.0 * c.p1 + c.p2), norm(c.p1 - 2.0 * c.p2 + c.p3));
  const int steps = chords_for(std::sqrt(bend / (8 * kFlat)));
  Polyline line;
  if (bend < 1e-9) return {c.p0, c.p3};
  line.reserve(static_cast<size_t>(steps) + 1);
  for (int i = 0; i <= steps; ++i) line.push_back(c.at(static_cast<double>(i) / steps));
  return line;
}

Polyline reversed(Polyline line) {
  std::reverse(line.begin(), line.end());
  return line;
}

void append(Polyline& line, const Polyline& tail) {
  line.insert(line.end(), tail.begin() + (line.empty() ? 0 : 1), tail.end());
}

double length_of(const Polyline& line) {
  double sum = 0;
  for (size_t i = 0; i + 1 < line.size(); ++i) sum += norm(line[i + 1] - line[i]);
  return sum;
}

Vec2<double> direction_at(const Polyline& line, double along) {
  const size_t i = chord_at(line, along).first;
  return unit(line[i + 1] - line[i]);
}

Vec2<double> point_at(const Polyline& line, double along) {
  const auto [i, left] = chord_at(line, along);
  return line[i] + left * unit(line[i + 1] - line[i]);
}

Polyline part_of(const Polyline& line, double from, double to) {
  Polyline part{point_at(line, from)};
  double at = 0;
  for (size_t i = 0; i + 1 < line.size(); ++i) {
    if (at > from && at < to) part.push_back(line[i]);
    at += norm(line[i + 1] - line[i]);
  }
  part.push_back(point_at(line, to));
  return part;
}

double nearest_along(const Polyline& line, const Vec2<double>& p) {
  double best = 0, least = -1, at = 0;
  for (size_t i = 0; i + 1 < line.size(); ++i) {
    const Vec2<double> chord = line[i + 1] - line[i];
    const double size = norm(chord);
    const double along = std::clamp(dot(chord, p - line[i]) / size, 0.0, size);
    const double off = norm(p - (line[i] + (along / size) * chord));
    if (least < 0 || off < least) {
      least = off;
      best = at + along;
    }
    at += size;
  }
  return best;
}

Vec2<double> outward_of(const Vec2<double>& direction) { return {direction.y, -direction.x}; }

Polyline parallel(const Polyline& line, double distance, const Ends& ends) {
  Polyline moved;
  moved.reserve(line.size());
  Vec2<double> before = outward_of(unit(line[1] - line[0]));
  moved.push_back(line[0] + distance * outward_of(ends.leaves));
  for (size_t i = 1; i + 1 < line.size(); ++i) {
    const Vec2<double> after = outward_of(unit(line[i + 1] - line[i]));
    // The two moved chords meet on the bisector of their normals.
    const Vec2<double> sum = before + after;
    moved.push_back(line[i] + (2 * distance / dot(sum, sum)) * sum);
    before = after;
  }
  moved.push_back(line.back() + distance * outward_of(ends.arrives));
  return moved;
}

Polyline parallel(const Polyline& line, double distance) {
  return parallel(line, distance, ends_of(line));
}

Ends ends_of(const Polyline& line) {
  const size_t n = line.size();
  return {unit(line[1] - line[0]), unit(line[n - 1] - line[n - 2])};
}

Polyline without_idle_points(const Polyline& line) {
  constexpr double kOff = 1e-7;
  Polyline kept;
  for (size_t i = 0; i < line.size(); ++i) {
    if (i > 0 && i + 1 < line.size()) {
      const Vec2<double> before = line[i] - kept.back(), after = line[i + 1] - line[i];
      const Vec2<double> chord = before + after;
      if (dot(before, after) >= 0 && std::abs(cross(before, after)) <= kOff * norm(chord)) continue;
    }
    kept.push_back(line[i]);
  }
  return kept;
}

std::optional<Crossing> crossing_near(const Polyline& a,
                                      const Polyline& b,
                                      const Vec2<double>& near_to) {
  std::optional<Crossing> best;
  for (size_t i = 0; i + 1 < a.size(); ++i) {
    const Vec2<double> u = a[i + 1] - a[i];
    for (size_t j = 0; j + 1 < b.size(); ++j) {
      const Vec2<double> v = b[j + 1] - b[j];
      const double turn = cross(u, v);
      if (std::abs(turn) <= 1e-9 * norm(u) * norm(v)) continue;
      const Vec2<double> apart = b[j] - a[i];
      const double s = cross(apart, v) / turn, t = cross(apart, u) / turn;
      constexpr double kOn = 1e-9;
      if (s < -kOn || s > 1 + kOn || t < -kOn || t > 1 + kOn) continue;
      const Vec2<double> at = a[i] + s * u;
      if (!best || norm(at - near_to) < norm(best->at - near_to)) best = Crossing{at, i, j};
    }
  }
  return best;
}

double area_of(const Polyline& outline) {
  double twice = 0;
  for (size_t i = 0; i < outline.size(); ++i)
    twice += cross(outline[i], outline[(i + 1) % outline.size()]);
  return twice / 2;
}

}  // namespace easewright
