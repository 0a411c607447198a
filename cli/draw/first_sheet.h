#pragma once
// The sheet that is printed first: what it is, whether it fits, a square to measure before any
// paper is spent on the rest, how the sheets are joined, what is cut, and what the lines mean.

#include "cli/draw/canvas.h"
#include "model/job.h"
#include "model/pattern/piece.h"

#include <string>
#include <vector>

namespace easewright::draw {

/// What a pattern says besides its pieces.
struct Heading {
  std::string job;                   ///< 'alto 2, concert dress'
  std::string about;                 ///< 'for alto 2; concert dress, of choir bolt; 1 May 2026'
  std::string verdict;               ///< 'FITS: all 101 rules and wishes hold'
  std::vector<std::string> misses;   ///< a sentence each, worst first
  bool fits = true;                  ///< no must and no should is missed
  LengthUnit unit = LengthUnit::cm;  ///< of lengths in words
};

/// A sheet of the joined pattern, for the map.
struct Field {
  int row = 0, column = 0;
  std::string name;
};
struct SheetMap {
  std::vector<Field> fields;
  int rows = 0, columns = 0;
  double field_width = 0, field_height = 0;
  std::vector<Line> outlines;  ///< of the pieces, in the joined pattern's cm
};

/// Drawn in a column of this width from (0, 0) downwards. Strips are pieces that are measured off
/// by their figures instead of printed. `map`: null where there is one sheet alone.
Canvas draw_first_sheet(const Heading& heading,
                        const std::vector<Piece>& pieces,
                        const std::vector<Piece>& strips,
                        const SheetMap* map,
                        double width);

/// The test square: 10 cm, and in the same corner 4 in, its lower left corner here.
void draw_test_square(Canvas& canvas, const Point& corner);

}  // namespace easewright::draw
