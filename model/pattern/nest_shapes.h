#pragma once
// From a garment's pieces to the shapes of its cutting plan.

#include "model/pattern/nest.h"
#include "model/pattern/piece.h"

#include <string>
#include <vector>

namespace easewright {

/// The cut lines of all pieces that are cut from this, named '<who>: <piece>'.
///
/// Pieces that meet in side seams form a match group, numbered from first_group on: a print that
/// matches there matches at the centres of left and right pieces too. What is matched is the seam's
/// end at the waist (above a dart it can't match, common practice). Give each garment of a group
/// its own hundred. What has a centre front or back, as a fold, a seam or a line of a wrapped
/// front, is centred there.
std::vector<NestShape> nest_shapes(const std::vector<Piece>& pieces,
                                   CutOf cut_of,
                                   const std::string& who,
                                   int first_group = 0);

}  // namespace easewright
