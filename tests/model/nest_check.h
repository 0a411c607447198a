#pragma once
// Whether a cutting plan can be cut, told without any of the code under test: outlines are mapped
// anew from the shapes, overlaps are areas of polyclipping intersections in whole units of a
// micrometre, distances are between segments.

#include "model/pattern/nest.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include <clipper.hpp>

namespace easewright::tests {

using Outline = std::vector<geometry::Vec2<double>>;

inline constexpr double kScale = 1e4;  ///< units a cm

/// Seeded numbers that are the same with every standard library.
class NestDice {
 public:
  explicit NestDice(std::uint64_t seed) : engine_(seed) {}
  double between(double a, double b) {
    return a + (b - a) * static_cast<double>(engine_() >> 11) * 0x1p-53;
  }
  int below(int n) { return static_cast<int>(engine_() % static_cast<std::uint64_t>(n)); }
  bool toss() { return below(2) == 1; }

 private:
  std::mt19937_64 engine_;
};

inline ClipperLib::Path path_of(const Outline& outline) {
  ClipperLib::Path path;
  for (const auto& p : outline) {
    path.emplace_back(std::llround(p.x * kScale), std::llround(p.y * kScale));
  }
  return path;
}

inline ClipperLib::Paths clipped(const ClipperLib::Paths& a,
                                 const ClipperLib::Paths& b,
                                 ClipperLib::ClipType type) {
  ClipperLib::Clipper clipper;
  clipper.AddPaths(a, ClipperLib::ptSubject, true);
  clipper.AddPaths(b, ClipperLib::ptClip, true);
  ClipperLib::Paths out;
  clipper.Execute(type, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  return out;
}

/// Square units; holes count against.
inline double area_of_paths(const ClipperLib::Paths& paths) {
  double sum = 0;
  for (const auto& path : paths) sum += ClipperLib::Area(path);
  return sum;
}

inline double outline_area(const Outline& outline) {
  double twice = 0;
  for (size_t i = 0; i < outline.size(); ++i) {
    twice += geometry::cross(outline[i], outline[(i + 1) % outline.size()]);
  }
  return 0.5 * std::abs(twice);
}

inline double point_to_segment(const geometry::Vec2<double>& p,
                               const geometry::Vec2<double>& a,
                               const geometry::Vec2<double>& b) {
  const auto u = b - a;
  const double whole = geometry::dot(u, u);
  const double t = whole > 0 ? std::clamp(geometry::dot(p - a, u) / whole, 0.0, 1.0) : 0;
  const auto d = p - a - t * u;
  return std::hypot(d.x, d.y);
}

/// Least distance between two outlines that don't cross.
inline double distance_between(const Outline& a, const Outline& b) {
  double least = 1e9;
  for (size_t i = 0; i < a.size(); ++i) {
    for (size_t j = 0; j < b.size(); ++j) {
      least = std::min(least, point_to_segment(a[i], b[j], b[(j + 1) % b.size()]));
      least = std::min(least, point_to_segment(b[j], a[i], a[(i + 1) % a.size()]));
    }
  }
  return least;
}

struct Extent {
  double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
};

inline Extent extent_of(const Outline& outline) {
  Extent e;
  for (const auto& p : outline) {
    e.x0 = std::min(e.x0, p.x), e.x1 = std::max(e.x1, p.x);
    e.y0 = std::min(e.y0, p.y), e.y1 = std::max(e.y1, p.y);
  }
  return e;
}

/// The shape as the plan says that it lies: turned, mirrored, shifted; opened out on a single
/// layer.
inline ClipperLib::Paths mapped(const NestShape& shape, const Placed& placed, Layering layering) {
  const double sx = placed.turned != placed.mirrored ? -1 : 1, sy = placed.turned ? -1 : 1;
  const auto at = [&](double mirror) {
    Outline out;
    for (const auto& p : shape.outline) {
      out.push_back({placed.at.x + mirror * sx * p.x, placed.at.y + sy * p.y});
    }
    ClipperLib::Path path = path_of(out);
    if (!ClipperLib::Orientation(path)) ClipperLib::ReversePath(path);
    return path;
  };
  if (layering == Layering::single && shape.on_fold) {
    return clipped({at(1)}, {at(-1)}, ClipperLib::ctUnion);
  }
  if (!placed.at_fold || shape.on_fold) return {at(1)};
  // Across the fold: the half of it that lies on the upper layer.
  const ClipperLib::cInt far = 1 << 30;
  return clipped(
      {at(1)}, {{{0, -far}, {far, -far}, {far, far}, {0, far}}}, ClipperLib::ctIntersection);
}

/// Everything that is wrong with a plan, in words; empty when it can be cut.
inline std::vector<std::string> faults_of(const NestPlan& plan,
                                          const std::vector<NestShape>& shapes,
                                          const NestCloth& cloth) {
  std::vector<std::string> faults;
  const bool folded = cloth.layering == Layering::folded;
  const double across = folded ? 0.5 * cloth.width : cloth.width;
  constexpr double kHair = 2e-4;  // two units: places and corners are rounded to one
  std::map<int, std::vector<bool>> cut;
  std::map<int, int> mirrored;
  double area = 0, tallest = 0, top = 0;
  for (size_t s = 0; s < shapes.size(); ++s) {
    const Extent e = extent_of(shapes[s].outline);
    if (shapes[s].count <= 0) continue;
    area += outline_area(shapes[s].outline) * shapes[s].count * (shapes[s].on_fold ? 2 : 1);
    tallest = std::max(tallest, e.y1 - e.y0);
  }
  std::map<int, double> phases;
  std::optional<double> column;  // of the first centre; the fold's is 0
  for (size_t i = 0; i < plan.placed.size(); ++i) {
    const Placed& one = plan.placed[i];
    const NestShape& shape = shapes.at(static_cast<size_t>(one.shape));
    const std::string who = shape.name + " " + std::to_string(one.copy);
    const Extent e = extent_of(one.outline);
    top = std::max(top, e.y1);
    if (e.x0 < -kHair || e.x1 > across + kHair || e.y0 < -kHair)
      faults.push_back(who + " off the cloth");
    // It lies as the plan says.
    const ClipperLib::Paths said = mapped(shape, one, cloth.layering);
    const double differs =
        area_of_paths(clipped(said, {path_of(one.outline)}, ClipperLib::ctXor)) / kScale / kScale;
    if (differs > 0.05) faults.push_back(who + " is not its shape");
    if (cloth.nap && one.turned) faults.push_back(who + " against the nap");
    if (one.at_fold != (folded && (shape.on_fold || one.at_fold)))
      faults.push_back(who + " at no fold");
    if (folded && shape.on_fold && one.at.x != 0) faults.push_back(who + " not on the fold");
    if (one.at_fold) {
      if (std::abs(e.x0) > 1e-9) faults.push_back(who + " not at the fold");
      if (one.turned != one.mirrored) faults.push_back(who + " folded the wrong way");
      const Extent own = extent_of(shape.outline);
      const double wide = (own.x1 - own.x0) * (shape.on_fold ? 1 : 0.5);
      if (std::abs(e.x1 - e.x0 - wide) > kHair) faults.push_back(who + " not half of itself");
    }
    // Each copy once. Through two layers, only what may be a pair.
    auto& done = cut[one.shape];
    done.resize(static_cast<size_t>(std::max(shape.count, one.copy + one.copies)), false);
    for (int c = one.copy; c < one.copy + one.copies; ++c) {
      if (c >= shape.count || done[static_cast<size_t>(c)])
        faults.push_back(who + " cut too often");
      done[static_cast<size_t>(c)] = true;
    }
    if (one.copies > (folded && !one.at_fold ? 2 : 1))
      faults.push_back(who + " cut too many at once");
    mirrored[one.shape] += one.mirrored;
    if (cloth.repeat > 0 && shape.match_group >= 0) {
      const double y = one.at.y + (one.turned ? -1 : 1) * shape.match_y;
      const auto [known, fresh] = phases.try_emplace(shape.match_group, y);
      const double off = (y - known->second) / cloth.repeat;
      if (!fresh && std::abs(off - std::round(off)) * cloth.repeat > kHair) {
        faults.push_back(who + " does not match");
      }
    }
    if (cloth.repeat_across > 0 && shape.centred && !one.at_fold) {
      const double x = one.at.x + (one.turned != one.mirrored ? -1 : 1) * shape.centre_x;
      if (!column) column = folded ? 0 : x;
      const double off = (x - *column) / cloth.repeat_across;
      if (one.turned) faults.push_back(who + " with its print upside down");
      if (std::abs(off - std::round(off)) * cloth.repeat_across > kHair)
        faults.push_back(who + " is not centred on the print");
    }
    if (cloth.repeat > 0 && shape.match_group >= 0 && one.turned)
      faults.push_back(who + " with its print upside down");
    for (size_t j = 0; j < i; ++j) {
      const Extent o = extent_of(plan.placed[j].outline);
      const double g = cloth.gap;
      if (e.x1 + g < o.x0 || o.x1 + g < e.x0 || e.y1 + g < o.y0 || o.y1 + g < e.y0) continue;
      const ClipperLib::Paths both = clipped(
          {path_of(one.outline)}, {path_of(plan.placed[j].outline)}, ClipperLib::ctIntersection);
      if (area_of_paths(both) > 0) faults.push_back(who + " overlaps");
      if (distance_between(one.outline, plan.placed[j].outline) < cloth.gap - 1e-9) {
        faults.push_back(who + " closer than the gap");
      }
    }
  }
  for (size_t s = 0; s < shapes.size(); ++s) {
    const int count = std::max(0, shapes[s].count);
    const auto& done = cut[static_cast<int>(s)];
    if (std::count(done.begin(), done.end(), true) != count)
      faults.push_back(shapes[s].name + " not cut");
    const bool halves = !folded && shapes[s].mirrored_pairs && !shapes[s].on_fold;
    if (!folded && mirrored[static_cast<int>(s)] != (halves ? count / 2 : 0)) {
      faults.push_back(shapes[s].name + " not left and right");
    }
  }
  if (std::abs(plan.length - std::max(0.0, top)) > kHair)
    faults.push_back("the length is not the cloth used");
  const double bound = std::max(tallest, area / cloth.width);
  if (std::abs(plan.bound - bound) > 1e-3 * bound)
    faults.push_back("the bound is not area and width's");
  if (plan.length < bound - kHair) faults.push_back("shorter than can be");
  if (plan.length > 0 && std::abs(plan.filled - area / (cloth.width * plan.length)) > 1e-4) {
    faults.push_back("the filled share is not right");
  }
  return faults;
}

/// A random simple polygon: corners round a middle, 3 to `most` of them.
inline Outline random_star(NestDice& dice, double radius, int most) {
  const int corners = 3 + dice.below(most - 2);
  Outline out;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * std::acos(-1.0) * (i + dice.between(0, 0.8)) / corners;
    const double r = radius * dice.between(0.3, 1);
    out.push_back({r * std::cos(angle), r * std::sin(angle)});
  }
  return out;
}

inline Outline rectangle(double w, double h) { return {{0, 0}, {w, 0}, {w, h}, {0, h}}; }

inline NestShape shape_of(const std::string& name, Outline outline, int count = 1) {
  NestShape shape;
  shape.name = name;
  shape.outline = std::move(outline);
  shape.count = count;
  return shape;
}

}  // namespace easewright::tests
