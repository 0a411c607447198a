#include "model/pattern/nest_shapes.h"

#include <cmath>
#include <optional>

namespace easewright {
namespace {

const std::string kSideSeam = "side seam";

/// The side seam's end nearest the waist, which a piece has at y = 0.
std::optional<double> match_level(const Piece& piece) {
  std::optional<double> level;
  for (const PieceEdge& e : piece.edges) {
    if (e.seam() != kSideSeam || e.line.empty()) continue;
    for (const double y : {e.line.front().y, e.line.back().y}) {
      if (!level || std::abs(y) < std::abs(*level)) level = y;
    }
  }
  return level;
}

/// Where the garment's centre runs along the piece.
std::optional<double> centre_line(const Piece& piece) {
  const auto is_centre = [](const std::string& name) {
    return name == "centre front" || name == "centre back";
  };
  for (const PieceEdge& e : piece.edges) {
    if (is_centre(e.name) && !e.line.empty()) return e.line.front().x;
  }
  for (const PieceMark& m : piece.marks) {
    if (m.kind == PieceMark::Kind::placement && is_centre(m.label) && !m.line.empty())
      return m.line.front().x;
  }
  return std::nullopt;
}

bool meets(const Piece& piece, const Piece& other) {
  for (const PieceEdge& e : piece.edges) {
    if (e.seam() == kSideSeam && e.mate == other.name + ": " + kSideSeam) return true;
  }
  return false;
}

}  // namespace

std::vector<NestShape> nest_shapes(const std::vector<Piece>& pieces,
                                   CutOf cut_of,
                                   const std::string& who,
                                   int first_group) {
  std::vector<NestShape> shapes;
  std::vector<const Piece*> taken;
  int next_group = first_group;
  for (const Piece& piece : pieces) {
    if (piece.cut_of != cut_of) continue;
    NestShape shape;
    shape.name = who.empty() ? piece.name : who + ": " + piece.name;
    shape.outline = piece.cut;
    shape.count = piece.count;
    shape.mirrored_pairs = piece.mirrored;
    shape.on_fold = piece.on_fold;
    if (const auto centre = centre_line(piece)) {
      shape.centred = true;
      shape.centre_x = *centre;
    }
    if (const auto level = match_level(piece)) {
      shape.match_y = *level;
      for (size_t i = 0; i < taken.size() && shape.match_group < 0; ++i) {
        if (meets(piece, *taken[i])) shape.match_group = shapes[i].match_group;
      }
      if (shape.match_group < 0) shape.match_group = next_group++;
    }
    shapes.push_back(std::move(shape));
    taken.push_back(&piece);
  }
  return shapes;
}

}  // namespace easewright
