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

/// The side at the level y, from one at or below it.
const Node* side_from(const Node* side, double y) {
  while (side[1].y <= y) ++side;
  return side;
}

/// The same among so many sides.
const Node* side_among(const Node* first, int sides, double y) {
  int lo = 0, hi = sides;
  while (hi - lo > 1) {
    const int middle = (lo + hi) / 2;
    (first[middle].y <= y ? lo : hi) = middle;
  }
  return first + lo;
}

double x_at(const Node& side, double y) { return side.x + side.slope * (y - side.y); }

}  // namespace

Lay::Lay(const Prepared& prepared, const NoFits& no_fits, double repeat_cm, double column)
    : prepared_(prepared),
      no_fits_(no_fits),
      repeat_(repeat_cm * kUnitsPerCm),
      column_(column),
      phases_(static_cast<size_t>(prepared.groups), kOpen),
      floors_(prepared.cores.size()) {}

void Lay::keep(size_t kept) {
  if (kept >= lying_.size()) return;
  for (size_t i = kept; i < lying_.size(); ++i) {
    if (!standing_[i].set_phase) continue;
    const Item& item = prepared_.items[static_cast<size_t>(lying_[i].item)];
    phases_[static_cast<size_t>(item.group)] = kOpen;
  }
  lying_.resize(kept);
  standing_.resize(kept);
  std::erase_if(by_bottom_, [kept](size_t i) { return i >= kept; });
  for (auto& floors : floors_) {
    while (!floors.empty() && floors.back().standing > kept) floors.pop_back();
  }
}

void Lay::put(int item, int lie, GridPoint at) {
  const Item& what = prepared_.items[static_cast<size_t>(item)];
  const int way_id = what.lies[static_cast<size_t>(lie)].way;
  const Way& way = prepared_.ways[static_cast<size_t>(way_id)];
  Standing one;
  one.ox = static_cast<double>(at.x);
  one.oy = static_cast<double>(at.y);
  one.bottom = static_cast<double>(at.y + way.box.y0);
  one.top = static_cast<double>(at.y + way.box.y1);
  one.way = way_id;
  one.length = std::max(length(), at.y + way.cut_box.y1);
  if (what.group >= 0 && std::isnan(phases_[static_cast<size_t>(what.group)])) {
    phases_[static_cast<size_t>(what.group)] = one.oy + what.match;
    one.set_phase = true;
  }
  const auto higher = std::upper_bound(
      by_bottom_.begin(), by_bottom_.end(), one.bottom, [this](double bottom, size_t i) {
        return bottom < standing_[i].bottom;
      });
  by_bottom_.insert(higher, standing_.size());
  standing_.push_back(one);
  lying_.push_back({item, lie, at});
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
  const Lie& how = item.lies[static_cast<size_t>(lie)];
  const Way& way = prepared_.ways[static_cast<size_t>(how.way)];
  const double room = item.at_fold ? 0 : static_cast<double>(prepared_.across - way.cut_box.x1);
  if (!item.centred) return lowest_place(item, lie, {0, room}, highest);
  std::optional<GridPoint> best;
  for (double x = first_x(column_, how, prepared_.repeat_across); x <= room;
       x += prepared_.repeat_across) {
    const double whole = std::clamp(std::round(x), 0.0, room);
    const auto at = lowest_place(item, lie, {whole, whole}, highest);
    if (!at || (best && best->y <= at->y)) continue;
    best = at;
    highest = std::min(highest, static_cast<double>(at->y + way.cut_box.y1));
  }
  return best;
}

std::optional<GridPoint> Lay::lowest_place(const Item& item, int lie, Range range, double highest) {
  const int way_id = item.lies[static_cast<size_t>(lie)].way;
  const Way& way = prepared_.ways[static_cast<size_t>(way_id)];
  const double y_hi = highest - static_cast<double>(way.cut_box.y1);
  const double phase = item.group >= 0 ? phases_[static_cast<size_t>(item.group)] : kOpen;
  double y = floor_of(way), x = 0;
  start(way_id);
  while (sweep(range, y, x, y_hi)) {
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
      gather(y);
      if (cover(range, x)) continue;
    }
    const double whole = std::min(std::ceil(x - kTouch), range.hi);
    return GridPoint{static_cast<std::int64_t>(whole), static_cast<std::int64_t>(level)};
  }
  return std::nullopt;
}

/// A level below which the way has no room.
double Lay::floor_of(const Way& way) {
  if (way.core < 0) return 0;
  const Core& core = prepared_.cores[static_cast<size_t>(way.core)];
  auto& floors = floors_[static_cast<size_t>(way.core)];
  double y = floors.empty() ? 0 : floors.back().y;
  double x = 0;
  start(core.way);
  sweep({core.x_lo, core.x_hi}, y, x, kFar);
  if (floors.empty() || y > floors.back().y) floors.push_back({standing_.size(), y});
  // Whole levels as well as those between have to be found again.
  return std::max(0.0, std::floor(y - static_cast<double>(way.core_at.y) - kStep));
}

void Lay::start(int way) {
  way_ = way;
  sweeping_ = &prepared_.ways[static_cast<size_t>(way)];
  next_ = 0;
  near_.clear();
}

/// All intervals that are forbidden at the level y, no lower than the last one.
void Lay::gather(double y) {
  const double bottom = y + static_cast<double>(sweeping_->box.y0);
  const double top = y + static_cast<double>(sweeping_->box.y1);
  std::erase_if(near_, [bottom](const Near& n) { return n.standing->top <= bottom; });
  for (; next_ < by_bottom_.size(); ++next_) {
    const Standing& one = standing_[by_bottom_[next_]];
    if (one.bottom >= top) break;
    if (one.top > bottom) near_.push_back({&no_fits_.of(one.way, way_), &one});
  }
  forbidden_.clear();
  for (const Near& n : near_) {
    const double ox = n.standing->ox, oy = n.standing->oy, level = y - oy;
    const Node* nodes = n.no_fit->nodes.data();
    for (const Tube& tube : n.no_fit->tubes) {
      if (level >= tube.y1 || level < tube.y0 || (level == tube.y0 && !tube.from_below)) continue;
      const Node* left = side_among(nodes + tube.left, tube.lefts, level);
      const Node* right = side_among(nodes + tube.right, tube.rights, level);
      forbidden_.push_back(
          {ox + x_at(*left, level), ox + x_at(*right, level), left, right, ox, oy, tube.y1});
    }
  }
}

/// Whether what was gathered covers the range, and the chain that does; else the leftmost free x.
bool Lay::cover(Range range, double& x) {
  chain_.clear();
  double reached = range.lo;
  while (reached <= range.hi) {
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
double Lay::follow(Range range, double y) const {
  double next = kFar;
  const auto link = [&](double reached, double reached_slope, double begins, double begins_slope) {
    const double overlap = reached - begins - kTouch;
    const double closing = begins_slope - reached_slope;
    if (closing > 0) next = std::min(next, y + overlap / closing);
  };
  double reached = range.lo, slope = 0;
  for (const Forbidden& f : chain_) {
    link(reached, slope, f.l, f.left->slope);
    next = std::min(next, f.oy + std::min(f.left[1].y, f.right[1].y));
    reached = f.r;
    slope = f.right->slope;
  }
  link(reached, slope, range.hi, 0);
  return next;
}

/// Takes the chain to the level y; false where it no longer covers the range.
bool Lay::advance(Range range, double y) {
  double reached = range.lo;
  for (Forbidden& f : chain_) {
    const double level = y - f.oy;
    if (level >= f.end) return false;
    f.left = side_from(f.left, level);
    f.right = side_from(f.right, level);
    f.l = f.ox + x_at(*f.left, level);
    f.r = f.ox + x_at(*f.right, level);
    if (!(f.l < reached - kTouch && f.r > reached + kTouch)) return false;
    reached = f.r;
  }
  return reached > range.hi;
}

/// From the level y upwards to the first at which some x is free.
bool Lay::sweep(Range range, double& y, double& x, double highest) {
  for (;;) {
    if (y > highest) return false;
    gather(y);
    if (!cover(range, x)) return true;
    bool holds = true;
    while (holds && y <= highest) {
      y = std::max(follow(range, y), y + kStep);
      holds = advance(range, y);
    }
  }
}

}  // namespace easewright::nesting
