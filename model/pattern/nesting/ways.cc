#include "model/pattern/nesting/ways.h"

#include "model/pattern/nesting/clip.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace easewright::nesting {
namespace {

/// Beyond half the gap, so that rounding never lets two touch: three roundings of the coarsened
/// corners, one of the no-fit polygon, one of the place, in units.
constexpr double kMargin = 8;

/// A polygon this simple is nested as it is; others may move their boundary by so much.
constexpr size_t kSimple = 12;
constexpr double kCoarseCm = 0.1;

/// Each column in which a centre may lie is looked at on its own: they lie so far apart at least.
constexpr double kLeastColumnCm = 4;
/// Closer than this two columns are hardly different.
constexpr double kApartCm = 0.5;

/// The way, from its outline: polygons that keep others away.
Way way_of(GridPolygon cut, double half_gap) {
  Way way;
  way.cut_box = box_of(cut);
  // Without a gap, what is all right angles fits edge to edge without any rounding.
  const bool exact = half_gap == 0 && is_rectilinear(cut);
  way.kept = exact ? cut : widened(cut, half_gap + kMargin);
  if (way.kept.size() > kSimple) way.kept = coarsened(way.kept, kCoarseCm * kUnitsPerCm);
  way.cut = std::move(cut);
  way.box = box_of(way.kept);
  return way;
}

GridPolygon mapped(const GridPolygon& polygon, int sx, int sy) {
  GridPolygon out;
  for (const GridPoint& p : polygon) out.push_back({sx * p.x, sy * p.y});
  if (sx * sy < 0) std::reverse(out.begin(), out.end());
  return out;
}

/// With its box at 0, 0, walked from its smallest corner on: equal for outlines that differ by a
/// shift alone. `moved` becomes what was added.
GridPolygon at_origin(const GridPolygon& polygon, GridPoint& moved) {
  const GridBox box = box_of(polygon);
  moved = {-box.x0, -box.y0};
  GridPolygon p = polygon;
  for (GridPoint& q : p) q = q + moved;
  std::rotate(p.begin(), std::min_element(p.begin(), p.end()), p.end());
  return p;
}

Way mapped_way(const Way& way, bool turned, bool mirrored, GridPoint& moved) {
  const int sx = turned != mirrored ? -1 : 1;
  const int sy = turned ? -1 : 1;
  Way out;
  out.cut = at_origin(mapped(way.cut, sx, sy), moved);
  out.kept = mapped(way.kept, sx, sy);
  for (GridPoint& q : out.kept) q = q + moved;
  out.cut_box = box_of(out.cut);
  out.box = box_of(out.kept);
  return out;
}

/// A half piece and its mirror image as one.
GridPolygon opened_out(const GridPolygon& half) {
  const std::vector<GridPolygon> whole = outer_boundaries({half, mapped(half, -1, 1)});
  return whole.size() == 1 ? whole[0] : GridPolygon{};
}

/// The right half of a polygon that is its own mirror image, its middle moved to x = 0 by
/// `shift`; empty where it isn't.
GridPolygon right_half(const GridPolygon& polygon, std::int64_t& shift) {
  GridPoint moved;
  if (at_origin(polygon, moved) != at_origin(mapped(polygon, -1, 1), moved)) return {};
  const GridBox box = box_of(polygon);
  shift = -(box.x0 + box.width() / 2);
  const GridPolygon right{{-shift, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {-shift, box.y1}};
  std::vector<GridPolygon> half = intersection_boundaries(polygon, right);
  if (half.size() != 1) return {};
  for (GridPoint& p : half[0]) p.x += shift;
  return half[0];
}

/// An outline as it is laid.
struct Drawn {
  GridPolygon cut;
  bool at_fold = false;    ///< the half of it, at the fold of a folded cloth
  std::int64_t shift = 0;  ///< added to the shape's x
};

class Preparation {
 public:
  Preparation(const std::vector<NestShape>& shapes, const NestCloth& cloth)
      : shapes_(shapes), cloth_(cloth), folded_(cloth.layering == Layering::folded) {}

  Prepared run() {
    check_cloth();
    for (size_t i = 0; i < shapes_.size() && out_.error.empty(); ++i) add(static_cast<int>(i));
    if (out_.error.empty()) find_columns();
    const double layers = folded_ ? 2 : 1;
    if (out_.error.empty()) {
      out_.bound = std::max(out_.area / (layers * to_cm(out_.across)), out_.tallest);
    }
    return std::move(out_);
  }

 private:
  void check_cloth() {
    const auto bad = [](double v, double least) { return !(v >= least && v < 1e4); };
    if (bad(cloth_.width, 1e-3)) out_.error = "the cloth has no width";
    if (bad(cloth_.gap, 0)) out_.error = "the gap between pieces is no length";
    if (bad(cloth_.repeat, 0) || bad(cloth_.repeat_across, 0))
      out_.error = "the repeat is no length";
    if (!out_.error.empty()) return;
    // Down to the grid: what fits the grid's cloth fits the real one.
    out_.across = static_cast<std::int64_t>(
        std::floor((folded_ ? 0.5 : 1) * cloth_.width * kUnitsPerCm + 1e-6));
    if (cloth_.repeat_across > 0) {
      const double repeats = std::ceil(kLeastColumnCm / cloth_.repeat_across);
      out_.repeat_across = repeats * cloth_.repeat_across * kUnitsPerCm;
    }
  }

  /// Whether a column leaves each centred item a place on the cloth, however it lies; else the
  /// item.
  const Item* without_place(double column) const {
    for (const Item& item : out_.items) {
      if (!item.centred) continue;
      for (const Lie& lie : item.lies) {
        const Way& way = out_.ways[static_cast<size_t>(lie.way)];
        const double room = static_cast<double>(out_.across - way.cut_box.x1);
        if (first_x(column, lie, out_.repeat_across) > room) return &item;
      }
    }
    return nullptr;
  }

  /// The fold; on a single layer the middle, and where one item or another lies at an edge.
  void find_columns() {
    std::vector<double> tries{folded_ ? 0 : std::floor(0.5 * static_cast<double>(out_.across))};
    for (const Item& item : out_.items) {
      if (!item.centred || folded_) continue;
      const Way& way = out_.ways[static_cast<size_t>(item.lies[0].way)];
      tries.push_back(item.lies[0].centre);
      tries.push_back(item.lies[0].centre + static_cast<double>(out_.across - way.cut_box.x1));
    }
    const Item* stuck = nullptr;
    for (const double column : tries) {
      const auto known = [&](double c) {
        return std::abs(std::remainder(c - column, out_.repeat_across)) < kApartCm * kUnitsPerCm;
      };
      if (std::any_of(out_.columns.begin(), out_.columns.end(), known)) continue;
      const Item* one = without_place(column);
      if (one == nullptr) {
        out_.columns.push_back(column);
      } else if (stuck == nullptr) {
        stuck = one;
      }
    }
    if (!out_.columns.empty()) return;
    out_.error = fmt::format("{}: its centre can't lie on the print where the others' do, {}",
                             shapes_[static_cast<size_t>(stuck->shape)].name,
                             folded_ ? "with the cloth folded" : "the cloth is too narrow");
  }

  void add(int index) {
    const NestShape& shape = shapes_[static_cast<size_t>(index)];
    if (shape.count <= 0) return;
    for (const auto& p : shape.outline) {
      if (!(std::abs(p.x) < 1e4 && std::abs(p.y) < 1e4)) {
        out_.error = fmt::format("{}: a corner of its outline is not a place", shape.name);
        return;
      }
    }
    GridPolygon cut = on_grid(shape.outline);
    if (cut.empty()) {
      out_.error = fmt::format("{}: its outline encloses nothing", shape.name);
      return;
    }
    const double area = area_of(cut) / (kUnitsPerCm * kUnitsPerCm);
    Drawn drawn{std::move(cut)};
    if (shape.on_fold) put_at_fold(shape, drawn);
    if (out_.error.empty() && folded_ && box_of(drawn.cut).width() > out_.across) halve(drawn);
    if (!out_.error.empty() || !fits(shape, box_of(drawn.cut))) return;
    out_.area += area * shape.count * (shape.on_fold ? 2 : 1);
    out_.tallest = std::max(out_.tallest, to_cm(box_of(drawn.cut).height()));
    add_items(index, drawn);
  }

  /// The half with its fold edge at the fold, or the whole of it on a single layer.
  void put_at_fold(const NestShape& shape, Drawn& drawn) {
    long on_edge = 0;
    for (const GridPoint& p : drawn.cut) on_edge += p.x == 0;
    if (box_of(drawn.cut).x0 != 0 || on_edge < 2) {
      out_.error = fmt::format("{}: its fold edge does not lie at x = 0", shape.name);
      return;
    }
    drawn.at_fold = folded_;
    if (folded_) return;
    drawn.cut = opened_out(drawn.cut);
    if (drawn.cut.empty()) {
      out_.error = fmt::format("{}: its halves do not join along the fold", shape.name);
    }
  }

  /// What is too wide for the folded cloth but is its own mirror image, as a belt is, lies across
  /// the fold.
  void halve(Drawn& drawn) {
    std::int64_t shift = 0;
    GridPolygon half = drawn.at_fold ? GridPolygon{} : right_half(drawn.cut, shift);
    if (!half.empty()) drawn = {std::move(half), true, shift};
  }

  bool fits(const NestShape& shape, const GridBox& box) {
    if (box.width() <= out_.across) return true;
    out_.error = fmt::format("{}: {:.1f} cm across, the {} is {:.1f} cm wide",
                             shape.name,
                             to_cm(box.width()),
                             folded_ ? "folded cloth" : "cloth",
                             to_cm(out_.across));
    return false;
  }

  void add_items(int index, const Drawn& drawn) {
    const NestShape& shape = shapes_[static_cast<size_t>(index)];
    const bool matched = cloth_.repeat > 0 && shape.match_group >= 0;
    const bool centred = out_.repeat_across > 0 && shape.centred;
    // A print that is matched looks the other way on a turned piece.
    const bool may_turn = !cloth_.nap && !matched && !centred;
    const bool pairs = shape.mirrored_pairs && !shape.on_fold;
    const Way way = way_of(drawn.cut, 0.5 * cloth_.gap * kUnitsPerCm);
    const auto lie = [&](bool turned, bool mirrored) {
      Lie one = lie_of(way, turned, mirrored);
      const int sx = turned != mirrored ? -1 : 1;
      one.origin.x += sx * drawn.shift;
      one.centre = sx * shape.centre_x * kUnitsPerCm + static_cast<double>(one.origin.x);
      return one;
    };
    std::vector<Lie> as_drawn, as_mirrored;
    // Opened by the fold, the half below the fold edge is its own mirror image: turning it is
    // turning and mirroring the half.
    as_drawn.push_back(lie(false, false));
    if (may_turn) as_drawn.push_back(lie(true, drawn.at_fold));
    if (!drawn.at_fold && (pairs || folded_)) {
      as_mirrored.push_back(lie(false, true));
      if (may_turn) as_mirrored.push_back(lie(true, true));
    }
    // Two layers, right sides together, give a left and a right whichever way they lie. What must
    // not be a pair and isn't its own mirror image leaves the second layer as waste.
    const bool own_image = !as_mirrored.empty() && as_mirrored[0].way == as_drawn[0].way;
    const bool two_at_once = folded_ && !drawn.at_fold && (pairs || own_image);
    for (int copy = 0; copy < shape.count; copy += two_at_once ? 2 : 1) {
      Item item;
      item.shape = index;
      item.copy = copy;
      item.copies = two_at_once ? std::min(2, shape.count - copy) : 1;
      item.at_fold = drawn.at_fold;
      item.lies = !folded_ && pairs && copy % 2 == 1 ? as_mirrored : as_drawn;
      if (folded_) item.lies.insert(item.lies.end(), as_mirrored.begin(), as_mirrored.end());
      drop_repeated(item.lies);
      if (matched) {
        item.group = group(shape.match_group);
        item.match = shape.match_y * kUnitsPerCm + static_cast<double>(item.lies[0].origin.y);
      }
      item.centred = centred && !item.at_fold;  // at the fold it has no choice
      out_.items.push_back(std::move(item));
    }
  }

  static void drop_repeated(std::vector<Lie>& lies) {
    std::vector<Lie> kept;
    for (const Lie& l : lies) {
      const auto same = [&](const Lie& k) { return k.way == l.way; };
      if (std::none_of(kept.begin(), kept.end(), same)) kept.push_back(l);
    }
    lies = std::move(kept);
  }

  /// Equal outlines share their ways, so that no-fit polygons are shared too.
  Lie lie_of(const Way& drawn, bool turned, bool mirrored) {
    GridPoint moved;
    Way way = mapped_way(drawn, turned, mirrored, moved);
    const auto [found, fresh] = known_.try_emplace(way.cut, static_cast<int>(out_.ways.size()));
    if (fresh) out_.ways.push_back(std::move(way));
    return {found->second, turned, mirrored, moved, 0};
  }

  int group(int given) {
    return groups_.try_emplace(given, out_.groups).second ? out_.groups++ : groups_.at(given);
  }

  const std::vector<NestShape>& shapes_;
  const NestCloth& cloth_;
  const bool folded_;
  Prepared out_;
  std::map<GridPolygon, int> known_;
  std::map<int, int> groups_;
};

}  // namespace

double first_x(double column, const Lie& lie, double repeat_across) {
  const double x = column - lie.centre;
  return x - std::floor((x + 0.5) / repeat_across) * repeat_across;
}

Prepared prepare(const std::vector<NestShape>& shapes, const NestCloth& cloth) {
  return Preparation(shapes, cloth).run();
}

}  // namespace easewright::nesting
