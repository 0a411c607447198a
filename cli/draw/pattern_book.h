#pragma once
// A pattern on paper: every piece at true scale, on sheets that are joined or on a large one.

#include "cli/draw/canvas.h"
#include "cli/draw/first_sheet.h"
#include "cli/draw/paper.h"
#include "cli/draw/paper_layout.h"
#include "model/pattern/piece.h"

#include <deque>
#include <string>
#include <vector>

namespace easewright::draw {

struct PatternBook {
  std::deque<Canvas> canvases;  ///< the joined pattern first; pages refer to them
  PaperLayout layout;
  std::vector<Field> fields;  ///< of the pages after the first, in their order
  std::vector<Page> pages;    ///< the first sheet, then the fields; or one large sheet

  PatternBook() = default;
  PatternBook(PatternBook&&) = default;
  PatternBook(const PatternBook&) = delete;

  /// All pieces where they lie, with the marks that join the sheets.
  const Canvas& joined() const { return canvases.front(); }
};

/// On sheets, strips (rectangles such as a belt's) are measured off by the first sheet's figures;
/// the large sheet shows them too. A field with no part of a piece on it has no sheet. `nap`: grain
/// arrows have one head.
PatternBook pattern_book(const std::vector<Piece>& pieces,
                         const Heading& heading,
                         Paper paper,
                         bool nap);

}  // namespace easewright::draw
