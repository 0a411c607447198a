#include "model/pattern/nesting/lay.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace easewright::nesting {
namespace {

/// Less than this is touching, units. Places on the grid differ by whole units where sides are
/// upright, and slanting sides have kMargin to spare.
constexpr double kTouch = 1e-6;

/// Least step of a sweep, units: below every difference of levels that are whole.
constexpr double kStep = 1e-3;

constexpr double kOpen = std::numeric_limits<double>::quiet_NaN();
constexpr double kFar = std::numeric_limits<double>::infinity();

/// The node at or below y, from a node known to be.
size_t node_at(const std::vector<Node>& chain, size_t from, double y) {
  while (from + 2 < chain.size() && chain[from + 1].y <= y) ++from;
  return from;
}

size_t node_at(const std::vector<Node>& chain, double y) {
  size_t lo = 0, hi = chain.size() - 1;  // the last node begins no side
  while (hi - lo > 1) {
    const size_t middle = (lo + hi) / 2;
    (chain[middle].y <= y ? lo : hi) = middle;
  }
  return lo;
}

double x_at(const Node& node, double y) { return node.x + node.slope * (y - node.y); }

}  // namespace

Lay::Lay(const Prepared& prepared, const NoFits& no_fits, double repeat_cm)
    : prepared_(prepared),
      no_fits_(no_fits),
      repeat_(repeat_cm * kUnitsPerCm),
      phases_(static_cast<size_t>(prepared.groups), kOpen) {}

void Lay::keep(size_t kept) {
  for (size_t i = kept; i < lying_.size(); ++i) {
    if (!lying_[i].set_phase) continue;
    const Item& item = prepared_.items[static_cast<size_t>(lying_[i].item)];
    phases_[static_cast<size_t>(item.group)] = kOpen;
  }
  lying_.resize(std::min(kept, lying_.size()));
  tops_.resize(lying_.size());
}

void Lay::put(int item, int lie, GridPoint at) {
  const Item& what = prepared_.items[static_cast<size_t>(item)];
  const Way& way = prepared_.ways[static_cast<size_t>(what.lies[static_cast<size_t>(lie)].way)];
  Lying one{item, lie, at, false};
  if (what.group >= 0 && std::isnan(phases_[static_cast<size_t>(what.group)])) {
    phases_[static_cast<size_t>(what.group)] = static_cast<double>(at.y) + what.match;
    one.set_phase = true;
  }
  tops_.push_back(std::max(length(), at.y + way.cut_box.y1));
  lying_.push_back(one);
}

bool Lay::add(int item, int lie, double highest) {
  const auto at = lowest_place(prepared_.items[static_cast<size_t>(item)], lie, highest);
  if (at) put(item, lie, *at);
  return at.has_value();
}

bool Lay::add_lowest(int item, double highest) {
  const Item& what = prepared_.items[static_cast<size_t>(item)];
  std::optional<GridPoint> best;
  int best_lie = 0;
  for (int lie = 0; lie < static_cast<int>(what.lies.size()); ++lie) {
    const auto at = lowest_place(what, lie, highest);
    if (!at) continue;
    if (!best || at->y < best->y || (at->y == best->y && at->x < best->x)) {
      best = at;
      best_lie = lie;
    }
  }
  if (best) put(item, best_lie, *best);
  return best.has_value();
}

std::optional<GridPoint> Lay::lowest_place(const Item& item, int lie, double highest) {
  const int way_id = item.lies[static_cast<size_t>(lie)].way;
  const Way& way = prepared_.ways[static_cast<size_t>(way_id)];
  const double x_lo = 0;
  const double x_hi = item.on_fold ? 0 : static_cast<double>(prepared_.across - way.cut_box.x1);
  const double y_hi = highest - static_cast<double>(way.cut_box.y1);
  const double phase = item.group >= 0 ? phases_[static_cast<size_t>(item.group)] : kOpen;
  double y = 0, x = 0;
  while (sweep(way, way_id, x_lo, x_hi, y, x, y_hi)) {
    double level = std::ceil(y - kTouch);
    if (!std::isnan(phase)) {
      const double first = phase - item.match;
      const double k = std::ceil((level - 0.5 - first) / repeat_);
      level = std::max(std::round(first + k * repeat_), level);
    }
    if (level > y_hi) break;
    // Upwards to the level, the place may have closed again.
    if (level - y > kTouch) {
      y = level;
      gather(way, way_id, y);
      if (cover(x_lo, x_hi, x)) continue;
    }
    const double whole = std::min(std::ceil(x - kTouch), x_hi);
    return GridPoint{static_cast<std::int64_t>(whole), static_cast<std::int64_t>(level)};
  }
  return std::nullopt;
}

/// All intervals that are forbidden at the level y.
void Lay::gather(const Way& way, int way_id, double y) {
  forbidden_.clear();
  const double bottom = y + static_cast<double>(way.box.y0);
  const double top = y + static_cast<double>(way.box.y1);
  for (const Lying& one : lying_) {
    const Item& item = prepared_.items[static_cast<size_t>(one.item)];
    const int still = item.lies[static_cast<size_t>(one.lie)].way;
    const GridBox& box = prepared_.ways[static_cast<size_t>(still)].box;
    const double ox = static_cast<double>(one.at.x), oy = static_cast<double>(one.at.y);
    if (oy + static_cast<double>(box.y0) >= top || oy + static_cast<double>(box.y1) <= bottom) {
      continue;
    }
    const double level = y - oy;
    for (const Tube& tube : no_fits_.of(still, way_id).tubes) {
      if (level >= tube.y1 || level < tube.y0 || (level == tube.y0 && !tube.from_below)) continue;
      const size_t left = node_at(tube.left, level), right = node_at(tube.right, level);
      forbidden_.push_back({ox + x_at(tube.left[left], level),
                            ox + x_at(tube.right[right], level),
                            &tube,
                            ox,
                            oy,
                            left,
                            right});
    }
  }
}

/// Whether what was gathered covers the range, and the chain that does; else the leftmost free x.
bool Lay::cover(double x_lo, double x_hi, double& x) {
  chain_.clear();
  double reached = x_lo;
  while (reached <= x_hi) {
    const Forbidden* next = nullptr;
    for (const Forbidden& f : forbidden_) {
      if (f.l < reached - kTouch && f.r > reached + kTouch && (!next || f.r > next->r)) next = &f;
    }
    if (!next) {
      x = reached;
      return false;
    }
    chain_.push_back(*next);
    reached = next->r;
  }
  return true;
}

/// The level up to which the chain surely covers the range: where a side ends, or a link opens.
double Lay::follow(double x_lo, double x_hi, double y) const {
  double next = kFar;
  const auto link = [&](double reached, double reached_slope, double begins, double begins_slope) {
    const double overlap = reached - begins - kTouch;
    const double closing = begins_slope - reached_slope;
    if (closing > 0) next = std::min(next, y + overlap / closing);
  };
  double reached = x_lo, slope = 0;
  for (const Forbidden& f : chain_) {
    const Node& left = f.tube->left[f.left];
    const Node& right = f.tube->right[f.right];
    link(reached, slope, f.l, left.slope);
    next = std::min(next, f.oy + f.tube->left[f.left + 1].y);
    next = std::min(next, f.oy + f.tube->right[f.right + 1].y);
    reached = f.r;
    slope = right.slope;
  }
  link(reached, slope, x_hi, 0);
  return next;
}

/// Takes the chain to the level y; false where it no longer covers the range.
bool Lay::advance(double x_lo, double x_hi, double y) {
  double reached = x_lo;
  for (Forbidden& f : chain_) {
    const double level = y - f.oy;
    if (level >= f.tube->y1) return false;
    f.left = node_at(f.tube->left, f.left, level);
    f.right = node_at(f.tube->right, f.right, level);
    f.l = f.ox + x_at(f.tube->left[f.left], level);
    f.r = f.ox + x_at(f.tube->right[f.right], level);
    if (!(f.l < reached - kTouch && f.r > reached + kTouch)) return false;
    reached = f.r;
  }
  return reached > x_hi;
}

/// From the level y upwards to the first at which some x is free.
bool Lay::sweep(
    const Way& way, int way_id, double x_lo, double x_hi, double& y, double& x, double highest) {
  for (;;) {
    if (y > highest) return false;
    gather(way, way_id, y);
    if (!cover(x_lo, x_hi, x)) return true;
    bool holds = true;
    while (holds && y <= highest) {
      y = std::max(follow(x_lo, x_hi, y), y + kStep);
      holds = advance(x_lo, x_hi, y);
    }
  }
}

}  // namespace easewright::nesting
