#include "cli/draw/figure.h"

#include "cli/draw/lettering.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

namespace easewright::draw {
namespace {

using figure::Dressed;
using figure::LineKind;
using figure::Marked;
using figure::Path;
using figure::View;

// Ink, cm on paper.
const Pen kEdge{.width = 0.045, .dash = {}, .tint = kBlack, .ends = Ends::round};
const Pen kSeam{.width = 0.022, .dash = {}, .tint = kBlack, .ends = Ends::round};
const Pen kHidden{.width = 0.022, .dash = {0.12, 0.09}, .tint = kBlack};
const Pen kFold{.width = 0.014, .dash = {}, .tint = grey(0.25), .ends = Ends::round};
const Pen kBody{.width = 0.018, .dash = {}, .tint = grey(0.55)};
const Pen kLevel{.width = 0.01, .dash = {0.02, 0.08}, .tint = grey(0.6), .ends = Ends::round};
const Pen kBefore{.width = 0.035, .dash = {0.001, 0.075}, .tint = grey(0.2), .ends = Ends::round};
const Pen kLeader{.width = 0.018, .dash = {}, .tint = kBlack};
const Tint kCloth = grey(0.94), kBelt = grey(0.86);

constexpr double kRing = 0.23;  ///< of a number
constexpr double kSmall = 0.27, kUsual = 0.33, kTitle = 0.5;
constexpr double kGap = 0.5;      ///< between two views
constexpr double kLabels = 1.75;  ///< column of the levels' names
/// 1 : 6 and so on.
constexpr std::array<double, 12> kScales = {5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 20};

Line laid(const Path& path, const Lay& lay) {
  Line line = figure::flat(path);
  for (Point& p : line) p = lay.of(p);
  return line;
}

const Pen& pen_of(LineKind kind) {
  switch (kind) {
    case LineKind::edge:
      return kEdge;
    case LineKind::hidden:
      return kHidden;
    case LineKind::gather:
      return kFold;
    default:
      return kSeam;
  }
}

/// What a view shows of the body, and how wide it is.
struct Figure {
  const Dressed& d;
  View view;

  std::vector<Path> body() const {
    if (view == View::side) return {side_head_outline(d.body), side_outline(d.body)};
    return {head_outline(d.body), body_outline(d.body)};
  }
  std::vector<Path> arms() const {
    if (view == View::side) return {};
    const Path arm = arm_outline(d.body, d.body.half_width.at(d.body.at.hip));
    return {arm, figure::mirrored(arm)};
  }
  Box bounds() const {
    Line all;
    for (const auto& paths : {body(), arms(), d.view(view).cloth, d.view(view).belt}) {
      for (const Path& path : paths) {
        const Line line = figure::flat(path);
        all.insert(all.end(), line.begin(), line.end());
      }
    }
    return box_of(all);
  }
};

void draw_body(Canvas& canvas, const Figure& f, const Lay& lay) {
  // Arms hang behind body and cloth, lest they cover what the figure is about.
  for (const Path& arm : f.arms()) canvas.line(laid(arm, lay), kBody);
  const std::vector<Path> body = f.body();
  canvas.fill(laid(body[1], lay), kWhite);
  for (const Path& cloth : f.d.view(f.view).cloth) canvas.fill(laid(cloth, lay), kCloth);
  for (const Path& bare : f.d.view(f.view).bare) canvas.fill(laid(bare, lay), kWhite);
  canvas.outline(laid(body[1], lay), kBody);
  canvas.fill(laid(body[0], lay), kWhite);
  canvas.outline(laid(body[0], lay), kBody);
  if (f.view != View::front) return;
  for (const double side : {-1.0, 1.0}) {
    const Point at = lay.of({side * f.d.body.bust_x, f.d.body.at.bust});
    canvas.line({{at.x - 0.07, at.y}, {at.x + 0.07, at.y}}, kBody);
    canvas.line({{at.x, at.y - 0.07}, {at.x, at.y + 0.07}}, kBody);
  }
}

void draw_garment(Canvas& canvas, const Figure& f, const Lay& lay) {
  const figure::Elevation& view = f.d.view(f.view);
  // Folds first, edges last, so that what matters most lies on top.
  for (const LineKind kind : {LineKind::gather, LineKind::hidden, LineKind::seam, LineKind::edge}) {
    for (const figure::DrawnLine& line : view.lines)
      if (line.kind == kind) canvas.line(laid(line.path, lay), pen_of(kind));
  }
  for (const Path& belt : view.belt) {
    canvas.fill(laid(belt, lay), kBelt);
    canvas.outline(laid(belt, lay), kSeam);
  }
}

void draw_before(Canvas& canvas, const Figure& f, const Lay& lay) {
  for (const figure::DrawnLine& line : f.d.view(f.view).lines)
    if (line.kind == LineKind::edge) canvas.line(laid(line.path, lay), kBefore);
}

/// Moves the rings of a column, from above, as little as it takes that none covers another: those
/// that crowd share their heights' mean (pool adjacent violators; Barlow et al. 1972).
void make_room(std::vector<PlacedMark>& column) {
  constexpr double kApart = 2 * kRing + 0.06;
  struct Crowd {
    double sum = 0;
    int count = 0;
    double mean() const { return sum / count; }
  };
  std::vector<Crowd> crowds;
  for (size_t i = 0; i < column.size(); ++i) {
    crowds.push_back({column[i].ring.y + kApart * static_cast<double>(i), 1});
    while (crowds.size() > 1 && crowds.back().mean() > crowds[crowds.size() - 2].mean()) {
      crowds[crowds.size() - 2].sum += crowds.back().sum;
      crowds[crowds.size() - 2].count += crowds.back().count;
      crowds.pop_back();
    }
  }
  size_t i = 0;
  for (const Crowd& crowd : crowds)
    for (int n = 0; n < crowd.count; ++n, ++i)
      column[i].ring.y = crowd.mean() - kApart * static_cast<double>(i);
}

/// Rings beside the figure, each as near to the height of its spot as its fellows allow.
std::vector<PlacedMark> place_marks(const std::vector<Marked>& marks,
                                    const Figure& f,
                                    const Lay& lay) {
  std::vector<PlacedMark> left, right;
  const double out = f.view == View::side ? 0.5 * f.bounds().width() : f.d.widest;
  const Point middle = lay.of({0, 0});
  for (const Marked& m : marks) {
    if (m.spot.view != f.view) continue;
    const bool to_left = m.spot.at.x < -0.5 || (m.spot.at.x < 0.5 && left.size() <= right.size());
    const Point spot = lay.of(m.spot.at);
    const double x = std::max(lay.scale * out + 0.35, std::abs(spot.x - middle.x) + 0.4);
    (to_left ? left : right).push_back({m.number, {middle.x + (to_left ? -x : x), spot.y}, spot});
  }
  std::vector<PlacedMark> all;
  for (std::vector<PlacedMark>* column : {&left, &right}) {
    std::stable_sort(column->begin(), column->end(), [](const PlacedMark& a, const PlacedMark& b) {
      return a.ring.y > b.ring.y;
    });
    make_room(*column);
    all.insert(all.end(), column->begin(), column->end());
  }
  return all;
}

/// '3' of a miss, 'C' of a step.
std::string label_of(int number) {
  if (number >= 0) return std::to_string(number);
  return std::string(1, static_cast<char>('A' + std::min(-number - 1, 25)));
}

void draw_number(Canvas& canvas, const Point& at, int number) {
  canvas.dot(at, kRing, kWhite);
  canvas.ring(at, kRing, {.width = 0.025});
  canvas.text({at.x, at.y - 0.5 * kCapital * kSmall},
              label_of(number),
              {.size = kSmall, .weight = Weight::bold, .anchor = Anchor::middle});
}

void draw_marks(Canvas& canvas, const std::vector<PlacedMark>& marks) {
  for (const PlacedMark& m : marks) {
    canvas.line({m.spot, m.ring}, kLeader);
    canvas.dot(m.spot, 0.055);
  }
  for (const PlacedMark& m : marks) draw_number(canvas, m.ring, m.number);
}

void draw_figure_at(Canvas& canvas,
                    const FigureState& state,
                    View view,
                    const Lay& lay,
                    const Dressed* before = nullptr) {
  const Figure f{*state.dressed, view};
  draw_body(canvas, f, lay);
  if (before != nullptr) draw_before(canvas, {*before, view}, lay);
  draw_garment(canvas, f, lay);
  draw_marks(canvas, place_marks(state.marks, f, lay));
}

/// Views side by side, their floor at y = 0.
struct Row {
  std::vector<std::pair<const FigureState*, View>> views;
  double scale = 0.1;
  double height = 0;  ///< of the figures on paper
  std::vector<Lay> lays;
  double width = 0;
};

constexpr double kRingRoom = 0.75;  ///< beside a view, for its numbers

Row row_of(std::vector<std::pair<const FigureState*, View>> views, double room, double most_high) {
  Row row;
  row.views = std::move(views);
  for (const double denominator : kScales) {
    row.scale = 1 / denominator;
    row.lays.clear();
    row.width = kLabels;
    row.height = 0;
    for (const auto& [state, view] : row.views) {
      const Box box = Figure{*state->dressed, view}.bounds();
      const double side = view == View::side ? kRingRoom : 0.15;
      const double half = row.scale * std::max(-box.least.x, box.most.x) + side;
      row.lays.push_back({.scale = row.scale, .turn = 0, .at = {row.width + half, 0}});
      row.width += 2 * half + kGap;
      row.height = std::max(row.height, row.scale * box.most.y);
    }
    row.width -= kGap;
    if (row.width <= room && row.height <= most_high) break;
  }
  return row;
}

std::string_view word_of(View view) {
  return view == View::front ? "front" : view == View::back ? "back" : "left side";
}

/// Levels of the body through all views, named at the left.
void draw_levels(Canvas& canvas, const Dressed& d, const Row& row) {
  const figure::Heights& at = d.body.at;
  struct Named {
    std::string_view name;
    double height;
  };
  const Named levels[] = {{"back neck", at.back_neck},
                          {"armpit", at.armpit},
                          {"bust", at.bust},
                          {"waist", at.waist},
                          {"hip", at.hip},
                          {"knee", at.knee},
                          {"floor", 0}};
  double above = 1e9;
  for (const Named& level : levels) {
    const double y = row.scale * level.height;
    canvas.line({{kLabels - 0.25, y}, {row.width, y}},
                level.height > 0 ? kLevel : Pen{.width = 0.02});
    // Names of levels that lie close together step aside downwards.
    const double text = std::min(y - 0.5 * kCapital * kSmall, above - 1.1 * kSmall);
    canvas.text({kLabels - 0.35, text},
                level.name,
                {.size = kSmall, .anchor = Anchor::end, .tint = grey(0.3)});
    above = text;
  }
}

/// Black and white in turn, and the scale in words.
void draw_scale(Canvas& canvas, const Row& row, double y, LengthUnit unit) {
  const bool inches = unit == LengthUnit::inch;
  const double step = inches ? 5 * kCmPerInch : 10;
  const int steps = inches ? 4 : 5;
  const double left = kLabels, thick = 0.14;
  for (int i = 0; i < steps; ++i) {
    const Box box{{left + row.scale * step * i, y}, {left + row.scale * step * (i + 1), y + thick}};
    if (i % 2 == 0) canvas.fill(rectangle(box), kBlack);
    canvas.outline(rectangle(box), {.width = 0.02});
  }
  for (int i = 0; i <= steps; i += steps) {
    canvas.text({left + row.scale * step * i, y - 0.32},
                fmt::format("{}", i * (inches ? 5 : 10)),
                {.size = kSmall, .anchor = Anchor::middle});
  }
  canvas.text({left + row.scale * step * steps + 0.3, y},
              fmt::format("{}, 1 : {:.0f}", inches ? "in" : "cm", 1 / row.scale),
              {.size = kSmall});
}

/// A paragraph from y downwards; returns where the next may begin.
double paragraph(Canvas& canvas,
                 double x,
                 double y,
                 double room,
                 const std::string& text,
                 const Lettering& lettering) {
  for (const std::string& line : wrapped(text, room, lettering.size, lettering.weight)) {
    canvas.text({x, y}, line, lettering);
    y -= kLeading * lettering.size;
  }
  return y;
}

void draw_legend(Canvas& canvas, const FigureSheet& sheet, double y, double room) {
  if (sheet.legend.empty()) {
    paragraph(canvas, 0, y, room, sheet.all_well, {.size = kUsual});
    return;
  }
  double strength_room = 0;
  for (const LegendLine& line : sheet.legend)
    strength_room = std::max(strength_room, width_of(line.strength, kUsual, Weight::bold));
  const double text_at = 2 * kRing + 0.2 + strength_room + 0.25;
  for (const LegendLine& line : sheet.legend) {
    draw_number(canvas, {kRing, y + 0.5 * kCapital * kUsual}, line.number);
    canvas.text({2 * kRing + 0.2, y}, line.strength, {.size = kUsual, .weight = Weight::bold});
    y = std::min(paragraph(canvas, text_at, y, room - text_at, line.text, {.size = kUsual}) - 0.12,
                 y - 2 * kRing - 0.08);
  }
}

constexpr std::string_view kNote =
    "Outline from the body's own measures; breadths and depths that were not taken by survey "
    "ratios "
    "(within about 1 cm), stance, head, arms and feet only hinted at. Lengths along sloping cloth "
    "are drawn as they fall on the body. Dashed: under other cloth.";

/// Head line, figures, scale and legend.
Canvas draw_sheet(Row row, const FigureSheet& sheet, double room, const Dressed* ghost) {
  Canvas canvas;
  canvas.begin("figure");
  draw_levels(canvas, *row.views.front().first->dressed, row);
  for (size_t i = 0; i < row.views.size(); ++i) {
    const auto& [state, view] = row.views[i];
    canvas.begin((state->heading.empty() ? "" : state->heading + " ") + std::string(word_of(view)));
    draw_figure_at(
        canvas, *state, view, row.lays[i], state == row.views.front().first ? nullptr : ghost);
    canvas.text(
        {row.lays[i].at.x, -0.45}, word_of(view), {.size = kUsual, .anchor = Anchor::middle});
  }
  canvas.begin("words");
  double top = row.height + 0.55;
  for (size_t i = 0; i < row.views.size(); ++i) {
    const std::string& heading = row.views[i].first->heading;
    const bool first = i == 0 || row.views[i - 1].first != row.views[i].first;
    if (heading.empty() || !first) continue;
    size_t last = i;
    while (last + 1 < row.views.size() && row.views[last + 1].first == row.views[i].first) ++last;
    canvas.text({0.5 * (row.lays[i].at.x + row.lays[last].at.x), top},
                heading,
                {.size = 0.4, .weight = Weight::bold, .anchor = Anchor::middle});
  }
  if (!row.views.front().first->heading.empty()) top += 0.75;
  const Lettering usual{.size = kUsual};
  std::vector<std::string> lines;
  for (const std::string& text : sheet.figures)
    for (const std::string& line : wrapped(text, room, kUsual)) lines.push_back(line);
  for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
    canvas.text({0, top}, *line, usual);
    top += kLeading * kUsual;
  }
  top += 0.12;
  const auto title = wrapped(sheet.title, room, kTitle, Weight::bold);
  for (auto line = title.rbegin(); line != title.rend(); ++line) {
    canvas.text({0, top}, *line, {.size = kTitle, .weight = Weight::bold});
    top += kLeading * kTitle;
  }
  draw_scale(canvas, row, -1.05, sheet.unit);
  const double note = 2.6 + row.scale * 70;
  const double below = paragraph(canvas,
                                 kLabels + note,
                                 -1.0,
                                 room - kLabels - note,
                                 std::string(kNote) + (ghost != nullptr ? " Dotted: before." : ""),
                                 {.size = 0.23, .tint = grey(0.3)});
  draw_legend(canvas, sheet, std::min(below, -1.5) - 0.45, room);
  return canvas;
}

constexpr double kMargin = 1.2;
/// Type area of A4, which Letter has too: across 18.6 upright, 27.3 lying; Letter lying 25.5.
constexpr double kUpright = 18.6, kLying = 25.4;

}  // namespace

Canvas draw_figure(const FigureState& state, const FigureSheet& sheet) {
  return draw_sheet(
      row_of({{&state, View::front}, {&state, View::back}, {&state, View::side}}, kUpright, 16.5),
      sheet,
      kUpright,
      nullptr);
}

Canvas draw_change(const FigureState& before, const FigureState& after, const FigureSheet& sheet) {
  return draw_sheet(row_of({{&before, View::front},
                            {&before, View::back},
                            {&after, View::front},
                            {&after, View::back}},
                           kLying,
                           13),
                    sheet,
                    kLying,
                    before.dressed);
}

Canvas draw_view(const FigureState& state, View view, double scale) {
  Canvas canvas;
  canvas.begin(std::string(word_of(view)));
  draw_figure_at(canvas, state, view, {.scale = scale});
  return canvas;
}

std::vector<PlacedMark> placed_marks(const FigureState& state, View view, double scale) {
  return place_marks(state.marks, {*state.dressed, view}, {.scale = scale});
}

Page figure_page(const Canvas& canvas, LengthUnit unit) {
  Page page = whole(canvas, kMargin);
  const bool lying = page.width > kUpright + 2 * kMargin + 0.1;
  double across = unit == LengthUnit::inch ? 21.59 : 21,
         up = unit == LengthUnit::inch ? 27.94 : 29.7;
  if (lying) std::swap(across, up);
  // A page of paper, the figure at its head.
  const double more_across = across - page.width, more_up = up - page.height;
  if (more_across < 0 || more_up < 0) return page;
  page.width = across;
  page.height = up;
  for (OnPage& content : page.content) content.at = content.at + Point{0.5 * more_across, more_up};
  return page;
}

}  // namespace easewright::draw
