// `easewright figure`: one drawing, well-formed, to scale, the same bytes twice; and what is asked
// for wrongly.

#include "cli/draw/figure.h"
#include "cli/draw/svg.h"
#include "model/figure/spots.h"
#include "pixels.h"
#include "scratch.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "xml.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace easewright;
using namespace easewright::tests;
using Catch::Contains;

namespace {

using figure::View;

bool has_text(const Xml& xml, const std::string& part) {
  const auto texts = xml.texts_of("text");
  return std::any_of(texts.begin(), texts.end(), [&](const std::string& text) {
    return text.find(part) != std::string::npos;
  });
}

long count_text(const Xml& xml, const std::string& whole) {
  const auto texts = xml.texts_of("text");
  return std::count(texts.begin(), texts.end(), whole);
}

}  // namespace

TEST_CASE("the figure is one well-formed drawing with its words, and the same bytes twice") {
  const Scratch scratch;
  for (const std::string& job : demo_jobs()) {
    INFO(job);
    const Ran once = run_program({"figure", job, "--out", scratch.path("a.svg")});
    const Ran twice = run_program({"figure", job, "--out", scratch.path("b.svg")});
    INFO(once.err);
    CHECK(once.exit_code <= 1);
    CHECK(twice.exit_code == once.exit_code);
    const std::string bytes = bytes_of(scratch.path("a.svg"));
    CHECK(bytes == bytes_of(scratch.path("b.svg")));
    const Xml xml = read_xml(bytes);
    CHECK(xml.wrong == "");
    for (const char* word : {"front", "back", "left side", "floor", "waist", "knee"})
      CHECK(count_text(xml, word) == 1);
    CHECK(has_text(xml, "1 : "));
    // What the brief line says is missed stands in the legend, one ring a miss.
    const Ran brief = run_program({"fit", job, "--brief"});
    CHECK(once.out == brief.out);
    CHECK(has_text(xml, "wanted") == (brief.out.find("missed") != std::string::npos));
  }
}

TEST_CASE("misses are numbered on the figure and told in the legend") {
  const Scratch scratch;
  const std::string job = choir_job("alto-1");
  CHECK(run_program({"figure", job, "--out", scratch.path("a.svg")}).exit_code == 1);
  const Xml xml = read_xml(bytes_of(scratch.path("a.svg")));
  const FitResult result = fit(demo_job("choir/jobs/alto-1.yaml"), shipped_catalogue());
  int n = 0;
  for (const Finding& f : result.findings) {
    if (!f.missed || f.strength >= solver::Level::habit) continue;
    ++n;
    INFO(f.name);
    CHECK(has_text(xml, f.name + ": "));
    CHECK(count_text(xml, std::to_string(n)) == 2);  // in its ring and in the legend
  }
  CHECK(n >= 3);
  CHECK(count_text(xml, std::to_string(n + 1)) == 0);
}

TEST_CASE("the figure is drawn to scale") {
  const FitResult result = fit(demo_job("choir/jobs/alto-2.yaml"), shipped_catalogue());
  const figure::Dressed d = figure::dress(result);
  const draw::FigureState state{&d, {}, ""};
  constexpr double kScale = 0.1;
  const draw::Canvas canvas = draw::draw_view(state, View::back, kScale);
  const auto box = canvas.bounds();
  REQUIRE(box);
  // From the floor to the crown, ink of a hair's breadth counted.
  CHECK_THAT(box->most.y, WithinAbs(kScale * result.completed.body[BodyKey::stature], 0.05));
  CHECK_THAT(box->least.y, WithinAbs(0, 0.05));
  if (!can_render()) return;
  const Scratch scratch;
  const draw::Page page = draw::whole(canvas, 0.5);
  const std::string file = scratch.write("back.svg", draw::svg_of(page, {"back"}));
  const Pixels pixels = render_svg(file, kFineDpi, page.height);
  const auto on_page = [&](double x, double height) {
    return geometry::Vec2<double>{kScale * x, kScale * height} + page.content.front().at;
  };
  // The hem, half-way between centre and side, where no other line runs.
  const double hem =
      result.completed.body[BodyKey::waist_height] - result.values[ValueKey::skirt_length];
  const double x = 0.8 * d.anchors.hem.x;
  // So near that the cloth's own grey above it does not count.
  const auto middle = pixels.middle_of_ink(on_page(x, hem - 0.5), on_page(x, hem + 0.5));
  REQUIRE(middle);
  CHECK_THAT(*middle, WithinAbs(kScale * 0.5, 0.01));  // 0.1 mm on paper, a millimetre on the body
}

TEST_CASE("as a PDF it is a page of the reader's paper") {
  const Scratch scratch;
  const std::string job = choir_job("soprano-2");
  CHECK(run_program({"figure", job, "--out", scratch.path("a.pdf")}).exit_code == 1);
  CHECK(run_program({"figure", job, "--out", scratch.path("b.pdf")}).exit_code == 1);
  const std::string bytes = bytes_of(scratch.path("a.pdf"));
  CHECK(bytes.starts_with("%PDF-"));
  CHECK(bytes == bytes_of(scratch.path("b.pdf")));
  // A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 in (ANSI).
  const auto a4 = media_boxes(bytes);
  REQUIRE(a4.size() == 1);
  CHECK_THAT(a4[0].first, WithinAbs(210 / 25.4 * 72, 0.1));
  CHECK_THAT(a4[0].second, WithinAbs(297 / 25.4 * 72, 0.1));
  run_program({"figure", job, "--units", "in", "--out", scratch.path("c.pdf")});
  const auto letter = media_boxes(bytes_of(scratch.path("c.pdf")));
  REQUIRE(letter.size() == 1);
  CHECK_THAT(letter[0].first, WithinAbs(612, 0.1));
  CHECK_THAT(letter[0].second, WithinAbs(792, 0.1));
}

TEST_CASE("before and after an alteration stand side by side") {
  const Scratch scratch;
  const std::string job = choir_job("soprano-2-tried-on");
  const Ran ran = run_program({"figure", job, "--plan", "1", "--out", scratch.path("a.svg")});
  INFO(ran.err);
  CHECK(ran.exit_code == 0);
  const Xml xml = read_xml(bytes_of(scratch.path("a.svg")));
  CHECK(xml.wrong == "");
  CHECK(count_text(xml, "before") == 1);
  CHECK(count_text(xml, "after plan 1") == 1);
  CHECK(count_text(xml, "front") == 2);
  CHECK(count_text(xml, "back") == 2);
  // The fault that was seen: the knee is bare when seated; the plan that alter hands out settles
  // it.
  CHECK(has_text(xml, "fronts cover the knee when seated"));
  CHECK(has_text(xml, "after: holds"));
  const Ran plan = run_program({"alter", job});
  CHECK_THAT(plan.out, Contains("set a strip along the under front 7 cm"));
  CHECK(has_text(xml, "set a strip along the under front 7 cm"));
  CHECK(count_text(xml, "A") == 2);  // the step, on the later figure and in the legend
  CHECK(count_text(xml, "1") == 2);  // the miss, on the earlier figure alone and in the legend
  CHECK(has_text(xml, "Dotted:"));
}

TEST_CASE("a figure that can't be drawn is refused in one line, and nothing is written") {
  const Scratch scratch;
  const std::string out = scratch.path("f.svg"), plain = choir_job("alto-2");
  const std::string tried_on = choir_job("soprano-2-tried-on");
  const struct {
    std::vector<std::string> words;
    std::string says;
  } cases[] = {
      {{"figure", plain}, "--out"},
      {{"figure", plain, "--plan", "1", "--out", out}, "nothing to alter"},
      {{"figure", tried_on, "--plan", "9", "--out", out}, "there is no plan 9"},
      {{"figure", tried_on, "--plan", "0", "--out", out}, "--plan"},
      {{"figure", plain, "--out", scratch.path("no/such/folder/f.svg")}, "f.svg"},
      {{"figure", scratch.path("absent.yaml"), "--out", out}, "absent.yaml"},
      {{"figure", plain, "--body", "waist girth 20 cm", "--out", out}, "waist girth"},
  };
  for (const auto& c : cases) {
    const Ran ran = run_program(c.words);
    INFO(c.says << "\n" << ran.err);
    CHECK(ran.exit_code == 2);
    CHECK(ran.out == "");
    CHECK(lines_of(ran.err).size() == 1);
    CHECK_THAT(ran.err, Contains(c.says));
  }
  CHECK(scratch.files().empty());
  // Over the job itself: refused, and the job is as it was.
  const std::string copy = scratch.write("job.yaml", bytes_of(plain));
  CHECK(run_program({"figure", copy, "--out", copy}).exit_code == 2);
  CHECK(bytes_of(copy) == bytes_of(plain));
  // To standard output the drawing goes alone.
  const Ran shown = run_program({"figure", plain, "--out", "-"});
  CHECK(read_xml(shown.out).wrong == "");
}
