#pragma once
// The sewing slip: what a sewer needs at the machine, in the order of work, every number read off
// the pieces or the draft. Words and lengths; nothing of how they are laid out.
//
// Order (common practice): cut; stay the edges; darts; straps, neck, armholes, turn; side seams;
// hang the skirt, level and hem it; only then overlap the fronts and join the waist; casing and
// elastic on the body; belt.

#include "model/pattern/pieces.h"

#include <string>
#include <vector>

namespace easewright {

/// A length, and what it is of: 'bodice front: side seam' is a seam of a piece as it is read off
/// (one of each pair rounded, its mate derived), anything else is named as what it is: 'elastic,
/// cut', 'waist seam'. cm.
struct SlipFigure {
  std::string of;
  double cm = 0;
};

/// One thing to do, to measure on the way, or to heed.
struct SlipLine {
  enum class Kind { work, check, caution };
  Kind kind = Kind::work;
  /// Each '{}' stands for the next figure, written without a unit: a bare number is a length.
  std::string text;
  std::vector<SlipFigure> figures;
};

/// One stage of the work.
struct SlipStep {
  std::string title;  ///< 'Cut', 'Straps', at most eight letters
  std::vector<SlipLine> lines;
};

struct Slip {
  std::vector<SlipStep> steps;  ///< in the order of work; only those that the garment has

  const SlipStep* step(const std::string& title) const;       ///< null where there is none
  const SlipFigure* figure(const std::string& figure) const;  ///< the first of that name, or null
};

/// `pieces`: those of `result`. `unit`: what mates are rounded to. Needs result.posed.
Slip slip_of(const FitResult& result, const std::vector<Piece>& pieces, LengthUnit unit);

}  // namespace easewright
