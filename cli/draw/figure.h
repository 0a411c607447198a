#pragma once
// The figure: the garment on the body's own outline, to scale, with a numbered mark on the spot
// where each miss is felt and a legend that says which. Lines and numbers carry every meaning, no
// colour.

#include "cli/draw/canvas.h"
#include "model/figure/spots.h"
#include "model/job.h"

#include <string>
#include <vector>

namespace easewright::draw {

/// What is written beside a mark's number. Steps of an alteration have negative numbers and are
/// lettered: -1 is A.
struct LegendLine {
  int number = 0;
  std::string strength;  ///< 'should'
  std::string text;
};

/// One state of a garment and what is said of it.
struct FigureState {
  const figure::Dressed* dressed = nullptr;
  std::vector<figure::Marked> marks;
  std::string heading;  ///< 'before', 'after plan 1'; empty where there is but one state
};

struct FigureSheet {
  std::string title;
  std::vector<std::string> figures;  ///< lines under the title: the lengths that are drawn
  std::vector<LegendLine> legend;
  std::string all_well;  ///< in the legend's place where nothing is missed; may be empty
  LengthUnit unit = LengthUnit::cm;
};

/// Front, back and side view with legend and scale bar, as wide as the page's type area.
Canvas draw_figure(const FigureState& state, const FigureSheet& sheet);

/// Front and back before and after an alteration, side by side; on the later figure the edges of
/// before are dashed.
Canvas draw_change(const FigureState& before, const FigureState& after, const FigureSheet& sheet);

/// One view alone without words, for a page that has its own: its ink and numbered marks.
Canvas draw_view(const FigureState& state, figure::View view, double scale);

/// The page for a figure: as large as its ink and a margin, A4 or Letter where it fits.
draw::Page figure_page(const Canvas& canvas, LengthUnit unit);

/// Lower left corner and number of each mark's ring as drawn by draw_view, for tests and for links.
struct PlacedMark {
  int number = 0;
  Point ring, spot;  ///< in the canvas's cm
};
std::vector<PlacedMark> placed_marks(const FigureState& state, figure::View view, double scale);

}  // namespace easewright::draw
