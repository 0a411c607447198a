#include "cli/draw/piece_drawing.h"

#include "cli/draw/free_space.h"
#include "cli/draw/lettering.h"
#include "cli/draw/pattern_lines.h"
#include "model/pattern/polyline.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace easewright::draw {
namespace {

using geometry::cross;

constexpr double kQuarter = std::numbers::pi / 2;
/// Sizes of letters, em in cm: names along edges, what stands at a notch, the label's lines.
constexpr double kEdgeSize = 0.36, kNoteSize = 0.3;
/// Snips are 0.3 to 0.6 deep and never over half the allowance (common practice), cm.
constexpr double kSnip = 0.5, kLeastSnip = 0.2;
/// The two snips of a pair, from each other, cm.
constexpr double kPairGap = 0.6;

Point scaled(const Point& direction, double length) { return length * direction; }

/// The turn in which words along a direction read from below or from the right.
double upright(const Point& direction) {
  double turn = std::atan2(direction.y, direction.x);
  if (turn > kQuarter + 1e-6) turn -= 2 * kQuarter;
  if (turn <= -kQuarter + 1e-6) turn += 2 * kQuarter;
  return turn;
}

class PieceDrawing {
 public:
  PieceDrawing(const Piece& piece, const PieceLook& look)
      : piece_(piece), look_(look), cut_(outline_of(piece)) {}

  Canvas draw() {
    canvas_.begin(fmt::format("{} {}", piece_.number, piece_.name));
    draw_outlines();
    draw_grain();
    for (const PieceMark& mark : piece_.marks) draw_mark(mark);
    for (const Notch& notch : piece_.notches) draw_notch(notch);
    name_edges();
    draw_label();
    return std::move(canvas_);
  }

 private:
  void draw_outlines() {
    // The fold of the cloth has a line of its own in place of both.
    for (const PieceEdge& edge : piece_.edges) {
      if (edge.work == EdgeWork::fold) {
        draw_fold(edge);
      } else if (edge.allowance > 0) {
        // On the piece alone: of a draft that can't be sewn a sew line may leave it.
        for (const Line& part : on_piece(edge.line)) canvas_.line(part, kSewLine);
      }
    }
    draw_cut_line();
  }

  /// The cut line, open along the fold of the cloth.
  void draw_cut_line() {
    const auto on_fold = [this](const Point& a, const Point& b) {
      return piece_.on_fold && std::abs(a.x) < 1e-6 && std::abs(b.x) < 1e-6;
    };
    const Line& cut = piece_.cut;
    for (size_t i = 0; i < cut.size(); ++i) {
      if (!on_fold(cut[i], cut[(i + 1) % cut.size()])) continue;
      Line open;
      for (size_t k = 1; k <= cut.size(); ++k) open.push_back(cut[(i + k) % cut.size()]);
      canvas_.line(open, kCutLine);
      return;
    }
    canvas_.outline(cut, kCutLine);
  }

  /// A bracket whose ends point at the fold.
  void draw_fold(const PieceEdge& edge) {
    const auto [low, high] = std::minmax({edge.line.front().y, edge.line.back().y});
    const Box cut = box_of(cut_);
    canvas_.line({{0, cut_on_fold(true)}, {0, cut_on_fold(false)}}, kClothFold);
    const double height = high - low;
    const double inset = std::min(1.2, 0.2 * cut.width());
    const double from = low + 0.12 * height, to = high - 0.12 * height;
    canvas_.line({{0.1, from}, {inset, from}, {inset, to}, {0.1, to}}, kArrow);
    head({0.05, from}, {-1, 0});
    head({0.05, to}, {-1, 0});
    free_.take(rectangle({{0, from - 0.3}, {inset + 0.1, to + 0.3}}));
    along({inset + 0.15, 0.5 * (from + to)},
          {0, 1},
          {1, 0},
          edge.name + ": place on the fold",
          kEdgeSize);
  }

  /// Where the cut line leaves the fold, at its lower or upper end.
  double cut_on_fold(bool lower) const {
    double y = lower ? 1e9 : -1e9;
    for (const Point& p : cut_)
      if (std::abs(p.x) < 1e-6) y = lower ? std::min(y, p.y) : std::max(y, p.y);
    return y;
  }

  void head(const Point& tip, const Point& direction) {
    const Point back = tip - scaled(direction, 0.45), side{-direction.y, direction.x};
    canvas_.fill({tip, back + scaled(side, 0.16), back - scaled(side, 0.16)}, kBlack);
  }

  void draw_grain() {
    // Elastic and tape are bought by length: they have no grain to be laid along.
    if (piece_.cut_of == CutOf::elastic || piece_.cut_of == CutOf::tape) return;
    const Line line = longest_on_piece({piece_.grain[0], piece_.grain[1]});
    if (line.empty()) return;
    const Point from = line.front(), to = line.back();
    const Point run = to - from;
    const double length = std::hypot(run.x, run.y);
    if (length < 0.5) return;
    const Point direction = scaled(run, 1 / length);
    canvas_.line({from, to - scaled(direction, 0.3)}, kArrow);
    head(to, direction);
    if (!look_.nap) head(from, scaled(direction, -1));
    const Point side{-direction.y, direction.x};
    const Point mid = 0.5 * (from + to);
    free_.take({from + scaled(side, 0.3),
                from - scaled(side, 0.3),
                to - scaled(side, 0.3),
                to + scaled(side, 0.3)});
    if (length > 4) {
      const double turn = upright(direction);
      const Point above{-std::sin(turn), std::cos(turn)};
      along(mid, direction, above, look_.nap ? "grain, all one way" : "grain", kEdgeSize);
    }
  }

  /// Words beside a line, on the side where `beside` points; they are in the way of later ones.
  void along(const Point& at,
             const Point& direction,
             const Point& beside,
             const std::string& text,
             double size) {
    const Words words = beside_line(at, direction, beside, text, size);
    canvas_.text(words.at, words.text, words.lettering);
    free_.take(corners_of(words));
  }

  /// Words beyond a wave and its own, cm inside the edge.
  static constexpr double kPastWaves = 1.0;

  static Words beside_line(const Point& at,
                           const Point& direction,
                           const Point& beside,
                           const std::string& text,
                           double size) {
    const double turn = upright(direction);
    const Point up{-std::sin(turn), std::cos(turn)};
    const bool above = geometry::dot(up, beside) > 0;
    const double off = above ? 0.45 * size : (kCapital + 0.45) * size;
    return {at + scaled(beside, off), text, {.size = size, .anchor = Anchor::middle, .turn = turn}};
  }

  void draw_mark(const PieceMark& mark) {
    switch (mark.kind) {
      case PieceMark::Kind::point:
        draw_point(mark);
        break;
      case PieceMark::Kind::dart_leg:
        draw_line(mark, kSewLine, "");
        canvas_.dot(mark.line.back(), 0.1);
        break;
      case PieceMark::Kind::stitch:
        draw_line(mark, kSewLine, mark.label);
        break;
      case PieceMark::Kind::fold:
        draw_line(mark, kPressedFold, mark.label);
        break;
      case PieceMark::Kind::casing_line:
        draw_line(mark, kCasingLine, mark.label);
        break;
      case PieceMark::Kind::placement:
        draw_line(mark, kPlacement, mark.label);
        break;
      case PieceMark::Kind::grain:
        draw_line(mark, kArrow, mark.label);
        break;
      case PieceMark::Kind::gather:
        draw_gathers(mark);
        break;
      case PieceMark::Kind::slit_start:
        draw_slit_start(mark);
        break;
      case PieceMark::Kind::text:
        canvas_.text(mark.line.front(), mark.label, {.size = kEdgeSize, .anchor = Anchor::middle});
        free_.take(corners_of(std::get<Words>(canvas_.marks().back().what)));
        break;
    }
  }

  /// The parts of a line that lie on the piece; all of it where the piece has no cut line.
  std::vector<Line> on_piece(const Line& line) const {
    return piece_.cut.empty() ? std::vector<Line>{line} : parts_inside(line, cut_);
  }

  /// The longest part of a line that lies on the piece: a high slit cuts marks short.
  Line longest_on_piece(const Line& line) const {
    Line longest;
    for (Line& part : on_piece(line))
      if (longest.empty() || length_of(part) > length_of(longest)) longest = std::move(part);
    return longest;
  }

  void draw_line(const PieceMark& mark, const Pen& pen, const std::string& label) {
    for (const Line& part : on_piece(mark.line)) canvas_.line(part, pen);
    const Line line = longest_on_piece(mark.line);
    if (line.size() < 2) return;
    free_.take_line(simplified(line, 0.1));
    if (label.empty()) return;
    const double length = length_of(line);
    const double size = kNoteSize;
    if (width_of(label, size) > length) return note(point_at(line, 0.5 * length), label);
    // Where it is clear, else in the middle.
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8}) {
      const Point direction = direction_at(line, share * length);
      const double turn = upright(direction);
      const Words words = beside_line(point_at(line, share * length),
                                      direction,
                                      {-std::sin(turn), std::cos(turn)},
                                      label,
                                      size);
      if (!free_.is_clear(corners_of(words)) && share != 0.8) continue;
      canvas_.text(words.at, words.text, words.lettering);
      free_.take(corners_of(words));
      return;
    }
  }

  /// Words to the right of a point, or to its left where that is taken or off the piece.
  void note(const Point& at, const std::string& label, double off = 0.4) {
    const Line sew = piece_.sew();
    Words best{at + Point{off, -0.35 * kNoteSize}, label, {.size = kNoteSize}};
    for (const double side : {1.0, -1.0}) {
      for (const double rise : {0.0, 0.5, -0.5, 1.0, -1.0}) {
        const Words words{at + Point{side * off, rise - 0.35 * kNoteSize},
                          label,
                          {.size = kNoteSize, .anchor = side > 0 ? Anchor::start : Anchor::end}};
        const Line corners = corners_of(words);
        const bool on_piece = std::all_of(
            corners.begin(), corners.end(), [&](const Point& p) { return is_inside(sew, p); });
        if (!on_piece || !free_.is_clear(corners)) continue;
        canvas_.text(words.at, words.text, words.lettering);
        free_.take(corners);
        return;
      }
    }
    canvas_.text(best.at, best.text, best.lettering);
    free_.take(corners_of(best));
  }

  /// The bust point: a crossed circle, the trade's mark for what is fullest. Others: a cross.
  void draw_point(const PieceMark& mark) {
    const Point p = mark.line.front();
    const bool fullest = mark.label == "bust point";
    const double r = fullest ? 0.35 : 0.25;
    if (fullest) canvas_.ring(p, r, kArrow);
    const double arm = fullest ? 1.4 * r : r;
    const Point a = fullest ? Point{arm, 0} : Point{0.7 * arm, 0.7 * arm};
    const Point b = fullest ? Point{0, arm} : Point{-0.7 * arm, 0.7 * arm};
    canvas_.line({p - a, p + a}, kArrow);
    canvas_.line({p - b, p + b}, kArrow);
    free_.take(rectangle(Box{p, p}.grown(0.5)));
    if (!mark.label.empty()) note(p, mark.label, 0.6);
  }

  /// An arrow from inside to the edge where the slit begins.
  void draw_slit_start(const PieceMark& mark) {
    const Point p = mark.line.front();
    canvas_.line({p + Point{0.3, 0}, p + Point{2, 0}}, kArrow);
    head(p + Point{0.05, 0}, {-1, 0});
    free_.take(rectangle({{p.x, p.y - 0.2}, {p.x + 2, p.y + 0.2}}));
    note(p + Point{2, 0}, mark.label, 0.2);
  }

  /// A wave along the edge, just inside it, a stroke across at either end.
  void draw_gathers(const PieceMark& mark) {
    const double length = length_of(mark.line);
    if (length < 0.5) return;
    const int waves = std::max(2, static_cast<int>(std::lround(length / 0.8)));
    const double depth = 0.3;
    Line wave;
    for (int i = 0; i <= 12 * waves; ++i) {
      const double along = length * i / (12 * waves);
      const double in = depth + 0.15 * std::sin(2 * std::numbers::pi * i / 12);
      wave.push_back(point_at(mark.line, along) -
                     scaled(outward_of(direction_at(mark.line, along)), in));
    }
    canvas_.line(wave, kGathers);
    for (const double end : {0.0, length}) {
      const Point at = point_at(mark.line, end);
      canvas_.line({at, at - scaled(outward_of(direction_at(mark.line, end)), 2 * depth)}, kArrow);
    }
    for (const double share : {0.25, 0.75, 0.5, 0.4, 0.6}) {
      const Point at = point_at(mark.line, share * length);
      const Point direction = direction_at(mark.line, share * length);
      const Point inward = scaled(outward_of(direction), -1);
      const Words words = beside_line(
          at + scaled(inward, 2 * depth - 0.1), direction, inward, mark.label, kNoteSize);
      if (!free_.is_clear(corners_of(words)) && share != 0.6) continue;
      canvas_.text(words.at, words.text, words.lettering);
      free_.take(corners_of(words));
      break;
    }
    // In short pieces, so that they follow the edge.
    const int parts = std::max(1, static_cast<int>(std::ceil(length / 1.5)));
    const auto inside = [&](const Point& p, double along) {
      return p - scaled(outward_of(direction_at(mark.line, along)), 2 * depth);
    };
    for (int i = 0; i < parts; ++i) {
      const double from = length * i / parts, to = length * (i + 1) / parts;
      const Point a = point_at(mark.line, from), b = point_at(mark.line, to);
      free_.take({a, b, inside(b, to), inside(a, from)});
    }
  }

  void draw_notch(const Notch& notch) {
    const NotchPlace place = place_of(piece_, notch);
    const PieceEdge& edge = piece_.edges[static_cast<size_t>(notch.edge)];
    const Point along{-place.outward.y, place.outward.x};
    const Point at = place.at + scaled(place.outward, edge.allowance);
    const double deep = edge.allowance > 0 ? std::min(kSnip, 0.5 * edge.allowance) : kLeastSnip;
    // At a fold's end half of the pair is enough: the other half is cut with it.
    const std::vector<double> snips = notch.kind == NotchKind::pair
                                          ? std::vector<double>{-0.5 * kPairGap, 0.5 * kPairGap}
                                          : std::vector<double>{0};
    for (const double s : snips) {
      const Point top = at + scaled(along, s);
      if (piece_.on_fold && top.x < -1e-6) continue;
      canvas_.line({top, top - scaled(place.outward, deep)}, kNotch);
    }
    // A short stroke on the sew line: what meets there is matched on it.
    if (edge.allowance > 0)
      canvas_.line({place.at - scaled(place.outward, 0.15), place.at + scaled(place.outward, 0.15)},
                   kArrow);
    name_notch(notch, place);
  }

  /// The balance mark's name, inside, square to the edge.
  void name_notch(const Notch& notch, const NotchPlace& place) {
    if (notch.mate.empty()) return;
    const Point inward = scaled(place.outward, -1);
    const double turn = upright(inward);
    const bool forward = geometry::dot(inward, Point{std::cos(turn), std::sin(turn)}) > 0;
    const Point up{-std::sin(turn), std::cos(turn)};
    // Beyond what is eased or gathered there, where it is in the way.
    for (const double depth : {0.25, kPastWaves}) {
      for (const double shift : {0.0, 0.4, -0.4, 0.8, -0.8}) {
        const Words words{
            place.at + scaled(inward, depth) + scaled(up, shift - 0.35 * kNoteSize),
            notch.mate,
            {.size = kNoteSize, .anchor = forward ? Anchor::start : Anchor::end, .turn = turn}};
        if (put_inside(words)) return;
      }
    }
    // A tape is narrower than its words are long: along the edge, beside the snip.
    const double off = 0.3 + 0.5 * width_of(notch.mate, kNoteSize);
    for (const double side : {1.0, -1.0}) {
      const Point along{-place.outward.y, place.outward.x};
      const Words words = beside_line(place.at + scaled(along, side * off) + scaled(inward, 0.1),
                                      along,
                                      inward,
                                      notch.mate,
                                      kNoteSize);
      if (put_inside(words)) return;
    }
  }

  /// Writes words where they lie on the piece, clear of all else; false where they don't.
  bool put_inside(const Words& words) {
    const Line corners = corners_of(words);
    const bool on_piece = std::all_of(
        corners.begin(), corners.end(), [&](const Point& p) { return is_inside(cut_, p); });
    if (!on_piece || !free_.is_clear(corners)) return false;
    canvas_.text(words.at, words.text, words.lettering);
    free_.take(corners);
    return true;
  }

  /// A belt's are told apart; elastic and tape have none that matters.
  void name_edges() {
    if (piece_.cut_of == CutOf::elastic || piece_.cut_of == CutOf::tape) return;
    for (const PieceEdge& edge : piece_.edges) {
      if (edge.work == EdgeWork::fold || edge.name == "dart") continue;
      name_edge(edge);
    }
  }

  /// The edge's name along it, inside; left out where there is no room.
  void name_edge(const PieceEdge& edge) {
    const double length = edge.length();
    const double width = width_of(edge.seam(), kEdgeSize);
    if (width > 0.8 * length) return;
    for (const double depth : {0.0, kPastWaves}) {
      for (const double share : {0.5, 0.35, 0.65, 0.22, 0.78}) {
        const double at = std::clamp(share * length, 0.55 * width, length - 0.55 * width);
        const Point p = point_at(edge.line, at);
        const Point direction = direction_at(edge.line, at);
        const Point inward = scaled(outward_of(direction), -1);
        // Where the edge bends inwards under the words, they move in.
        double bend = 0;
        for (const double s : {-0.5, -0.25, 0.25, 0.5}) {
          const Point off = point_at(edge.line, at + s * width) - p;
          bend = std::max(bend, geometry::dot(off, inward));
        }
        if (put_inside(beside_line(
                p + scaled(inward, bend + depth), direction, inward, edge.seam(), kEdgeSize)))
          return;
      }
    }
  }

  struct Block {
    std::vector<Words> lines;  ///< at (0, 0), the upper left corner
    double width = 0, height = 0;
  };

  Block block_of(double width, double title, double size) const {
    Block block;
    const auto add = [&](const std::string& text, double em, Weight weight) {
      for (const std::string& line : wrapped(text, width, em, weight)) {
        block.height += kLeading * em;
        block.width = std::max(block.width, width_of(line, em, weight));
        block.lines.push_back({{0, kDescent * em - block.height},
                               line,
                               {.size = em, .weight = weight, .ground = Ground::clear}});
      }
    };
    for (size_t i = 0; i < piece_.label.size(); ++i)
      add(piece_.label[i], i == 0 ? title : size, i == 0 ? Weight::bold : Weight::regular);
    if (!look_.caution.empty()) add(look_.caution, size, Weight::bold);
    return block;
  }

  /// As large as there is room for.
  void draw_label() {
    if (piece_.label.empty()) return;
    const Line inside = simplified(piece_.sew(), 0.1);
    const Box box = box_of(inside);
    const Point middle = 0.5 * (box.least + box.most);
    for (const auto& [title, size] :
         {std::pair{0.9, 0.45}, {0.75, 0.42}, {0.6, 0.36}, {0.5, 0.32}}) {
      for (const double width : {12.0, 10.0, 8.0, 15.0, 6.5, 5.0, 25.0, 45.0}) {
        const Block block = block_of(width, title, size);
        const double gap = 0.3;
        const auto place =
            free_.find(inside, block.width + 2 * gap, block.height + 2 * gap, middle);
        if (!place) continue;
        const Point corner{place->least.x + gap, place->most.y - gap};
        for (const Words& words : block.lines)
          canvas_.text(corner + words.at, words.text, words.lettering);
        return;
      }
    }
    label_above(box);
  }

  /// One line above a piece that has no room inside.
  void label_above(const Box& box) {
    std::string line;
    for (const std::string& part : piece_.label) line += (line.empty() ? "" : "; ") + part;
    if (!look_.caution.empty()) line += "; " + look_.caution;
    double y = box_of(cut_).most.y + 0.25;
    const auto lines = wrapped(line, std::max(box.width(), 10.0), kEdgeSize);
    for (auto it = lines.rbegin(); it != lines.rend(); ++it) {
      canvas_.text({box.least.x, y}, *it, {.size = kEdgeSize});
      y += kLeading * kEdgeSize;
    }
  }

  const Piece& piece_;
  const PieceLook& look_;
  const Line cut_;
  Canvas canvas_;
  FreeSpace free_;
};

}  // namespace

Line outline_of(const Piece& piece) { return piece.cut.empty() ? piece.sew() : piece.cut; }

Canvas draw_piece(const Piece& piece, const PieceLook& look) {
  return PieceDrawing(piece, look).draw();
}

}  // namespace easewright::draw
