#include "cli/draw/canvas.h"

#include "cli/draw/lettering.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace easewright::draw {
namespace {

/// A circle and its chords part by no more than this, cm.
constexpr double kRound = 0.0005;

template <typename... Ts>
struct Cases : Ts... {
  using Ts::operator()...;
};
template <typename... Ts>
Cases(Ts...) -> Cases<Ts...>;

/// Mitred corners reach out up to 4 widths, which pdf.cc and svg.cc set as the limit.
double ink(const Pen& pen) { return 2 * pen.width; }

}  // namespace

bool Box::meets(const Box& other) const {
  return least.x < other.most.x && other.least.x < most.x && least.y < other.most.y &&
         other.least.y < most.y;
}

Box Box::grown(double by) const {
  return {{least.x - by, least.y - by}, {most.x + by, most.y + by}};
}

Box Box::moved(const Point& by) const { return {least + by, most + by}; }

Box around(const Box& a, const Box& b) {
  return {{std::min(a.least.x, b.least.x), std::min(a.least.y, b.least.y)},
          {std::max(a.most.x, b.most.x), std::max(a.most.y, b.most.y)}};
}

Box box_of(const Line& line) {
  if (line.empty()) return {};
  Box box{line.front(), line.front()};
  for (const Point& p : line) box = around(box, {p, p});
  return box;
}

Point Lay::of(const Point& p) const {
  const double c = std::cos(turn), s = std::sin(turn);
  return at + scale * Point{c * p.x - s * p.y, s * p.x + c * p.y};
}

void Canvas::keep(std::variant<Stroke, Area, Words> what, const Box& bounds) {
  marks_.push_back({std::move(what), group_, bounds});
}

void Canvas::begin(const std::string& title) {
  if (title.empty()) {
    group_ = -1;
    return;
  }
  groups_.push_back(drawable(title));
  group_ = static_cast<int>(groups_.size()) - 1;
}

void Canvas::line(Line line, const Pen& pen) {
  if (line.size() < 2) return;
  const Box box = box_of(line).grown(ink(pen));
  keep(Stroke{std::move(line), false, pen}, box);
}

void Canvas::outline(Line line, const Pen& pen) {
  if (line.size() < 2) return;
  const Box box = box_of(line).grown(ink(pen));
  keep(Stroke{std::move(line), true, pen}, box);
}

void Canvas::fill(Line outline, const Tint& tint) {
  if (outline.size() < 3) return;
  const Box box = box_of(outline);
  keep(Area{std::move(outline), tint}, box);
}

void Canvas::dot(const Point& at, double radius, const Tint& tint) {
  fill(circle(at, radius), tint);
}

void Canvas::ring(const Point& at, double radius, const Pen& pen) {
  outline(circle(at, radius), pen);
}

void Canvas::text(const Point& at, std::string_view text, const Lettering& lettering) {
  if (text.empty()) return;
  Words words{at, drawable(text), lettering};
  const Box box = box_of(words);
  keep(std::move(words), box);
}

void Canvas::add(const Canvas& other, const Lay& lay) {
  const auto laid = [&lay](const Line& line) {
    Line moved;
    moved.reserve(line.size());
    for (const Point& p : line) moved.push_back(lay.of(p));
    return moved;
  };
  const int outer = group_;
  const int first = static_cast<int>(groups_.size());
  groups_.insert(groups_.end(), other.groups_.begin(), other.groups_.end());
  for (const Mark& mark : other.marks_) {
    group_ = mark.group < 0 ? outer : first + mark.group;
    std::visit(Cases{[&](const Stroke& s) {
                       s.closed ? outline(laid(s.line), s.pen) : line(laid(s.line), s.pen);
                     },
                     [&](const Area& a) { fill(laid(a.outline), a.tint); },
                     [&](const Words& w) {
                       Lettering lettering = w.lettering;
                       lettering.turn += lay.turn;
                       text(lay.of(w.at), w.text, lettering);
                     }},
               mark.what);
  }
  group_ = outer;
}

std::optional<Box> Canvas::bounds() const {
  if (marks_.empty()) return std::nullopt;
  Box box = marks_.front().bounds;
  for (const Mark& mark : marks_) box = around(box, mark.bounds);
  return box;
}

Line arc(const Point& centre, double radius, double from, double to) {
  const double step = radius > kRound ? 2 * std::acos(1 - kRound / radius) : std::numbers::pi / 2;
  const int chords = std::clamp(static_cast<int>(std::ceil(std::abs(to - from) / step)), 1, 720);
  Line line;
  for (int i = 0; i <= chords; ++i) {
    const double angle = from + (to - from) * i / chords;
    line.push_back(centre + radius * Point{std::cos(angle), std::sin(angle)});
  }
  return line;
}

Line circle(const Point& centre, double radius) {
  Line line = arc(centre, radius, 0, 2 * std::numbers::pi);
  line.pop_back();
  return line;
}

Line rectangle(const Box& box) {
  return {box.least, {box.most.x, box.least.y}, box.most, {box.least.x, box.most.y}};
}

Page whole(const Canvas& canvas, double margin) {
  const Box box = canvas.bounds().value_or(Box{}).grown(margin);
  return {box.width(), box.height(), {{&canvas, -1.0 * box.least, std::nullopt}}};
}

}  // namespace easewright::draw
