// The drawing surface: pages, PDF and SVG, words and where they go.

#include "cli/draw/canvas.h"
#include "cli/draw/free_space.h"
#include "cli/draw/lettering.h"
#include "cli/draw/pdf.h"
#include "cli/draw/svg.h"
#include "pixels.h"
#include "scratch.h"
#include "tests/catch.h"

#include <cmath>
#include <numbers>

using namespace easewright::draw;
using namespace easewright::tests;

namespace {

constexpr double kPointsPerCm = 72 / 2.54;  // PDF reference: 1/72 in; the inch is 2.54 cm

Canvas some_lines() {
  Canvas canvas;
  canvas.begin("a <square> & more");
  canvas.outline(rectangle({{2, 3}, {12, 13}}), {.width = 0.04});
  canvas.line({{1, 1}, {8, 2}, {9, 9}}, {.width = 0.03, .dash = {0.3, 0.15}});
  canvas.dot({15, 15}, 0.5);
  canvas.text({4, 20}, "side seam 19.5 cm", {.size = 0.5, .turn = 0.4, .ground = Ground::white});
  return canvas;
}

}  // namespace

TEST_CASE("a page is as large as it was asked for, to a thousandth of a point") {
  const Canvas canvas = some_lines();
  std::vector<Page> pages;
  // ISO 216 A4 and A3, Letter (8 1/2 by 11 in), and a sheet of no standard.
  const std::vector<std::pair<double, double>> sizes = {
      {21, 29.7}, {29.7, 42}, {21.59, 27.94}, {84.1, 237.63}};
  for (const auto& [width, height] : sizes)
    pages.push_back({width, height, {{&canvas, {0, 0}, {}}}});
  const auto boxes = media_boxes(pdf_of(pages, {"sizes"}));
  REQUIRE(boxes.size() == sizes.size());
  for (size_t i = 0; i < sizes.size(); ++i) {
    CHECK_THAT(boxes[i].first, WithinAbs(sizes[i].first * kPointsPerCm, 1e-3));
    CHECK_THAT(boxes[i].second, WithinAbs(sizes[i].second * kPointsPerCm, 1e-3));
  }
  CHECK_THAT(svg_of(pages[2], {"letter"}),
             Catch::Contains(R"(width="215.9mm" height="279.4mm" viewBox="0 0 215.9 279.4")"));
}

TEST_CASE("the same drawing gives the same bytes") {
  const Canvas canvas = some_lines();
  const Page page{21, 29.7, {{&canvas, {1, 1}, Box{{2, 2}, {9, 9}}}}};
  CHECK(pdf_of({page}, {"twice"}) == pdf_of({page}, {"twice"}));
  CHECK(svg_of(page, {"twice"}) == svg_of(page, {"twice"}));
  CHECK(pdf_of({page}, {"twice"}) != pdf_of({page}, {"once"}));
}

TEST_CASE("PDF and SVG put ink where the canvas has it, and none elsewhere") {
  if (!can_render()) return;
  const Canvas canvas = some_lines();
  const Page page{21, 29.7, {{&canvas, {0, 0}, {}}}};
  const Scratch scratch;
  const auto pdf =
      render_pdf(scratch.write("a.pdf", pdf_of({page}, {"a"})), 1, kFineDpi, page.height);
  const auto svg = render_svg(scratch.write("a.svg", svg_of(page, {"a"})), kFineDpi, page.height);
  for (const Pixels* pixels : {&pdf, &svg}) {
    // A tool may round a page's last part of a pixel up.
    CHECK((pixels->width == 2100 || pixels->width == 2101));
    CHECK((pixels->height == 2970 || pixels->height == 2971));
    const auto left = pixels->middle_of_ink({1.5, 8}, {2.5, 8});
    const auto right = pixels->middle_of_ink({11.5, 8}, {12.5, 8});
    const auto low = pixels->middle_of_ink({4, 2.5}, {4, 3.5});
    const auto high = pixels->middle_of_ink({4, 12.5}, {4, 13.5});
    REQUIRE((left && right && low && high));
    // Half a pixel, 0.005 cm, and half of one for lines that are snapped to pixels.
    CHECK_THAT(*left, WithinAbs(0.5, 0.01));
    CHECK_THAT(*right, WithinAbs(0.5, 0.01));
    CHECK_THAT(*low, WithinAbs(0.5, 0.01));
    CHECK_THAT(*high, WithinAbs(0.5, 0.01));
    CHECK(pixels->ink_near({15, 15}, 0) > 0.9);
    CHECK(pixels->ink_near({15.45, 15}, 0) > 0.9);
    CHECK(pixels->ink_near({15.55, 15}, 0) < 0.1);
    CHECK(pixels->ink_near({18, 25}, 1) < 0.1);
  }
}

TEST_CASE("a window shows what lies in it and nothing beside it") {
  if (!can_render()) return;
  Canvas canvas;
  canvas.line({{0, 5}, {10, 5}}, {.width = 0.1});
  // The line lies at y = 7 of the page; of it, 4 to 8 shows.
  const Page page{12, 12, {{&canvas, {1, 2}, Box{{4, 6}, {8, 9}}}}};
  const Scratch scratch;
  const auto pdf = render_pdf(scratch.write("a.pdf", pdf_of({page}, {"a"})), 1, kFineDpi, 12);
  const auto svg = render_svg(scratch.write("a.svg", svg_of(page, {"a"})), kFineDpi, 12);
  for (const Pixels* pixels : {&pdf, &svg}) {
    CHECK(pixels->ink_near({4.05, 7}, 0) > 0.9);
    CHECK(pixels->ink_near({7.95, 7}, 0) > 0.9);
    CHECK(pixels->ink_near({3.9, 7}, 0.05) < 0.1);
    CHECK(pixels->ink_near({8.1, 7}, 0.05) < 0.1);
  }
}

TEST_CASE("a drawing laid on another is scaled, turned and moved, its letters kept in size") {
  Canvas inner;
  inner.line({{0, 0}, {2, 0}}, {.width = 0.1});
  inner.text({1, 0}, "a", {.size = 0.4});
  Canvas outer;
  outer.add(inner, {.scale = 0.5, .turn = std::numbers::pi / 2, .at = {3, 4}});
  const auto& stroke = std::get<Stroke>(outer.marks()[0].what);
  CHECK_THAT(stroke.line[1].x, WithinAbs(3, 1e-12));
  CHECK_THAT(stroke.line[1].y, WithinAbs(5, 1e-12));
  CHECK(stroke.pen.width == 0.1);
  const auto& words = std::get<Words>(outer.marks()[1].what);
  CHECK(words.lettering.size == 0.4);
  CHECK_THAT(words.lettering.turn, WithinAbs(std::numbers::pi / 2, 1e-12));
  CHECK_THAT(words.at.y, WithinAbs(4.5, 1e-12));
}

TEST_CASE("what can't be drawn becomes a question mark, and XML's own signs entities") {
  CHECK(drawable("plain, Zoë, 1½") == "plain, Zoë, 1½");
  CHECK(drawable("a\nb\tc") == "a?b?c");
  CHECK(drawable("a\xC3") == "a?");               // a lead byte without its second
  CHECK(drawable("\xED\xA0\x80") == "???");       // a surrogate
  CHECK(drawable("\xC0\xAF") == "??");            // an overlong '/'
  CHECK(drawable("\xF4\x90\x80\x80") == "????");  // past the last code point
  CHECK(drawable("\xEF\xBF\xBF") == "?");         // no character in XML 1.0
  CHECK(escaped("<a & \"b\">") == "&lt;a &amp; &quot;b&quot;&gt;");
  const Canvas canvas = some_lines();
  const std::string svg = svg_of({21, 29.7, {{&canvas, {0, 0}, {}}}}, {"t & u", "d"});
  CHECK_THAT(svg, Catch::Contains("<title>a &lt;square&gt; &amp; more</title>"));
  CHECK_THAT(svg, Catch::Contains("<title>t &amp; u</title>"));
}

TEST_CASE("words are as wide as their letters, and wrap at blanks") {
  const double m = width_of("mmmm", 1);
  CHECK_THAT(width_of("mmmm", 0.5), WithinRel(0.5 * m, 1e-9));
  CHECK_THAT(width_of("mmmmmmmm", 1), WithinRel(2 * m, 1e-9));
  CHECK(width_of("mmmm", 1, Weight::bold) > m);
  CHECK(width_of("", 1) == 0);
  const auto lines = wrapped("one two  three", width_of("one two", 1) + 1e-6, 1);
  CHECK(lines == std::vector<std::string>{"one two", "three"});
  const auto parts = wrapped("a unbreakable é", width_of("unbr", 1), 1);
  CHECK(parts.size() >= 4);
  std::string together;
  for (const std::string& part : parts) {
    CHECK(width_of(part, 1) <= width_of("unbr", 1) + 1e-9);
    together += part;
  }
  CHECK(together == "aunbreakableé");
  CHECK(wrapped("ab", 0.01, 1) == std::vector<std::string>{"a", "b"});
  CHECK(wrapped("", 5, 1).empty());
}

TEST_CASE("a long text is shortened by characters, not by bytes") {
  CHECK(shortened("éééé", 4) == "éééé");
  CHECK(shortened("éééééé", 5) == "éé...");
  CHECK(shortened("", 5).empty());
}

TEST_CASE("letters stay inside the box that is kept free for them") {
  if (!can_render()) return;
  Canvas canvas;
  const Words words{{5, 5}, "Ägjpqy 1½", {.size = 2, .anchor = Anchor::middle, .turn = 0.3}};
  canvas.text(words.at, words.text, words.lettering);
  const Scratch scratch;
  const auto pixels = render_pdf(
      scratch.write("a.pdf", pdf_of({{12, 12, {{&canvas, {0, 0}, {}}}}}, {"a"})), 1, kFineDpi, 12);
  const Line corners = corners_of(words);
  double inside = 0, outside = 0;
  for (int x = 0; x < pixels.width; x += 2) {
    for (int y = 0; y < pixels.height; y += 2) {
      const bool in = is_inside(corners, {x / kFine, 12 - y / kFine});
      (in ? inside : outside) += pixels.ink(x, y);
    }
  }
  CHECK(inside > 1000);
  CHECK(outside < 0.001 * inside);
}

TEST_CASE("of a line its parts inside an outline are kept") {
  const Line corner = {{0, 0}, {10, 0}, {10, 4}, {4, 4}, {4, 10}, {0, 10}};
  const auto parts = parts_inside({{2, -1}, {2, 6}, {8, 6}, {8, -3}}, corner);
  // By hand: up into the corner and out of its arm at x = 4; in again from above at y = 4, out at
  // 0.
  REQUIRE(parts.size() == 2);
  REQUIRE(parts[0].size() == 3);
  CHECK(parts[0].front().y == 0);
  CHECK_THAT(parts[0].back().x, WithinAbs(4, 1e-12));
  CHECK_THAT(parts[1].front().y, WithinAbs(4, 1e-12));
  CHECK_THAT(parts[1].back().y, WithinAbs(0, 1e-12));
  CHECK(parts_inside({{20, 0}, {20, 5}}, corner).empty());
}

TEST_CASE("a place is looked for on any outline, and the search ends") {
  // A draft that nobody could sew was drawn kilometres wide: at half a centimetre apart its places
  // filled the memory.
  const FreeSpace space;
  const Line wide{{0, 0}, {1e7, 0}, {1e7, 1e7}, {0, 1e7}};
  CHECK(space.find(wide, 5, 3, {5e6, 5e6}).has_value());
  const double none = std::nan("");
  CHECK_FALSE(space.find({{0, 0}, {none, 0}, {1, 1}}, 0.1, 0.1, {0, 0}).has_value());
}

TEST_CASE("a place is found where a box fits, clear of what is taken, near to where it is wanted") {
  // An L: 10 x 10 without its upper right 6 x 6.
  const Line corner = {{0, 0}, {10, 0}, {10, 4}, {4, 4}, {4, 10}, {0, 10}};
  const FreeSpace empty;
  const auto wide = empty.find(corner, 8, 3, {8, 8});
  REQUIRE(wide);
  CHECK(wide->most.y <= 4);
  CHECK_FALSE(empty.find(corner, 8, 5, {5, 5}));
  FreeSpace space;
  space.take(rectangle({{0, 0}, {10, 3}}));
  CHECK_FALSE(space.find(corner, 8, 3, {5, 2}));
  const auto upright = space.find(corner, 3, 6, {2, 6});
  REQUIRE(upright);
  CHECK(upright->least.y >= 3);
  FreeSpace crossed;
  crossed.take_line({{0, 7}, {4, 7}});
  const auto above = crossed.find(corner, 3, 2, {2, 7});
  REQUIRE(above);
  CHECK((above->least.y >= 7 || above->most.y <= 7));
}
