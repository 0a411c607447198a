#include "model/pattern/nesting/no_fit.h"

#include "model/pattern/nesting/clip.h"

#include <algorithm>
#include <tuple>

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
  double y0 = 0;
  bool from_below = false;
  std::vector<Node> lefts, rights;
  const Side* left = nullptr;
  const Side* right = nullptr;

  bool runs_on_in(const Side* a, const Side* b) const {
    return (left == a || left->high == a->low) && (right == b || right->high == b->low);
  }
  bool lies_under(const Side* a, const Side* b, double y) const {
    return left->x_at(y) < b->x_at(y) && right->x_at(y) > a->x_at(y);
  }
  void extend(const Side* a, const Side* b, double y) {
    if (left != a) lefts.push_back({y, a->x_at(y), a->slope});
    if (right != b) rights.push_back({y, b->x_at(y), b->slope});
    left = a;
    right = b;
  }
  void finish(double y, NoFit& out) {
    Tube tube{
        y0, y, from_below, 0, 0, static_cast<int>(lefts.size()), static_cast<int>(rights.size())};
    lefts.push_back({y, left->x_at(y), 0});
    rights.push_back({y, right->x_at(y), 0});
    tube.left = static_cast<int>(out.nodes.size());
    tube.right = tube.left + static_cast<int>(lefts.size());
    out.nodes.insert(out.nodes.end(), lefts.begin(), lefts.end());
    out.nodes.insert(out.nodes.end(), rights.begin(), rights.end());
    out.tubes.push_back(tube);
  }
};

std::vector<std::int64_t> levels_of(const std::vector<Side>& sides) {
  std::vector<std::int64_t> levels;
  for (const Side& s : sides) levels.push_back(s.low.y), levels.push_back(s.high.y);
  std::sort(levels.begin(), levels.end());
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
  return levels;
}

/// The tubes between the level y and the next, from the sides that cross there in order of x: those
/// that run on from below, and new ones; the others end.
std::vector<Growing> next_tubes(std::vector<Growing>& below,
                                const std::vector<const Side*>& crossing,
                                double y,
                                NoFit& out) {
  std::vector<Growing> above;
  std::vector<bool> runs_on(below.size(), false);
  for (size_t i = 0; i + 1 < crossing.size(); i += 2) {
    const Side *left = crossing[i], *right = crossing[i + 1];
    size_t from = 0;
    while (from < below.size() && (runs_on[from] || !below[from].runs_on_in(left, right))) ++from;
    Growing one;
    if (from < below.size()) {
      runs_on[from] = true;
      one = below[from];
    } else {
      one.y0 = y;
      one.from_below = std::any_of(below.begin(), below.end(), [&](const Growing& g) {
        return g.lies_under(left, right, y);
      });
    }
    one.extend(left, right, y);
    above.push_back(std::move(one));
  }
  for (size_t g = 0; g < below.size(); ++g) {
    if (!runs_on[g]) below[g].finish(y, out);
  }
  return above;
}

/// Sweeps the boundaries from one corner's level to the next.
NoFit tubes_of(const std::vector<GridPolygon>& boundaries) {
  NoFit out;
  std::vector<Side> sides = sides_of(boundaries);
  std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
    return std::tie(a.low.y, a.low.x, a.high) < std::tie(b.low.y, b.low.x, b.high);
  });
  const std::vector<std::int64_t> levels = levels_of(sides);
  std::vector<Growing> growing;
  std::vector<const Side*> crossing;
  size_t fresh = 0;
  for (size_t k = 0; k + 1 < levels.size(); ++k) {
    const double y = static_cast<double>(levels[k]);
    const double middle = 0.5 * (y + static_cast<double>(levels[k + 1]));
    std::erase_if(crossing, [&](const Side* s) { return s->high.y <= levels[k]; });
    for (; fresh < sides.size() && sides[fresh].low.y == levels[k]; ++fresh) {
      crossing.push_back(&sides[fresh]);
    }
    std::stable_sort(crossing.begin(), crossing.end(), [&](const Side* a, const Side* b) {
      return a->x_at(middle) < b->x_at(middle);
    });
    growing = next_tubes(growing, crossing, y, out);
  }
  for (Growing& g : growing) g.finish(static_cast<double>(levels.back()), out);
  return out;
}

}  // namespace

NoFit no_fit(const Way& still, const Way& moving) {
  const std::vector<GridPolygon> curves = convolution(still.kept, half_turned(moving.kept));
  const bool convex = curves.size() == 1 && is_convex(still.kept) && is_convex(moving.kept);
  return tubes_of(convex ? curves : wound_round(curves));
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
