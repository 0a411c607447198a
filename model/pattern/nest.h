#pragma once
// The cutting plan: pieces on the cloth's width, as short as can be found.
//
// Garment-free: shapes are polygons in cm. Grain runs along the cloth (y of a shape is y of the
// cloth); a shape may lie as drawn or turned by half a turn; with nap, or matched to a print, only
// as drawn. Shapes on the fold lie with their fold edge on the fold of a folded cloth, or are
// opened out on a single layer.
//
// A folded cloth lies right sides together, its fold at x = 0, half its width across. What lies off
// the fold is cut twice, left and right: a pair, or two of a shape that is its own mirror image.
// Another shape leaves its second layer as waste. A shape that is too wide for the folded cloth but
// is its own mirror image (a belt's strip) lies across the fold.

#include "model/geometry/bezier.h"

#include <string>
#include <vector>

namespace easewright {

struct NestShape {
  std::string name;
  std::vector<geometry::Vec2<double>> outline;  ///< cut line, closed, first point not repeated
  int count = 1;
  bool mirrored_pairs = false;  ///< every second one mirrored (left, right)
  bool on_fold = false;  ///< outline is the half; its fold edge is x = 0, the cloth to the right
  /// With a repeat along the cloth: this point's y must be congruent, over all shapes of one match
  /// group, modulo the repeat.
  int match_group = -1;
  double match_y = 0;
  /// With a repeat across: this place's x must be congruent over all centred shapes. On a folded
  /// cloth it lies whole repeats from the fold, which runs along the middle of a figure.
  bool centred = false;
  double centre_x = 0;
};

enum class Layering { single, folded };

struct NestCloth {
  double width = 140;  ///< usable, cm
  Layering layering = Layering::single;
  bool nap = false;          ///< all one way
  double repeat = 0;         ///< along the cloth, 0: plain
  double repeat_across = 0;  ///< the same across it
  double gap = 0.2;          ///< between cut lines, for the scissors
};

struct NestOptions {
  double seconds = 1.0;  ///< of search; at least one layout is tried, however long it takes
  unsigned seed = 1;
  /// > 0: so many instead; then the same seed gives the same plan. Where all there are number no
  /// more than twenty times as many, all are tried: most can be given up early.
  long layouts = 0;
  /// With layouts, > 0: from half of these seconds on the search hurries so as to end with them.
  double at_most = 0;
  int threads = 0;  ///< at most four are of use; 0: as many as there are processors
};

struct Placed {
  int shape = 0;  ///< place in the shapes
  int copy = 0;
  int copies = 1;        ///< cut at once: `copy` and the next through both layers of a folded cloth
  bool at_fold = false;  ///< `outline` is the half of it, its edge at x = 0 on the fold
  bool turned = false;   ///< by half a turn (a half at the fold: turned and mirrored)
  bool mirrored = false;            ///< left for right, before turning
  geometry::Vec2<double> at{0, 0};  ///< added to the mirrored, turned outline of the shape
  /// As it lies on the cloth, x across 0..width, y along; round the same way as the shape's. Opened
  /// out or halved where the shape's own isn't.
  std::vector<geometry::Vec2<double>> outline;
};

struct NestPlan {
  std::vector<Placed> placed;
  double length = 0;  ///< of cloth, cm (of the folded cloth where folded)
  double filled = 0;  ///< share of the length used: area of the shapes / (layers x width x length)
  double bound = 0;   ///< least length that area, width and the longest shape allow
  long layouts = 0;   ///< tried
  std::string error;  ///< a shape is wider than the cloth: which; else empty
};

/// Errors: a shape is wider than the cloth, can't lie with its centre where a repeat across asks
/// for it, has no inside, or is to lie on the fold but has no edge at x = 0; the cloth's measures
/// are none. Outlines may run either way round; of one that crosses itself all that it encloses is
/// kept free. A hollow exactly as wide as a piece, without any gap, counts as too narrow for it.
NestPlan nest(const std::vector<NestShape>& shapes,
              const NestCloth& cloth,
              const NestOptions& options = {});

/// Largest overlap of any two placed outlines, or outside the cloth, as an area in cm2. 0 when
/// sound.
double overlap_of(const NestPlan& plan, const NestCloth& cloth);

/// Cloth to buy: length after shrinkage along (fraction), rounded up to 0.1 m, and to yards and
/// eighths.
struct ToBuy {
  double metres = 0;
  double yards = 0;
};
ToBuy to_buy(double length_cm, double shrinkage_length);

}  // namespace easewright
