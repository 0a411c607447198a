#include "cli/draw/first_sheet.h"

#include "cli/draw/lettering.h"
#include "cli/draw/pattern_lines.h"
#include "cli/write/cut_words.h"
#include "model/units.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace easewright::draw {
namespace {

constexpr double kText = 0.38, kSmall = 0.32;
constexpr double kTenCm = 10, kFourInches = 4 * kCmPerInch;
/// More misses than these are counted, not told.
constexpr size_t kToldMisses = 3;

/// Lines of text from the top down.
class Column {
 public:
  Column(Canvas& canvas, double left, double width, double top)
      : canvas_(canvas), left_(left), width_(width), y_(top) {}

  void text(const std::string& words, double size, Weight weight = Weight::regular) {
    for (const std::string& line : wrapped(words, width_, size, weight)) {
      y_ -= kLeading * size;
      canvas_.text({left_, y_ + kDescent * size}, line, {.size = size, .weight = weight});
    }
  }
  void gap(double height) { y_ -= height; }
  double y() const { return y_; }

 private:
  Canvas& canvas_;
  double left_, width_, y_;
};

void draw_ticks(Canvas& canvas, const Point& corner, double side, double step, int count) {
  for (int i = 1; i < count; ++i) {
    const double at = step * i;
    canvas.line({corner + Point{at, 0}, corner + Point{at, 0.3}}, {.width = 0.02});
    canvas.line({corner + Point{side, at}, corner + Point{side - 0.3, at}}, {.width = 0.02});
  }
}

void draw_map(Canvas& canvas, const SheetMap& map, const Box& room) {
  const double width = map.columns * map.field_width, height = map.rows * map.field_height;
  const double scale = std::min(room.width() / width, room.height() / height);
  const Lay lay{scale, 0, {room.least.x, room.most.y - scale * height}};
  for (const Field& field : map.fields) {
    const Point corner{field.column * map.field_width, height - (field.row + 1) * map.field_height};
    const Box box{lay.of(corner), lay.of(corner + Point{map.field_width, map.field_height})};
    canvas.outline(rectangle(box), {.width = 0.015});
  }
  for (Line outline : map.outlines) {
    for (Point& p : outline) p = lay.of(p);
    canvas.outline(std::move(outline), {.width = 0.03, .tint = grey(0.5)});
  }
  const double size =
      std::min({0.4, 0.4 * scale * map.field_height, 0.4 * scale * map.field_width});
  for (const Field& field : map.fields) {
    const Point middle{(field.column + 0.5) * map.field_width,
                       height - (field.row + 0.5) * map.field_height};
    canvas.text(lay.of(middle) - Point{0, 0.5 * kCapital * size},
                field.name,
                {.size = size, .weight = Weight::bold, .anchor = Anchor::middle});
  }
}

/// One line of the key: a sample, then what it means.
void draw_key_line(Canvas& canvas, const Point& at, const Pen& pen, const char* meaning) {
  canvas.line({at + Point{0, 0.1}, at + Point{1.6, 0.1}}, pen);
  canvas.text(at + Point{1.9, 0}, meaning, {.size = kSmall});
}

void draw_head(Canvas& canvas, const Point& tip, double sense) {
  canvas.fill({tip, tip + Point{-0.4 * sense, 0.14}, tip + Point{-0.4 * sense, -0.14}}, kBlack);
}

double draw_key(Canvas& canvas, double left, double top) {
  double y = top - 0.4;
  const double step = 0.48;
  const auto row = [&](const Pen& pen, const char* meaning) {
    draw_key_line(canvas, {left, y}, pen, meaning);
    y -= step;
  };
  row(kCutLine, "cut");
  row(kSewLine, "sew");
  row(kClothFold, "fold of the cloth");
  row(kPressedFold, "press or fold");
  row(kCasingLine, "casing");
  row(kPlacement, "another edge lies here");
  canvas.line({{left + 0.3, y + 0.1}, {left + 1.3, y + 0.1}}, kArrow);
  draw_head(canvas, {left + 1.6, y + 0.1}, 1);
  draw_head(canvas, {left, y + 0.1}, -1);
  canvas.text({left + 1.9, y}, "grain (one head: all one way)", {.size = kSmall});
  y -= step;
  Line wave;
  for (int i = 0; i <= 24; ++i)
    wave.push_back({left + 1.6 * i / 24, y + 0.1 + 0.12 * std::sin(2 * std::numbers::pi * i / 12)});
  canvas.line(wave, kGathers);
  canvas.text({left + 1.9, y}, "gather or ease between the strokes", {.size = kSmall});
  y -= step;
  canvas.line({{left + 0.3, y - 0.1}, {left + 0.3, y + 0.35}}, kNotch);
  for (const double x : {1.1, 1.4})
    canvas.line({{left + x, y - 0.1}, {left + x, y + 0.35}}, kNotch);
  canvas.text({left + 1.9, y}, "snip: one in front, two behind", {.size = kSmall});
  return y - 0.3;
}

double draw_cut_list(Canvas& canvas,
                     const std::vector<Piece>& pieces,
                     const std::vector<Piece>& strips,
                     LengthUnit unit,
                     double left,
                     double width,
                     double top) {
  Column column(canvas, left, width, top);
  column.text("Cut", kText, Weight::bold);
  for (const Piece& piece : pieces) column.text(cut_words(piece, unit), kSmall);
  if (strips.empty()) return column.y();
  column.gap(0.2);
  column.text("Measure off, not printed", kText, Weight::bold);
  for (const Piece& strip : strips) column.text(cut_words(strip, unit), kSmall);
  return column.y();
}

}  // namespace

void draw_test_square(Canvas& canvas, const Point& corner) {
  canvas.outline(rectangle({corner, corner + Point{kFourInches, kFourInches}}),
                 {.width = 0.02, .dash = {0.2, 0.1}});
  canvas.outline(rectangle({corner, corner + Point{kTenCm, kTenCm}}), {.width = 0.03});
  draw_ticks(canvas, corner, kTenCm, 1, 10);
  const Lettering middle{.size = kText, .anchor = Anchor::middle};
  canvas.text(corner + Point{5, 5.2},
              "Test square",
              {.size = 0.6, .weight = Weight::bold, .anchor = Anchor::middle});
  canvas.text(corner + Point{5, 4.4}, "solid line: 10 cm each way", middle);
  canvas.text(corner + Point{5, 3.8}, "broken line: 4 in each way", middle);
  canvas.text(corner + Point{5, 3.2}, "off by over 1 mm: print again at 100 %", middle);
}

Canvas draw_first_sheet(const Heading& heading,
                        const std::vector<Piece>& pieces,
                        const std::vector<Piece>& strips,
                        const SheetMap* map,
                        double width) {
  Canvas canvas;
  canvas.begin("first sheet");
  Column column(canvas, 0, width, 0);
  column.text(heading.job, 0.6, Weight::bold);
  column.text(heading.about, kText);
  column.gap(0.2);
  const double box_top = column.y();
  column.gap(0.1);
  Column verdict(canvas, 0.3, width - 0.6, column.y());
  verdict.text(heading.verdict, heading.fits ? kText : 0.5, Weight::bold);
  for (size_t i = 0; i < std::min(heading.misses.size(), kToldMisses); ++i)
    verdict.text(heading.misses[i], kSmall);
  if (heading.misses.size() > kToldMisses)
    verdict.text(fmt::format("and {} more", heading.misses.size() - kToldMisses), kSmall);
  const double box_bottom = verdict.y() - 0.2;
  // What does not fit stands in a heavy frame.
  canvas.outline(rectangle({{0.05, box_bottom}, {width - 0.05, box_top}}),
                 {.width = heading.fits ? 0.02 : 0.09});

  const double square_top = box_bottom - 0.4;
  draw_test_square(canvas, {0.1, square_top - kFourInches - 0.05});
  const double side = kFourInches + 0.8;
  double bottom = square_top - kFourInches - 0.3;
  if (map != nullptr) {
    Column join(canvas, side, width - side, square_top);
    join.text("Print this sheet first, at 100 %, and measure the square. Then the rest.",
              kText,
              Weight::bold);
    join.gap(0.1);
    join.text(
        "Join: begin at the first sheet of a row. Cut the next one off along its left line and lay "
        "it on the strip of the one before, so that the tacks (three bars) run on straight. Then "
        "cut each row off along its upper line and lay it on the row above. Tape.",
        kSmall);
    join.gap(0.2);
    draw_map(canvas, *map, {{side, bottom}, {width, join.y()}});
  } else {
    Column whole(canvas, side, width - side, square_top);
    whole.text("Print at 100 % and measure the square before cutting.", kText, Weight::bold);
  }
  const double key_width = 7.6;
  const double list_bottom =
      draw_cut_list(canvas, pieces, strips, heading.unit, 0, width - key_width - 0.4, bottom - 0.2);
  const double key_bottom = draw_key(canvas, width - key_width, bottom - 0.2);
  bottom = std::min(list_bottom, key_bottom);
  return canvas;
}

}  // namespace easewright::draw
