#pragma once
// How far each value can go on this body, what goes with what, and what one more centimetre of a
// wish does: the solver's reach, map and sensitivity in the garment's words. All start from a fit;
// none changes it.

#include "model/explain.h"
#include "model/fit.h"
#include "solver/map.h"
#include "solver/reach.h"

#include <string>
#include <vector>

namespace easewright {

struct ReachEnd {
  double value = 0;                ///< inside units
  std::vector<Participant> stops;  ///< what stops it there, the one that matters most first
  bool proved = false;
};

struct ValueReach {
  ValueKey value = ValueKey::count;
  double now = 0;  ///< where the fit has it
  ReachEnd least, greatest;
};

/// The least and the greatest of each value while all that can hold still holds. Wishes about the
/// value itself take no part. Values that the garment does not have, or that are fixed, are left
/// out.
std::vector<ValueReach> reach(const FitResult& result, const std::vector<ValueKey>& values);

struct MapAxis {
  ValueKey value = ValueKey::count;
  double from = 0, to = 0;  ///< inside units
};

struct ValueMap {
  MapAxis across, down;
  solver::Map map;                  ///< map.at(column, row); rows run from down.from to down.to
  std::vector<int> rule_of_output;  ///< place in Posed::rules of each output, -1 for habits
};

/// Over a grid of two values: everything holds, or which rule is missed first. An axis without
/// limits (from == to) runs over the value's own. threads 0: as many as the machine has; the answer
/// does not depend on it.
ValueMap map_values(
    const FitResult& result, MapAxis across, MapAxis down, int columns, int rows, int threads = 0);

/// What one more unit (1 cm, 1 rad) of a wish does.
struct WishEffect {
  int rule = 0;  ///< the wish, place in Posed::rules
  struct On {
    MeasureKey measure;
    double per_unit = 0;  ///< inside units of the measure per inside unit of the wish
    double felt =
        0;  ///< the change by 1 cm (1 degree) in tolerances of the rule that is about the measure
  };
  std::vector<On>
      on;  ///< measures that rules are about, the most felt first; empty when nothing moves
};

std::vector<WishEffect> wish_effects(const FitResult& result);

}  // namespace easewright
