// True scale: what is printed is measured on pixels, as a ruler would, against the piece that the
// model made. A ruler's tenth of a millimetre is a pixel here.

#include "cli/draw/pattern_book.h"
#include "cli/draw/pdf.h"
#include "cli/draw/svg.h"
#include "cut_job.h"
#include "model/pattern/polyline.h"
#include "pixels.h"
#include "tests/catch.h"

#include <algorithm>
#include <cmath>

using namespace easewright;
using namespace easewright::draw;
using namespace easewright::tests;

namespace {

/// The least that a cutter could see (issue: 0.2 mm), cm.
constexpr double kSeen = 0.02;

Heading plain_heading(const CutJob& cut) {
  Heading heading;
  heading.job = cut.job.label;
  heading.about = "for " + cut.job.body.label;
  heading.verdict = "FITS";
  return heading;
}

/// Columns (or rows) with one unbroken run of ink of 9.5 to 10.5 cm, neighbours taken together: the
/// middle of each group, cm.
std::vector<double> long_lines(const Pixels& pixels, bool upright) {
  const int across = upright ? pixels.width : pixels.height;
  const int along = upright ? pixels.height : pixels.width;
  std::vector<double> middles;
  double sum = 0, count = 0;
  for (int i = 0; i <= across; ++i) {
    int run = 0, longest = 0;
    for (int j = 0; j < along && i < across; ++j) {
      run = (upright ? pixels.ink(i, j) : pixels.ink(j, i)) > 0.4 ? run + 1 : 0;
      longest = std::max(longest, run);
    }
    const double cm = longest / pixels.per_cm;
    if (cm > 9.5 && cm < 10.5) {
      sum += i + 0.5;
      count += 1;
    } else if (count > 0) {
      middles.push_back(sum / count / pixels.per_cm);
      sum = count = 0;
    }
  }
  return middles;
}

/// Share of points along a line of the page that have ink within a tenth of a millimetre.
double inked(const Pixels& pixels, const Line& line, double aside) {
  const double length = length_of(line);
  int inked = 0, all = 0;
  for (double at = 0.5; at < length - 0.5; at += 0.05) {
    const Point p = point_at(line, at) + aside * outward_of(direction_at(line, at));
    inked += pixels.ink_near(p, 0.01) > 0.4;
    ++all;
  }
  return all == 0 ? 1 : static_cast<double>(inked) / all;
}

Line laid(const Line& line, const Lay& lay) {
  Line moved;
  for (const Point& p : line) moved.push_back(lay.of(p));
  return moved;
}

/// Where a closed outline is crossed by the level line at y (or the upright one at x), sorted.
std::vector<double> crossings(const Line& outline, double level, bool upright) {
  std::vector<double> at;
  for (size_t i = 0; i < outline.size(); ++i) {
    Point a = outline[i], b = outline[(i + 1) % outline.size()];
    if (upright) a = {a.y, a.x}, b = {b.y, b.x};
    if ((a.y > level) == (b.y > level)) continue;
    at.push_back(a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y));
  }
  std::sort(at.begin(), at.end());
  return at;
}

/// How far apart the outermost lines lie on the paper at a level; nothing where a dash's gap or a
/// line that runs along leaves no middle of ink.
std::optional<double> measured(
    const Pixels& pixels, double first, double last, double level, bool upright) {
  const double reach = 0.15;
  const auto point = [upright, level](double at) {
    return upright ? Point{level, at} : Point{at, level};
  };
  const auto a = pixels.middle_of_ink(point(first - reach), point(first + reach));
  const auto b = pixels.middle_of_ink(point(last - reach), point(last + reach));
  if (!a || !b) return std::nullopt;
  return (last - reach + *b) - (first - reach + *a);
}

struct Measured {
  int lengths = 0;
  double worst = 0;
};

/// Widths and heights of a piece's cut line at levels all over it.
Measured measure_piece(const Pixels& pixels, const Line& cut) {
  Measured result;
  const Box box = box_of(cut);
  for (const bool upright : {false, true}) {
    const double from = upright ? box.least.x : box.least.y;
    const double size = upright ? box.width() : box.height();
    for (int i = 1; i < 40; ++i) {
      const double level = from + size * i / 40;
      const auto at = crossings(cut, level, upright);
      // A line that is crossed flatly has its middle of ink beside the crossing.
      const auto beside = crossings(cut, level + 0.1, upright);
      if (at.size() < 2 || beside.size() != at.size()) continue;
      if (std::abs(at.front() - beside.front()) > 0.1 || std::abs(at.back() - beside.back()) > 0.1)
        continue;
      const auto seen = measured(pixels, at.front(), at.back(), level, upright);
      if (!seen) continue;
      ++result.lengths;
      result.worst = std::max(result.worst, std::abs(*seen - (at.back() - at.front())));
    }
  }
  return result;
}

}  // namespace

TEST_CASE("the test square measures 10 cm and 4 in each way") {
  if (!can_render()) return;
  const CutJob cut = cut_job("alto-2");
  const Scratch scratch;
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const PatternBook book = pattern_book(cut.pieces, plain_heading(cut), paper, false);
    const std::string file = scratch.write("p.pdf", pdf_of({book.pages[0]}, {"p"}));
    const Pixels pixels = render_pdf(file, 1, kFineDpi, book.pages[0].height);
    const auto columns = long_lines(pixels, true), rows = long_lines(pixels, false);
    REQUIRE(columns.size() == 2);
    REQUIRE(rows.size() == 2);
    CHECK_THAT(columns[1] - columns[0], WithinAbs(10, kSeen));
    CHECK_THAT(rows[1] - rows[0], WithinAbs(10, kSeen));
    // The broken lines of 4 in (10.16 cm, exact) begin in the same lower left corner.
    const double low = book.pages[0].height - rows[1], left = columns[0];
    const Line right = {{left + 10.16, low}, {left + 10.16, low + 10.16}};
    const Line top = {{left + 10.16, low + 10.16}, {left, low + 10.16}};
    for (const Line& line : {right, top}) {
      CHECK(inked(pixels, line, 0) > 0.6);
      CHECK(inked(pixels, line, 0.05) < 0.05);
      CHECK(inked(pixels, line, -0.05) < 0.05);
    }
  }
}

TEST_CASE("every piece measures on paper what the model says") {
  if (!can_render()) return;
  const CutJob cut = cut_job("alto-2", {"side dart sewn"});
  const PatternBook book = pattern_book(cut.pieces, plain_heading(cut), Paper::whole, false);
  const Page& page = book.pages.front();
  const Scratch scratch;
  const std::string file = scratch.write("p.pdf", pdf_of(book.pages, {"p"}));
  REQUIRE(book.layout.places.size() == cut.pieces.size() + 1);
  for (size_t i = 0; i < cut.pieces.size(); ++i) {
    const Piece& piece = cut.pieces[i];
    INFO(piece.name);
    Lay lay = book.layout.places[i];
    lay.at = lay.at + page.content.front().at;
    const Line outline = laid(piece.cut, lay);
    const Box box = box_of(outline).grown(0.3);
    const Pixels pixels = render_pdf(
        file, 1, kFineDpi, page.height, Part{box.least.x, box.least.y, box.most.x, box.most.y});
    const Measured measured = measure_piece(pixels, outline);
    CHECK(measured.lengths >= 10);
    CHECK_THAT(measured.worst, WithinAbs(0, kSeen));
    // The sew line lies where the model has each edge: two thirds of it are dashes, the rest gaps.
    for (const PieceEdge& edge : piece.edges) {
      if (edge.work == EdgeWork::fold || edge.allowance <= 0 || edge.length() < 3) continue;
      INFO(edge.name);
      const Line line = laid(edge.line, lay);
      CHECK(inked(pixels, line, 0) > 0.55);
      CHECK(inked(pixels, line, 0.08) < 0.2);
      CHECK(inked(pixels, line, -0.08) < 0.2);
    }
  }
}

TEST_CASE("the drawing for the screen has the paper's scale") {
  if (!can_render()) return;
  const CutJob cut = cut_job("bass-1");
  const PatternBook book = pattern_book(cut.pieces, plain_heading(cut), Paper::whole, false);
  const Page& page = book.pages.front();
  const Scratch scratch;
  const Pixels pixels =
      render_svg(scratch.write("p.svg", svg_of(page, {"p"})), kCoarseDpi, page.height);
  for (size_t i = 0; i < cut.pieces.size(); ++i) {
    INFO(cut.pieces[i].name);
    // At 0.2 mm a pixel what is marked on a tape runs into its edges.
    if (cut.pieces[i].cut_of == CutOf::tape) continue;
    Lay lay = book.layout.places[i];
    lay.at = lay.at + page.content.front().at;
    const Measured measured = measure_piece(pixels, laid(cut.pieces[i].cut, lay));
    CHECK(measured.lengths >= 10);
    CHECK_THAT(measured.worst, WithinAbs(0, kSeen));
  }
}
