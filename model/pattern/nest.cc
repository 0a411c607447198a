#include "model/pattern/nest.h"

#include "model/pattern/nesting/search.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using namespace nesting;
using geometry::Vec2;

Placed placed_of(const Lying& one, const Prepared& prepared, const std::vector<NestShape>& shapes) {
  const Item& item = prepared.items[static_cast<size_t>(one.item)];
  const Lie& lie = item.lies[static_cast<size_t>(one.lie)];
  const NestShape& shape = shapes[static_cast<size_t>(item.shape)];
  Placed placed;
  placed.shape = item.shape;
  placed.copy = item.copy;
  placed.copies = item.copies;
  placed.at_fold = item.at_fold;
  placed.turned = lie.turned;
  placed.mirrored = lie.mirrored;
  const GridPoint at = one.at + lie.origin;
  placed.at = {to_cm(at.x), to_cm(at.y)};
  if (shape.on_fold != item.at_fold) {  // opened out, or halved
    for (const GridPoint& p : prepared.ways[static_cast<size_t>(lie.way)].cut) {
      placed.outline.push_back({to_cm(p.x + one.at.x), to_cm(p.y + one.at.y)});
    }
    return placed;
  }
  const double sx = lie.turned != lie.mirrored ? -1 : 1, sy = lie.turned ? -1 : 1;
  for (const auto& p : shape.outline) {
    placed.outline.push_back(placed.at + Vec2<double>{sx * p.x, sy * p.y});
  }
  if (sx * sy < 0) std::reverse(placed.outline.begin(), placed.outline.end());
  return placed;
}

/// Of the cloth, outside x 0 to width and y from 0.
double outside_of(const GridPolygon& p, std::int64_t across) {
  const GridBox box = box_of(p);
  if (box.x0 >= 0 && box.x1 <= across && box.y0 >= 0) return 0;
  const GridPolygon inside{{0, 0},
                           {across, 0},
                           {across, std::max<std::int64_t>(1, box.y1)},
                           {0, std::max<std::int64_t>(1, box.y1)}};
  return area_of(p) - common_area(p, inside);
}

bool apart(const GridBox& a, const GridBox& b) {
  return a.x1 <= b.x0 || b.x1 <= a.x0 || a.y1 <= b.y0 || b.y1 <= a.y0;
}

/// One above the other, as drawn: always sound, whatever the shapes are.
std::vector<Lying> stacked(const Prepared& prepared, double repeat) {
  std::vector<Lying> lying;
  std::int64_t y = 0;
  std::vector<double> phases(static_cast<size_t>(prepared.groups), std::nan(""));
  for (size_t i = 0; i < prepared.items.size(); ++i) {
    const Item& item = prepared.items[i];
    const Way& way = prepared.ways[static_cast<size_t>(item.lies[0].way)];
    std::int64_t x = 0;
    if (item.centred) {
      x = std::llround(first_x(prepared.columns[0], item.lies[0], prepared.repeat_across));
    }
    if (item.group >= 0) {
      double& phase = phases[static_cast<size_t>(item.group)];
      if (std::isnan(phase)) phase = static_cast<double>(y) + item.match;
      const double first = phase - item.match;
      const double k = std::ceil((static_cast<double>(y) - first) / repeat);
      y = std::max(y, static_cast<std::int64_t>(std::llround(first + k * repeat)));
    }
    lying.push_back({static_cast<int>(i), 0, {x, y}});
    y += way.box.height() + 1;
  }
  return lying;
}

}  // namespace

double overlap_of(const NestPlan& plan, const NestCloth& cloth) {
  const std::int64_t across =
      to_grid(cloth.layering == Layering::folded ? 0.5 * cloth.width : cloth.width);
  std::vector<GridPolygon> polygons;
  std::vector<GridBox> boxes;
  double worst = 0;
  for (const Placed& placed : plan.placed) {
    polygons.push_back(on_grid(placed.outline));
    boxes.push_back(box_of(polygons.back()));
    worst = std::max(worst, outside_of(polygons.back(), across));
  }
  for (size_t i = 0; i < polygons.size(); ++i) {
    for (size_t j = i + 1; j < polygons.size(); ++j) {
      if (!apart(boxes[i], boxes[j]))
        worst = std::max(worst, common_area(polygons[i], polygons[j]));
    }
  }
  return worst / (kUnitsPerCm * kUnitsPerCm);
}

NestPlan nest(const std::vector<NestShape>& shapes,
              const NestCloth& cloth,
              const NestOptions& options) {
  NestPlan plan;
  Prepared prepared = prepare(shapes, cloth);
  plan.error = prepared.error;
  if (!plan.error.empty() || prepared.items.empty()) return plan;

  const double layers = cloth.layering == Layering::folded ? 2 : 1;
  plan.bound = prepared.bound;
  const Found found = search(prepared, cloth.repeat, options);
  plan.layouts = found.layouts;
  const auto read = [&](const std::vector<Lying>& lying) {
    plan.placed.clear();
    plan.length = 0;
    for (const Lying& one : lying) {
      plan.placed.push_back(placed_of(one, prepared, shapes));
      const Item& item = prepared.items[static_cast<size_t>(one.item)];
      const Lie& lie = item.lies[static_cast<size_t>(one.lie)];
      const std::int64_t top = one.at.y + prepared.ways[static_cast<size_t>(lie.way)].cut_box.y1;
      plan.length = std::max(plan.length, to_cm(top));
    }
  };
  read(found.lying);
  // Rounding keeps its distance everywhere (ways.cc); this is the proof for the plan at hand.
  if (overlap_of(plan, cloth) > 0) read(stacked(prepared, cloth.repeat * kUnitsPerCm));
  plan.filled = prepared.area / (layers * to_cm(prepared.across) * plan.length);
  return plan;
}

ToBuy to_buy(double length_cm, double shrinkage_length) {
  // What is bought shrinks to what is needed. A hair below a step, so that 120 cm are not 1.3 m.
  const double bought = length_cm / (1 - shrinkage_length);
  const auto up = [](double value, double step) { return std::ceil(value / step - 1e-9) * step; };
  return {std::ceil(bought / 10 - 1e-9) / 10, up(bought / 91.44, 0.125)};
}

}  // namespace easewright
