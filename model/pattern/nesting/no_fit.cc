#include "model/pattern/nesting/no_fit.h"

#include "model/pattern/nesting/clip.h"

#include <algorithm>

namespace easewright::nesting {
namespace {

GridPolygon half_turned(const GridPolygon& p) {
  GridPolygon out;
  out.reserve(p.size());
  for (const GridPoint& q : p) out.push_back({-q.x, -q.y});
  return out;
}

/// Which end of a corner's turn counts as passed by a side of the same direction. The sides of one
/// polygon are taken as turned by a hair, so that no two directions are equal.
enum class Ends { first, last };

/// +1 where the corner from side `in` to side `out` turns counter-clockwise through the direction,
/// -1 where it turns clockwise through it, else 0.
int passes(GridPoint in, GridPoint out, GridPoint direction, Ends ends) {
  const bool left = cross(in, out) > 0;
  const GridPoint from = left ? in : out, to = left ? out : in;
  const std::int64_t after = cross(from, direction), before = cross(direction, to);
  const bool at_from = after == 0 && dot(from, direction) > 0;
  const bool at_to = before == 0 && dot(direction, to) > 0;
  const bool through = ends == Ends::first ? (after > 0 || at_from) && before > 0
                                           : after > 0 && (before > 0 || at_to);
  return through ? (left ? 1 : -1) : 0;
}

std::vector<GridPoint> sides(const GridPolygon& p) {
  std::vector<GridPoint> out;
  for (size_t i = 0; i < p.size(); ++i) out.push_back(p[(i + 1) % p.size()] - p[i]);
  return out;
}

}  // namespace

std::vector<GridPolygon> convolution(const GridPolygon& a, const GridPolygon& b) {
  const size_t n = a.size(), m = b.size();
  const std::vector<GridPoint> u = sides(a), v = sides(b);
  // Steps from corner sum to corner sum (i, j); as many leave each as arrive.
  std::vector<std::vector<size_t>> steps(n * m);
  const auto add = [&](size_t from, size_t to, int sense) {
    if (sense > 0) steps[from].push_back(to);
    if (sense < 0) steps[to].push_back(from);
  };
  for (size_t i = 0; i < n; ++i) {
    const size_t i1 = (i + 1) % n;
    for (size_t j = 0; j < m; ++j) {
      const size_t j1 = (j + 1) % m;
      add(i * m + j, i1 * m + j, passes(v[(j + m - 1) % m], v[j], u[i], Ends::first));
      add(i * m + j, i * m + j1, passes(u[(i + n - 1) % n], u[i], v[j], Ends::last));
    }
  }
  std::vector<GridPolygon> curves;
  for (size_t start = 0; start < steps.size(); ++start) {
    while (!steps[start].empty()) {
      GridPolygon curve;
      size_t at = start;
      do {
        curve.push_back(a[at / m] + b[at % m]);
        const size_t next = steps[at].back();
        steps[at].pop_back();
        at = next;
      } while (at != start && !steps[at].empty());
      curves.push_back(std::move(curve));
    }
  }
  return curves;
}

namespace {

struct Side {
  GridPoint low, high;
  double slope = 0;
  double x_at(double y) const {
    return static_cast<double>(low.x) + slope * (y - static_cast<double>(low.y));
  }
};

std::vector<Side> sides_of(const std::vector<GridPolygon>& boundaries) {
  std::vector<Side> sides;
  for (const GridPolygon& p : boundaries) {
    for (size_t i = 0; i < p.size(); ++i) {
      GridPoint a = p[i], b = p[(i + 1) % p.size()];
      if (a.y == b.y) continue;
      if (a.y > b.y) std::swap(a, b);
      sides.push_back({a, b, static_cast<double>(b.x - a.x) / static_cast<double>(b.y - a.y)});
    }
  }
  return sides;
}

/// A tube that still grows, and the sides it ends with.
struct Growing {
  Tube tube;
  const Side* left = nullptr;
  const Side* right = nullptr;
};

bool runs_on(const Side* below, const Side* above) {
  return below == above || below->high == above->low;
}

void extend(std::vector<Node>& chain, const Side*& last, const Side* side, double y) {
  if (last == side) return;
  if (!chain.empty() && chain.back().y == y) chain.pop_back();
  chain.push_back({y, side->x_at(y), side->slope});
  last = side;
}

void finish(Growing& growing, double y, std::vector<Tube>& tubes) {
  growing.tube.y1 = y;
  growing.tube.left.push_back({y, growing.left->x_at(y), 0});
  growing.tube.right.push_back({y, growing.right->x_at(y), 0});
  tubes.push_back(std::move(growing.tube));
}

/// Sweeps the boundaries from one corner's level to the next.
std::vector<Tube> tubes_of(const std::vector<GridPolygon>& boundaries) {
  std::vector<Side> sides = sides_of(boundaries);
  std::sort(
      sides.begin(), sides.end(), [](const Side& a, const Side& b) { return a.low.y < b.low.y; });
  std::vector<std::int64_t> levels;
  for (const Side& s : sides) levels.push_back(s.low.y), levels.push_back(s.high.y);
  std::sort(levels.begin(), levels.end());
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());

  std::vector<Tube> tubes;
  std::vector<Growing> growing, next;
  std::vector<const Side*> active;
  size_t fresh = 0;
  for (size_t k = 0; k + 1 < levels.size(); ++k) {
    const double y0 = static_cast<double>(levels[k]);
    const double middle = 0.5 * (y0 + static_cast<double>(levels[k + 1]));
    std::erase_if(active, [&](const Side* s) { return s->high.y <= levels[k]; });
    for (; fresh < sides.size() && sides[fresh].low.y == levels[k]; ++fresh) {
      active.push_back(&sides[fresh]);
    }
    std::stable_sort(active.begin(), active.end(), [&](const Side* a, const Side* b) {
      return a->x_at(middle) < b->x_at(middle);
    });
    next.clear();
    std::vector<bool> goes_on(growing.size(), false);
    for (size_t i = 0; i + 1 < active.size(); i += 2) {
      const Side *left = active[i], *right = active[i + 1];
      size_t from = growing.size();
      bool below = false;
      for (size_t g = 0; g < growing.size(); ++g) {
        if (!goes_on[g] && runs_on(growing[g].left, left) && runs_on(growing[g].right, right)) {
          from = g;
          break;
        }
        below = below || (growing[g].left->x_at(y0) < right->x_at(y0) &&
                          growing[g].right->x_at(y0) > left->x_at(y0));
      }
      Growing one;
      if (from < growing.size()) {
        goes_on[from] = true;
        one = std::move(growing[from]);
      } else {
        one.tube.y0 = y0;
        one.tube.from_below = below;
      }
      extend(one.tube.left, one.left, left, y0);
      extend(one.tube.right, one.right, right, y0);
      next.push_back(std::move(one));
    }
    for (size_t g = 0; g < growing.size(); ++g) {
      if (!goes_on[g]) finish(growing[g], y0, tubes);
    }
    std::swap(growing, next);
  }
  if (!levels.empty()) {
    for (Growing& g : growing) finish(g, static_cast<double>(levels.back()), tubes);
  }
  return tubes;
}

}  // namespace

NoFit no_fit(const Way& still, const Way& moving) {
  const std::vector<GridPolygon> curves = convolution(still.kept, half_turned(moving.kept));
  const bool convex = curves.size() == 1 && is_convex(still.kept) && is_convex(moving.kept);
  return {tubes_of(convex ? curves : wound_round(curves))};
}

NoFits::NoFits(const std::vector<Way>& ways) : ways_(ways), known_(ways.size() * ways.size()) {}

NoFits::~NoFits() {
  for (auto& known : known_) delete known.load();
}

const NoFit& NoFits::make(size_t at, int still, int moving) const {
  auto fresh = std::make_unique<NoFit>(
      no_fit(ways_[static_cast<size_t>(still)], ways_[static_cast<size_t>(moving)]));
  const NoFit* expected = nullptr;
  if (known_[at].compare_exchange_strong(expected, fresh.get(), std::memory_order_acq_rel)) {
    return *fresh.release();
  }
  return *expected;  // another thread was first; both worked out the same
}

}  // namespace easewright::nesting
