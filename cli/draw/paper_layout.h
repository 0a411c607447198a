#pragma once
// Which way pieces lie on the paper: upright along their grain, on few sheets.

#include "cli/draw/canvas.h"
#include "cli/draw/paper.h"

#include <vector>

namespace easewright::draw {

/// What has to lie on the paper: a closed outline.
struct Footprint {
  Line outline;
  bool strip = false;  ///< lies lengthwise along the paper, whichever way its grain runs
};

/// Where everything lies on the joined fields of the sheets, or inside the large sheet's margins;
/// origin at the lower left.
struct PaperLayout {
  std::vector<Lay> places;  ///< in the footprints' order
  double width = 0, height = 0;
  int columns = 1, rows = 1;  ///< of sheets; 1 and 1 for a large one
};

/// On sheets, as few of them as are found; or on one, as short as is found, as wide as a roll is or
/// the widest piece. Outlines lie 0.5 apart at least, and 0.25 from the edge. The same footprints
/// give the same layout.
PaperLayout lay_out(const std::vector<Footprint>& footprints, Paper paper);

/// Whether some part of an outline lies in the box.
bool shows_in(const Line& outline, const Box& box);

}  // namespace easewright::draw
