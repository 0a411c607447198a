#include "cli/draw/free_space.h"

#include "cli/draw/lettering.h"

#include <algorithm>
#include <cmath>

namespace easewright::draw {
namespace {

using geometry::cross;
using geometry::dot;

/// Whether some side of `a` has all of `b` on its outer side.
bool a_side_parts(const Line& a, const Line& b) {
  double area = 0;
  for (size_t i = 0; i < a.size(); ++i) area += cross(a[i], a[(i + 1) % a.size()]);
  const double sense = area < 0 ? -1 : 1;
  for (size_t i = 0; i < a.size(); ++i) {
    const Point side = a[(i + 1) % a.size()] - a[i];
    const bool apart = std::all_of(b.begin(), b.end(), [&](const Point& p) {
      return sense * cross(side, Point(p - a[i])) <= 1e-9;
    });
    if (apart) return true;
  }
  return false;
}

/// Whether a chord comes into a box: Liang and Barsky's clipping, from memory.
bool chord_enters(const Point& from, const Point& to, const Box& box) {
  double enter = 0, leave = 1;
  const auto clip = [&](double run, double room) {
    if (run == 0) return room > 0;
    const double t = room / run;
    if (run < 0) {
      enter = std::max(enter, t);
    } else {
      leave = std::min(leave, t);
    }
    return enter < leave;
  };
  const Point run = to - from;
  return clip(-run.x, from.x - box.least.x) && clip(run.x, box.most.x - from.x) &&
         clip(-run.y, from.y - box.least.y) && clip(run.y, box.most.y - from.y);
}

double off_chord(const Point& p, const Point& from, const Point& to) {
  const Point run = to - from;
  const double length = dot(run, run);
  const double t = length > 0 ? std::clamp(dot(Point(p - from), run) / length, 0.0, 1.0) : 0;
  const Point off = p - (from + t * run);
  return std::hypot(off.x, off.y);
}

/// Douglas and Peucker: keeps the farthest point as long as it is too far off.
void simplify(const Line& line, size_t first, size_t last, double off, Line& out) {
  size_t farthest = first;
  double most = off;
  for (size_t i = first + 1; i < last; ++i) {
    const double here = off_chord(line[i], line[first], line[last]);
    if (here > most) {
      most = here;
      farthest = i;
    }
  }
  if (farthest != first) {
    simplify(line, first, farthest, off, out);
    simplify(line, farthest, last, off, out);
  } else {
    out.push_back(line[last]);
  }
}

}  // namespace

bool is_inside(const Line& outline, const Point& p) {
  bool inside = false;
  for (size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
    const Point &a = outline[i], &b = outline[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
      inside = !inside;
  }
  return inside;
}

bool convex_meet(const Line& a, const Line& b) {
  return !a_side_parts(a, b) && !a_side_parts(b, a);
}

bool runs_into(const Line& line, bool closed, const Box& box) {
  for (size_t i = 0; i + 1 < line.size(); ++i)
    if (chord_enters(line[i], line[i + 1], box)) return true;
  return closed && line.size() > 1 && chord_enters(line.back(), line.front(), box);
}

std::vector<Line> parts_inside(const Line& line, const Line& outline) {
  std::vector<Line> parts;
  bool open = false;
  for (size_t i = 0; i + 1 < line.size(); ++i) {
    const Point run = line[i + 1] - line[i];
    std::vector<double> cuts{0, 1};
    for (size_t k = 0; k < outline.size(); ++k) {
      const Point side = outline[(k + 1) % outline.size()] - outline[k];
      const double turn = cross(run, side);
      if (turn == 0) continue;
      const Point to = outline[k] - line[i];
      const double along = cross(to, side) / turn, across = cross(to, run) / turn;
      if (along > 0 && along < 1 && across >= 0 && across <= 1) cuts.push_back(along);
    }
    std::sort(cuts.begin(), cuts.end());
    for (size_t c = 0; c + 1 < cuts.size(); ++c) {
      const Point from = line[i] + cuts[c] * run, to = line[i] + cuts[c + 1] * run;
      const bool inside = is_inside(outline, 0.5 * (from + to));
      if (inside && !open) parts.push_back({from});
      if (inside) parts.back().push_back(to);
      open = inside;
    }
  }
  return parts;
}

Line corners_of(const Words& words) {
  Words flat = words;
  flat.at = {0, 0};
  flat.lettering.turn = 0;
  Line corners = rectangle(box_of(flat));
  const Lay lay{1, words.lettering.turn, words.at};
  for (Point& p : corners) p = lay.of(p);
  return corners;
}

Line simplified(const Line& line, double off) {
  if (line.size() < 3) return line;
  Line out{line.front()};
  simplify(line, 0, line.size() - 1, off, out);
  return out;
}

bool FreeSpace::is_clear(const Line& convex) const {
  return std::none_of(
      taken_.begin(), taken_.end(), [&](const Line& t) { return convex_meet(t, convex); });
}

bool FreeSpace::is_clear(const Box& box) const {
  return is_clear(rectangle(box)) && std::none_of(lines_.begin(), lines_.end(), [&](const Line& l) {
           return runs_into(l, false, box);
         });
}

std::optional<Box> FreeSpace::find(
    const Line& outline, double width, double height, const Point& near_to, double step) const {
  const Box all = box_of(outline);
  if (width > all.width() || height > all.height()) return std::nullopt;
  if (!std::isfinite(all.width() + all.height())) return std::nullopt;
  // However large a piece is drawn, no more places than these are looked at.
  constexpr double kMostPlaces = 2e5;
  step = std::max(step, std::sqrt(all.width() * all.height() / kMostPlaces));
  Line corners;
  for (double x = all.least.x; x <= all.most.x - width; x += step)
    for (double y = all.least.y; y <= all.most.y - height; y += step) corners.push_back({x, y});
  const Point wanted = near_to - Point{0.5 * width, 0.5 * height};
  const auto off = [&wanted](const Point& p) {
    const Point d = p - wanted;
    return dot(d, d);
  };
  std::stable_sort(corners.begin(), corners.end(), [&off](const Point& a, const Point& b) {
    return off(a) < off(b);
  });
  for (const Point& corner : corners) {
    const Box box{corner, corner + Point{width, height}};
    if (is_inside(outline, corner) && !runs_into(outline, true, box) && is_clear(box)) return box;
  }
  return std::nullopt;
}

}  // namespace easewright::draw
