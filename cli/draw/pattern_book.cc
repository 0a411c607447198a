#include "cli/draw/pattern_book.h"

#include "cli/draw/free_space.h"
#include "cli/draw/lettering.h"
#include "cli/draw/pattern_lines.h"
#include "cli/draw/piece_drawing.h"
#include "cli/write/cut_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace easewright::draw {
namespace {

/// Tacks: three bars across the line where two sheets meet, cm.
constexpr double kTackReach = 0.8, kTackGap = 0.4;
/// What a sheet says of itself, em in cm.
constexpr double kTagSize = 0.36;

/// One piece, drawn, and what it takes on the paper.
struct Drawn {
  Canvas canvas;
  Line outline;  ///< its cut line, or the box around everything where words stand beside it
};

Drawn drawn(const Piece& piece, const PieceLook& look) {
  Drawn d{draw_piece(piece, look), piece.cut};
  const Box cut = box_of(piece.cut), all = *d.canvas.bounds();
  const Box ink = cut.grown(0.2);
  const bool beside = all.least.x < ink.least.x || all.least.y < ink.least.y ||
                      all.most.x > ink.most.x || all.most.y > ink.most.y;
  if (beside) d.outline = rectangle(around(cut, all));
  return d;
}

class Sheets {
 public:
  Sheets(PatternBook& book, const SheetSize& size, const std::vector<Line>& outlines)
      : book_(book), size_(size), outlines_(outlines) {}

  void find_fields() {
    for (int row = 0; row < book_.layout.rows; ++row)
      for (int column = 0; column < book_.layout.columns; ++column)
        if (is_used(field(row, column)))
          book_.fields.push_back({row, column, sheet_name(row, column)});
  }

  SheetMap map() const {
    return {book_.fields,
            book_.layout.rows,
            book_.layout.columns,
            size_.field_width(),
            size_.field_height(),
            outlines_};
  }

  /// On the joined pattern, so that both sheets of a pair carry the same marks.
  void draw_tacks(Canvas& joined) const {
    joined.begin("where sheets meet");
    for (const Field& f : book_.fields) {
      const Box box = field(f.row, f.column);
      if (has(f.row, f.column + 1))
        draw_joint(joined, {box.most.x, box.least.y}, {0, 1}, size_.field_height());
      if (has(f.row + 1, f.column)) draw_joint(joined, box.least, {1, 0}, size_.field_width());
    }
  }

  void add_pages(const std::string& job) {
    const size_t count = book_.fields.size() + 1;
    // What a tag keeps clear of, a little coarser than it is drawn.
    std::vector<std::pair<Box, Line>> in_the_way;
    for (const Mark& mark : book_.joined().marks()) {
      if (const auto* stroke = std::get_if<Stroke>(&mark.what)) {
        Line line = stroke->line;
        if (stroke->closed) line.push_back(line.front());
        in_the_way.emplace_back(mark.bounds, simplified(line, 0.02));
      } else {
        Line corners = rectangle(mark.bounds);
        corners.push_back(corners.front());
        in_the_way.emplace_back(mark.bounds, corners);
      }
    }
    for (size_t i = 0; i < book_.fields.size(); ++i) {
      const Field& f = book_.fields[i];
      const Box box = field(f.row, f.column);
      const Point corner{kMargin, kMargin + kStrip};  // of the field, on the sheet
      Canvas& own = book_.canvases.emplace_back();
      const std::string tag = fmt::format("{}, sheet {} of {}: {}", f.name, i + 2, count, job);
      draw_tag(own, tag, box, corner, in_the_way);
      draw_instructions(own, f, corner);
      // The strips show what the neighbours do; the paper's margin stays white.
      const Box window{{kMargin, kMargin}, {size_.width - kMargin, size_.height - kMargin}};
      book_.pages.push_back(
          {size_.width,
           size_.height,
           {{&book_.joined(), corner - box.least, window}, {&own, {0, 0}, std::nullopt}}});
    }
  }

 private:
  Box field(int row, int column) const { return field_of(size_, book_.layout.rows, row, column); }

  bool is_used(const Box& box) const {
    return std::any_of(outlines_.begin(), outlines_.end(), [&](const Line& outline) {
      return shows_in(outline, box);
    });
  }

  bool has(int row, int column) const {
    return std::any_of(book_.fields.begin(), book_.fields.end(), [&](const Field& f) {
      return f.row == row && f.column == column;
    });
  }

  static void draw_joint(Canvas& joined, const Point& from, const Point& along, double length) {
    const Point across{along.y, -along.x};
    joined.line({from, from + length * along}, kSheetEdge);
    for (const double share : {0.25, 0.75}) {
      const Point tack = from + share * length * along;
      for (const int bar : {-1, 0, 1}) {
        const double reach = bar == 0 ? kTackReach : 0.6 * kTackReach;
        const Point at = tack + kTackGap * bar * along;
        joined.line({at - reach * across, at + reach * across}, {.width = 0.04});
      }
    }
  }

  /// Where it hides nothing, as near to the upper left corner as it goes.
  void draw_tag(Canvas& own,
                const std::string& tag,
                const Box& box,
                const Point& corner,
                const std::vector<std::pair<Box, Line>>& in_the_way) const {
    const Point shift = corner - box.least;
    FreeSpace space;
    for (const auto& [bounds, line] : in_the_way) {
      if (!bounds.meets(box)) continue;
      Line moved = line;
      for (Point& p : moved) p = p + shift;
      space.take_line(moved);
    }
    const double gap = 0.2, height = kTagSize * (kAscent + kDescent);
    const double width = width_of(tag, kTagSize, Weight::bold);
    const Box on_sheet = box.moved(shift);
    const Point upper_left{on_sheet.least.x, on_sheet.most.y};
    const auto place =
        space.find(rectangle(on_sheet), width + 2 * gap, height + 2 * gap, upper_left);
    const Point at = place ? place->least + Point{gap, gap + kDescent * kTagSize}
                           : upper_left + Point{gap, -gap - kAscent * kTagSize};
    own.text(at, tag, {.size = kTagSize, .weight = Weight::bold});
  }

  /// In the margins that are cut off and the strips that are covered.
  void draw_instructions(Canvas& own, const Field& f, const Point& corner) const {
    const double quarter = 0.5 * std::numbers::pi;
    const double width = size_.field_width(), height = size_.field_height();
    const Lettering upright{.size = 0.3, .anchor = Anchor::middle, .turn = quarter};
    const Lettering level{.size = 0.3, .anchor = Anchor::middle};
    const auto words = [](const char* text, const std::string& name) {
      return fmt::format(fmt::runtime(text), name);
    };
    if (has(f.row, f.column - 1))
      own.text(corner + Point{-0.15, 0.5 * height},
               words("cut off here, lay on {}", sheet_name(f.row, f.column - 1)),
               upright);
    if (has(f.row - 1, f.column))
      own.text(corner + Point{0.5 * width, height + 0.15},
               words("cut off here, lay on {}", sheet_name(f.row - 1, f.column)),
               level);
    if (has(f.row, f.column + 1))
      own.text(corner + Point{width + 0.6 * kStrip, 0.5 * height},
               words("{} lies here", sheet_name(f.row, f.column + 1)),
               upright);
    if (has(f.row + 1, f.column))
      own.text(corner + Point{0.5 * width, -0.6 * kStrip},
               words("{} lies here", sheet_name(f.row + 1, f.column)),
               level);
  }

  PatternBook& book_;
  const SheetSize& size_;
  const std::vector<Line>& outlines_;
};

}  // namespace

PatternBook pattern_book(const std::vector<Piece>& pieces,
                         const Heading& heading,
                         Paper paper,
                         bool nap) {
  PatternBook book;
  const bool whole_sheet = paper == Paper::whole;
  std::vector<Piece> printed, strips;
  for (const Piece& piece : pieces)
    (is_strip(piece) && !whole_sheet ? strips : printed).push_back(piece);
  const PieceLook look{nap, heading.fits ? "" : "DOES NOT FIT: see the first sheet"};
  std::vector<Drawn> all;
  std::vector<Footprint> footprints;
  for (const Piece& piece : printed) {
    all.push_back(drawn(piece, look));
    footprints.push_back({all.back().outline, is_strip(piece)});
  }
  const double column = size_of(Paper::a4).width - 2 * kMargin;
  Canvas first;
  if (whole_sheet) {
    first = draw_first_sheet(heading, pieces, {}, nullptr, column);
    footprints.push_back({rectangle(first.bounds().value_or(Box{})), false});
  }
  book.layout = lay_out(footprints, paper);

  Canvas& joined = book.canvases.emplace_back();
  std::vector<Line> outlines;
  for (size_t i = 0; i < all.size(); ++i) {
    joined.add(all[i].canvas, book.layout.places[i]);
    Line outline = all[i].outline;
    for (Point& p : outline) p = book.layout.places[i].of(p);
    outlines.push_back(std::move(outline));
  }
  if (whole_sheet) {
    joined.add(first, book.layout.places.back());
    book.pages.push_back({book.layout.width + 2 * kMargin,
                          book.layout.height + 2 * kMargin,
                          {{&joined, {kMargin, kMargin}, std::nullopt}}});
    return book;
  }
  const SheetSize size = size_of(paper);
  Sheets sheets(book, size, outlines);
  sheets.find_fields();
  sheets.draw_tacks(joined);
  const SheetMap map = sheets.map();
  Canvas& front =
      book.canvases.emplace_back(draw_first_sheet(heading, printed, strips, &map, column));
  book.pages.push_back(
      {size.width, size.height, {{&front, {kMargin, size.height - kMargin}, std::nullopt}}});
  sheets.add_pages(heading.job);
  return book;
}

}  // namespace easewright::draw
