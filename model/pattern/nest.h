#pragma once
// The cutting plan: pieces on the cloth's width, as short as can be found.
//
// Garment-free: shapes are polygons in cm. Grain runs along the cloth (y of a shape is y of the
// cloth); a shape may lie as drawn or turned by half a turn, or, with nap, only as drawn. Shapes on
// the fold lie with their fold edge on the fold of a folded cloth, or are opened out on a single
// layer.

#include "model/geometry/bezier.h"

#include <chrono>
#include <string>
#include <vector>

namespace easewright {

struct NestShape {
  std::string name;
  std::vector<geometry::Vec2<double>> outline;  ///< cut line, closed, first point not repeated
  int count = 1;
  bool mirrored_pairs = false;  ///< every second one mirrored (left, right)
  bool on_fold = false;  ///< outline is the half; its fold edge is x = 0, the cloth to the right
  /// With a repeat: this point's y must be congruent, over all shapes of one match group, modulo
  /// the repeat.
  int match_group = -1;
  double match_y = 0;
};

enum class Layering { single, folded };

struct NestCloth {
  double width = 140;  ///< usable, cm
  Layering layering = Layering::single;
  bool nap = false;   ///< all one way
  double repeat = 0;  ///< along the cloth, 0: plain
  double gap = 0.2;   ///< between cut lines, for the scissors
};

struct NestOptions {
  double seconds = 1.0;  ///< of search, CPU wall on two threads
  unsigned seed = 1;     ///< same seed and layouts tried, same plan
  long layouts = 0;      ///< > 0: stop after so many instead (deterministic)
  int threads = 0;
};

struct Placed {
  int shape = 0;  ///< place in the shapes
  int copy = 0;
  int copies = 1;  ///< cut at once: 2 where a pair is cut through both layers of a folded cloth
  bool turned = false;  ///< by half a turn
  bool mirrored = false;
  geometry::Vec2<double> at{0, 0};  ///< added to the (turned, mirrored) outline
  std::vector<geometry::Vec2<double>>
      outline;  ///< as it lies on the cloth: x across 0..width, y along
};

struct NestPlan {
  std::vector<Placed> placed;
  double length = 0;  ///< of cloth, cm (of the folded cloth where folded)
  double filled = 0;  ///< share of the length used: area of the shapes / (layers x width x length)
  double bound = 0;   ///< least length that area and width allow
  long layouts = 0;   ///< tried
  std::string error;  ///< a shape is wider than the cloth: which; else empty
};

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
