#include "cli/draw/plan_drawing.h"

#include "cli/draw/free_space.h"
#include "cli/draw/lettering.h"
#include "cli/draw/pattern_lines.h"
#include "model/units.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace easewright::draw {
namespace {

/// A page, lying, and its margin, cm.
constexpr double kPageWidth = 29.7, kPageHeight = 21, kEdge = 1;
constexpr double kRoom = kPageWidth - 2 * kEdge;
/// Cloth is drawn at a tenth; a long one at a twentieth.
constexpr double kNear = 0.1, kFar = 0.05;
constexpr double kLongCm = 560;
/// Rulers above and below the cloth, cm on the page.
constexpr double kRuler = 0.8;
/// Between two rows on a page, cm.
constexpr double kGap = 0.3;
constexpr double kArrowLength = 0.8, kArrowRoom = 0.35;
constexpr double kYard = 36 * kCmPerInch;
constexpr double kTitle = 0.55, kText = 0.38, kSmall = 0.3, kLeastText = 0.2;

/// What lies on a page in one piece, from its upper left corner downwards.
struct Strip {
  const Canvas* canvas = nullptr;
  std::optional<Box> window;  ///< of the canvas, its upper left corner is put in place
  double height = 0;
};

/// One material's cloth.
class ClothDrawing {
 public:
  ClothDrawing(Canvas& canvas, const CuttingPlan& plan, const std::vector<GarmentPieces>& garments)
      : canvas_(canvas),
        plan_(plan),
        garments_(garments),
        scale_(plan.plan.length > kLongCm ? kFar : kNear),
        folded_(plan.cloth.layering == Layering::folded) {}

  /// Fold or selvedge at y = 0, the cloth's other edge below.
  void draw() {
    draw_cloth();
    for (size_t i = 0; i < plan_.plan.placed.size(); ++i) draw_piece(i);
    draw_metres();
    draw_yards();
  }

  double height() const { return scale_ * across(); }
  double length() const { return scale_ * plan_.plan.length; }
  double scale() const { return scale_; }

 private:
  double across() const { return plan_.cloth.width / (folded_ ? 2 : 1); }

  /// From the cloth's own coordinates, x across and y along it.
  Point on_page(const Point& p) const { return {scale_ * p.y, -scale_ * p.x}; }

  void draw_cloth() {
    const double end = length(), low = -height();
    canvas_.line({{0, 0}, {0, low}}, {.width = 0.03});
    canvas_.line({{end, 0}, {end, low}}, {.width = 0.03, .dash = {0.25, 0.15}});
    canvas_.line({{0, 0}, {end, 0}}, folded_ ? kClothFold : Pen{.width = 0.06});
    canvas_.line({{0, low}, {end, low}}, {.width = 0.06});
    // The selvedge's double line: woven edges are not cut.
    const double off = 0.12;
    canvas_.line({{0, low - off}, {end, low - off}}, {.width = 0.02});
    if (!folded_) canvas_.line({{0, off}, {end, off}}, {.width = 0.02});
  }

  void draw_piece(size_t i) {
    const Placed& placed = plan_.plan.placed[i];
    const CutSource& source = plan_.sources[static_cast<size_t>(placed.shape)];
    const Piece& piece = garments_[source.garment].pieces[source.piece];
    Line outline;
    for (const Point& p : placed.outline) outline.push_back(on_page(p));
    canvas_.begin(plan_.names[i]);
    canvas_.fill(outline, grey(0.9));
    canvas_.outline(outline, {.width = 0.03});
    draw_name(outline, fmt::format("{} {}", piece.number, plan_.names[i]), placed.turned);
    canvas_.begin("");
  }

  enum class Arrow { drawn, left_out };

  /// Lines of a name, and under them an arrow along the grain that points to the piece's top.
  struct Block {
    std::vector<std::string> lines;
    double size = 0, wide = 0, high = 0;
  };

  /// Nobody reads a word of which every letter has a line of its own.
  static bool keeps_words(const std::string& name, double width, double size) {
    size_t from = 0;
    while (from < name.size()) {
      const size_t end = std::min(name.find(' ', from), name.size());
      if (width_of(name.substr(from, end - from), size) > width) return false;
      from = end + 1;
    }
    return true;
  }

  static Block block_of(const std::string& name, double width, double size, double least) {
    Block block{wrapped(name, width, size), size, least, 0};
    for (const std::string& line : block.lines)
      block.wide = std::max(block.wide, width_of(line, size));
    block.high = kLeading * size * static_cast<double>(block.lines.size());
    return block;
  }

  /// As large as there is room for, with its arrow if at all; level where it goes, else across the
  /// cloth.
  void draw_name(const Line& outline, const std::string& name, bool turned) {
    const Line inside = simplified(outline, 0.01);
    for (const Arrow arrow : {Arrow::drawn, Arrow::left_out})
      for (double size = kSmall; size >= kLeastText - 1e-9; size -= 0.05)
        if (is_named(inside, name, size, arrow, turned)) return;
    // No room inside: across the middle, whatever it hides.
    const Box box = box_of(inside);
    canvas_.text(0.5 * (box.least + box.most),
                 name,
                 {.size = kLeastText, .anchor = Anchor::middle, .ground = Ground::white});
  }

  bool is_named(
      const Line& inside, const std::string& name, double size, Arrow arrow, bool turned) {
    const Box box = box_of(inside);
    const Point middle = 0.5 * (box.least + box.most);
    const double least = arrow == Arrow::drawn ? kArrowLength : 0;
    const double below = arrow == Arrow::drawn ? kArrowRoom : 0;
    const FreeSpace space;
    for (const double width : {0.9 * box.width(), 5.0, 3.5, 2.5, 1.8}) {
      if (!keeps_words(name, width, size)) continue;
      const Block block = block_of(name, width, size, least);
      const auto at = space.find(inside, block.wide + 0.1, block.high + below + 0.1, middle, 0.2);
      if (!at) continue;
      draw_level(*at, block);
      if (arrow == Arrow::drawn)
        draw_arrow({0.5 * (at->least.x + at->most.x), at->least.y + 0.5 * below + 0.05}, turned);
      return true;
    }
    if (!keeps_words(name, 0.9 * box.height(), size)) return false;
    const Block block = block_of(name, 0.9 * box.height(), size, 0);
    const auto at =
        space.find(inside, std::max(block.high, least), block.wide + below + 0.1, middle, 0.1);
    if (!at) return false;
    draw_across(*at, block, below);
    if (arrow == Arrow::drawn)
      draw_arrow({0.5 * (at->least.x + at->most.x), at->least.y + 0.5 * below}, turned);
    return true;
  }

  void draw_level(const Box& at, const Block& block) {
    const double centre = 0.5 * (at.least.x + at.most.x);
    double y = at.most.y - 0.05;
    for (const std::string& line : block.lines) {
      y -= kLeading * block.size;
      canvas_.text({centre, y + kDescent * block.size},
                   line,
                   {.size = block.size, .anchor = Anchor::middle});
    }
  }

  void draw_across(const Box& at, const Block& block, double below) {
    const double centre = 0.5 * (at.least.x + at.most.x);
    const double middle = 0.5 * (at.least.y + at.most.y + below);
    double x = centre - 0.5 * block.high;
    for (const std::string& line : block.lines) {
      x += kLeading * block.size;
      canvas_.text({x - kDescent * block.size, middle},
                   line,
                   {.size = block.size, .anchor = Anchor::middle, .turn = 0.5 * std::numbers::pi});
    }
  }

  void draw_arrow(const Point& middle, bool turned) {
    const double sense = turned ? -1 : 1;
    const Point half{0.5 * kArrowLength * sense, 0};
    const Point tip = middle + half, tail = middle - half;
    canvas_.line({tail, tip - Point{0.15 * sense, 0}}, {.width = 0.025});
    canvas_.fill({tip, tip + Point{-0.22 * sense, 0.08}, tip + Point{-0.22 * sense, -0.08}},
                 kBlack);
  }

  /// Above the cloth: a stroke every 10 cm, a number every half metre.
  void draw_metres() {
    const double base = 0.3;
    const int tens = static_cast<int>(std::floor(plan_.plan.length / 10 + 1e-9));
    for (int i = 0; i <= tens; ++i) {
      const double x = scale_ * 10 * i;
      canvas_.line({{x, base}, {x, base + (i % 5 == 0 ? 0.25 : 0.12)}}, {.width = 0.02});
      if (i % 5 == 0) number({x, base + 0.3}, fmt::format("{:g}{}", 0.1 * i, i == 0 ? " m" : ""));
    }
  }

  /// Below it: a stroke every eighth of a yard, a number every half.
  void draw_yards() {
    const double base = -height() - 0.3;
    const int eighths = static_cast<int>(std::floor(8 * plan_.plan.length / kYard + 1e-9));
    for (int i = 0; i <= eighths; ++i) {
      const double x = scale_ * kYard * i / 8;
      canvas_.line({{x, base}, {x, base - (i % 4 == 0 ? 0.25 : 0.12)}}, {.width = 0.02});
      if (i % 4 == 0)
        number({x, base - 0.3 - kCapital * kSmall},
               fmt::format("{}{}{}",
                           i / 8 > 0 || i == 0 ? std::to_string(i / 8) : "",
                           i % 8 == 4 ? "½" : "",
                           i == 0 ? " yd" : ""));
    }
  }

  /// Beside its stroke, so that a cut page keeps it with it.
  void number(const Point& at, const std::string& text) {
    canvas_.text(at + Point{0.04, 0}, text, {.size = kSmall});
  }

  Canvas& canvas_;
  const CuttingPlan& plan_;
  const std::vector<GarmentPieces>& garments_;
  double scale_;
  bool folded_;
};

/// Fold and selvedge by name: past the cloth's end where the row has room, else on it.
void name_edges(Canvas& canvas, const ClothDrawing& cloth, bool folded) {
  const double row = std::fmod(cloth.length(), kRoom);
  const bool past = row > 0 && row < kRoom - 2.2;
  const double x = cloth.length() + (past ? 0.2 : -0.2);
  const Lettering letters{
      .size = kSmall, .anchor = past ? Anchor::start : Anchor::end, .ground = Ground::white};
  canvas.text({x, past ? -0.1 : -0.15 - kCapital * kSmall}, folded ? "fold" : "selvedge", letters);
  canvas.text(
      {x, -cloth.height() + (past ? -0.1 : 0.15)}, folded ? "selvedges" : "selvedge", letters);
}

double paragraph(Canvas& canvas, double y, const std::string& text, double size, Weight weight) {
  for (const std::string& line : wrapped(text, kRoom, size, weight)) {
    y -= kLeading * size;
    canvas.text({0, y + kDescent * size}, line, {.size = size, .weight = weight});
  }
  return y;
}

class Pages {
 public:
  explicit Pages(PlanDrawing& drawing) : drawing_(drawing) {}

  void add_words(const std::vector<std::pair<std::string, double>>& lines) {
    Canvas& canvas = drawing_.canvases.emplace_back();
    double y = 0;
    for (const auto& [text, size] : lines)
      y = paragraph(canvas, y, text, size, size > kText ? Weight::bold : Weight::regular);
    strips_.push_back({&canvas, std::nullopt, -y + 0.2});
  }

  /// In rows as long as a page is wide, what lies across their ends on both.
  void add_cloth(const CuttingPlan& plan, const std::vector<GarmentPieces>& garments) {
    Canvas& canvas = drawing_.canvases.emplace_back();
    ClothDrawing cloth(canvas, plan, garments);
    cloth.draw();
    name_edges(canvas, cloth, plan.cloth.layering == Layering::folded);
    const double height = cloth.height() + 2 * kRuler + 0.4;
    const int rows = std::max(1, static_cast<int>(std::ceil(cloth.length() / kRoom - 1e-9)));
    for (int row = 0; row < rows; ++row) {
      const Box window{{kRoom * row - (row == 0 ? 0.1 : 0), -cloth.height() - kRuler - 0.2},
                       {kRoom * (row + 1) + (row + 1 == rows ? 0.1 : 0), kRuler + 0.2}};
      strips_.push_back({&canvas, window, height + kGap});
    }
  }

  /// Words stay with the strip that follows them.
  void lay() {
    double y = kPageHeight;
    for (size_t i = 0; i < strips_.size(); ++i) {
      double wanted = strips_[i].height;
      for (size_t next = i; !strips_[next].window && next + 1 < strips_.size(); ++next)
        wanted += strips_[next + 1].height;
      if (drawing_.pages.empty() || y - (wanted - kGap) < kEdge) {
        drawing_.pages.push_back({kPageWidth, kPageHeight, {}});
        y = kPageHeight - kEdge;
      }
      put(drawing_.pages.back(), strips_[i], y);
      y -= strips_[i].height;
    }
    double all = 2 * kEdge;
    for (const Strip& strip : strips_) all += strip.height;
    drawing_.sheet = {kPageWidth, all, {}};
    double at = all - kEdge;
    for (const Strip& strip : strips_) {
      put(drawing_.sheet, strip, at);
      at -= strip.height;
    }
  }

 private:
  static void put(Page& page, const Strip& strip, double top) {
    if (!strip.window) {
      page.content.push_back({strip.canvas, {kEdge, top}, std::nullopt});
      return;
    }
    const Box& w = *strip.window;
    // The first row reaches a little into the margin for the line at its end.
    const double left = kEdge + std::min(0.0, w.least.x);
    const Point shift = Point{left, top - w.height()} - w.least;
    page.content.push_back({strip.canvas, shift, w.moved(shift)});
  }

  PlanDrawing& drawing_;
  std::vector<Strip> strips_;
};

}  // namespace

PlanDrawing draw_plans(const std::vector<CuttingPlan>& plans,
                       const std::vector<GarmentPieces>& garments,
                       const std::vector<PlanHeading>& headings,
                       const std::string& title) {
  PlanDrawing drawing;
  Pages pages(drawing);
  pages.add_words({{"Cutting plan: " + title, kTitle}});
  for (size_t i = 0; i < plans.size(); ++i) {
    if (!plans[i].plan.error.empty()) continue;
    std::vector<std::pair<std::string, double>> words{{headings[i].title, 1.1 * kText}};
    for (const std::string& line : headings[i].lines) words.emplace_back(line, kText);
    pages.add_words(words);
    pages.add_cloth(plans[i], garments);
  }
  pages.lay();
  return drawing;
}

}  // namespace easewright::draw
