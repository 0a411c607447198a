// Belt strips, elastic and stay tape: rectangles.

#include "model/pattern/drafting.h"

#include <algorithm>
#include <cmath>

namespace easewright::drafting {
namespace {

/// The elastic's ends lie over each other by this much, cm (1 to 2.5; common practice).
constexpr double kElasticJoin = 2;
/// Stay tape for a neckline, cm wide.
constexpr double kTapeWidth = 0.6;

PieceEdge side(const char* name, Polyline line, double allowance, const char* mate) {
  return edge(name, std::move(line), allowance, EdgeWork::seam, mate, 0);
}

/// A rectangle, long side across, from the origin.
std::vector<PieceEdge> rectangle(double length,
                                 double width,
                                 double allowance_ends,
                                 double allowance_sides) {
  return {side("lower edge", {{0, 0}, {length, 0}}, allowance_sides, ""),
          side("right end", {{length, 0}, {length, width}}, allowance_ends, ""),
          side("upper edge", {{length, width}, {0, width}}, allowance_sides, ""),
          side("left end", {{0, width}, {0, 0}}, allowance_ends, "")};
}

}  // namespace

Piece belt(const Draft& d) {
  Piece piece;
  piece.name = "belt";
  const double length = d[ValueKey::belt_length], width = 2 * d[ValueKey::belt_width];
  const double a = d.allowances.belt;
  const Cloth& cloth = d.frame.cloth;
  const double across = cloth.width * (1 - cloth.shrinkage_width);
  // Strips across the cloth; each join costs two allowances.
  int strips = 1;
  while (strips < 50 && length / strips + 2 * a > across) ++strips;
  piece.count = strips;
  piece.edges = rectangle(length / strips, width, a, a);
  piece.edges[0].mate = "belt: upper edge";
  piece.edges[2].mate = "belt: lower edge";
  piece.grain = {Vec2<double>{0.25 * length / strips, 0.15 * width},
                 Vec2<double>{0.25 * length / strips, 0.85 * width}};
  piece.marks.push_back({PieceMark::Kind::fold,
                         {{0, 0.5 * width}, {length / strips, 0.5 * width}},
                         "fold lengthwise"});
  if (strips > 1) {
    const std::string joins = strips == 2 ? "1 join" : std::to_string(strips - 1) + " joins";
    piece.marks.push_back({PieceMark::Kind::text,
                           {{0.5 * length / strips, 0.25 * width}},
                           joins + ", " + d.read(length) + " long when finished"});
  }
  return piece;
}

Piece elastic(const Draft& d) {
  Piece piece;
  piece.name = "elastic";
  piece.cut_of = CutOf::elastic;
  const double length = d[ValueKey::elastic_length];
  piece.edges = rectangle(length, d.frame.cloth.elastic_width, 0.5 * kElasticJoin, 0);
  piece.grain = {Vec2<double>{0.1 * length, 0.5 * d.frame.cloth.elastic_width},
                 Vec2<double>{0.9 * length, 0.5 * d.frame.cloth.elastic_width}};
  // Joined at a side seam: the front part, then the back's.
  const double front = d.result.measures[MeasureKey::elastic_front];
  add_notch(piece, "lower edge", std::clamp(front, 0.0, length), NotchKind::single, "side seam");
  return piece;
}

Piece stay_tape(const Draft& d) {
  Piece piece;
  piece.name = "stay tape";
  piece.cut_of = CutOf::tape;
  // The whole front neckline, strap to strap; its ends are caught in the strap seams.
  const double length =
      2 * (d.result.measures[MeasureKey::neckline_front] - d[ValueKey::neckline_taken]);
  piece.edges = rectangle(length, kTapeWidth, d.allowances.shoulder, 0);
  piece.grain = {Vec2<double>{0.1 * length, 0.5 * kTapeWidth},
                 Vec2<double>{0.9 * length, 0.5 * kTapeWidth}};
  add_notch(piece, "lower edge", 0.5 * length, NotchKind::single, "centre front");
  return piece;
}

}  // namespace easewright::drafting
