#pragma once
// A piece as it is printed: cut line, sew line, all marks, its label.

#include "cli/draw/canvas.h"
#include "model/job.h"
#include "model/pattern/piece.h"

#include <string>

namespace easewright::draw {

struct PieceLook {
  bool nap = false;     ///< the grain arrow has one head, and all pieces point one way
  std::string caution;  ///< last line of the label, bold; empty: none
};

/// At true scale, in the piece's own coordinates, under its number and name. Everything lies on the
/// piece but the label of one that has no room for it, which stands above.
Canvas draw_piece(const Piece& piece, const PieceLook& look = {});

}  // namespace easewright::draw
