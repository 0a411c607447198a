#pragma once
// The no-fit polygon of two ways: the places of the second one's origin, from the first one's, at
// which the two overlap: the Minkowski sum of the first with the second turned by half a turn.
// Touching is allowed, so the polygon is an open set.
//
// The sum is what the convolution of the two boundaries winds round (Guibas, Ramshaw & Stolfi
// 1983): each side of one, put at those corners of the other that turn through its direction;
// backwards where that corner is hollow. polyclipping finds what is wound round. Summing every side
// with every side, as its own Minkowski sum does, takes it thousands of times as long on two
// bodices.
//
// For a sweep upwards it is kept as tubes: pieces over a range of y in which a level line crosses
// the polygon in one open interval, between two chains of sides.

#include "model/pattern/nesting/grid.h"
#include "model/pattern/nesting/ways.h"

#include <atomic>
#include <memory>
#include <vector>

namespace easewright::nesting {

/// A corner of a chain; x = node.x + slope (y - node.y) up to the next node.
struct Node {
  double y = 0, x = 0, slope = 0;
};

struct Tube {
  double y0 = 0, y1 = 0;
  bool from_below = false;    ///< y0 is inside the polygon (something lies below), else outside
  int left = 0, right = 0;    ///< first nodes of the chains, upwards
  int lefts = 0, rights = 0;  ///< how many sides; one node more ends each
};

struct NoFit {
  std::vector<Tube> tubes;
  std::vector<Node> nodes;
};

/// The convolution of the boundaries of two polygons, as closed curves.
std::vector<GridPolygon> convolution(const GridPolygon& a, const GridPolygon& b);

NoFit no_fit(const Way& still, const Way& moving);

/// No-fit polygons of all pairs of ways, each worked out when it is first asked for. May be asked
/// from several threads at once.
class NoFits {
 public:
  explicit NoFits(const std::vector<Way>& ways);
  ~NoFits();
  NoFits(const NoFits&) = delete;
  NoFits& operator=(const NoFits&) = delete;

  const NoFit& of(int still, int moving) const {
    const size_t at = static_cast<size_t>(still) * ways_.size() + static_cast<size_t>(moving);
    const NoFit* known = known_[at].load(std::memory_order_acquire);
    return known ? *known : make(at, still, moving);
  }

 private:
  const NoFit& make(size_t at, int still, int moving) const;
  const std::vector<Way>& ways_;
  mutable std::vector<std::atomic<const NoFit*>> known_;
};

}  // namespace easewright::nesting
