#pragma once
// What is laid, and the ways each can lie.
//
// A way is an outline on the grid, turned and mirrored as it lies, with the wider and coarser
// polygon that keeps others away from it. The search moves polygons; the plan is drawn with
// outlines.

#include "model/pattern/nest.h"
#include "model/pattern/nesting/grid.h"

#include <string>
#include <vector>

namespace easewright::nesting {

struct Way {
  GridPolygon cut;    ///< what is cut, opened out where it is; its box begins at 0, 0
  GridBox cut_box;    ///< of that: it may touch the cloth's edges
  GridPolygon kept;   ///< contains everything within half the gap of `cut`
  GridBox box;        ///< of that: two of these may touch
  int core = -1;      ///< place in Prepared::cores; -1: none
  GridPoint core_at;  ///< where the core lies in it
};

/// How one shape comes to lie in a way: several may share one.
struct Lie {
  int way = 0;  ///< place in Prepared::ways
  bool turned = false, mirrored = false;
  GridPoint origin;   ///< of the shape's own outline, from the way's
  double centre = 0;  ///< x of what is centred, from the way's origin, units
};

/// One placement. On a folded cloth it cuts through both layers.
struct Item {
  int shape = 0;
  int copy = 0;           ///< first of those that it cuts
  int copies = 1;         ///< cut at once
  std::vector<Lie> lies;  ///< no two of one way
  bool at_fold = false;   ///< a half, its fold edge at x = 0
  int group = -1;         ///< of matching, place in a list without holes; -1: free
  double match = 0;       ///< y of what is matched, from the way's origin (never turned), units
  bool centred = false;   ///< its centre lies whole repeats from the column (never turned)
};

/// A rectangle that lies in several ways: where it has no room, they have none.
struct Core {
  int way = 0;                ///< the rectangle as a way
  double x_lo = 0, x_hi = 0;  ///< where it lies while its ways lie on the cloth, units
};

struct Prepared {
  std::vector<Way> ways;
  std::vector<Core> cores;
  std::vector<Item> items;
  int groups = 0;
  double repeat_across = 0;     ///< of what is centred, units
  std::vector<double> columns;  ///< places for a centre, any of which all centred can share, units
  double area = 0;              ///< of all that is cut, cm2
  double tallest = 0;           ///< cm, along the cloth
  double bound = 0;             ///< least length that area, width and the longest shape allow, cm
  std::int64_t across = 0;      ///< the cloth as it lies (half its width where folded), units
  std::string error;
};

/// The least x, 0 or more (to half a unit), at which a lie's centre lies whole repeats from a
/// column.
double first_x(double column, const Lie& lie, double repeat_across);

/// Reads shapes and cloth; with `error` nothing else counts.
Prepared prepare(const std::vector<NestShape>& shapes, const NestCloth& cloth);

}  // namespace easewright::nesting
