#pragma once
// Where on the figure a rule or a wish is felt.

#include "model/alter/believe.h"
#include "model/alter/moves.h"
#include "model/figure/dressed.h"

#include <optional>
#include <string_view>
#include <vector>

namespace easewright::figure {

/// A place on the garment or, where it is about somebody seated, on the body.
enum class Place {
  front_neckline,  ///< its bottom
  neck_edge,
  back_neckline,
  back_neck_edge,
  strap,
  strap_outer,
  strap_back,
  front_armhole,
  back_armhole,
  underarm,
  bust,
  underbust,
  side_seam,
  bodice_side,  ///< the same in the front view
  waist,
  waist_front,
  waist_back,
  hip,
  overlap,
  tack,
  slit_start,
  slit_opening,
  thigh,
  lap,
  knee,
  free_edge,
  under_edge,
  hem,
  belt,
  belt_end
};

struct Spot {
  Place place = Place::waist;
  View view = View::front;
  Point at;  ///< in that view
};

/// Of a measure or draft value by its id, 'neckline.slack'; nothing where no place is known. The
/// longest beginning that is known counts: what is new in a part lies where the part lies.
std::optional<Place> place_of(std::string_view id);

/// Of a rule or a wish: where the first measure or draft value of its expression lies.
std::optional<Place> place_of(const Finding& finding);

/// Where a fault was seen.
std::optional<Place> place_of(const FaultKind& fault);

/// Where an alteration is done.
Place place_of(Change change);

/// The spot on this figure. A part that the garment has not is marked at the waist.
Spot spot_of(Place place, const Dressed& dressed);

/// A missed rule or wish on its spot; or a step of an alteration.
struct Marked {
  const Finding* finding = nullptr;  ///< null for a step
  int number = 0;  ///< from 1, in the findings' order: worst first; a step's is -1, -2 ...
  Spot spot;
};

/// All missed musts, shoulds and wishes; habits are left out. What is felt on one spot keeps
/// numbers of its own.
std::vector<Marked> marked(const std::vector<Finding>& findings, const Dressed& dressed);

}  // namespace easewright::figure
