#include "model/pattern/piece.h"

#include "model/pattern/polyline.h"

#include <algorithm>

namespace easewright {

double PieceEdge::length() const { return length_of(line); }

std::string PieceEdge::seam() const { return name.substr(0, name.find(',')); }

Vec2<double> PieceEdge::departure() const {
  return leaves.x == 0 && leaves.y == 0 ? ends_of(line).leaves : leaves;
}

Vec2<double> PieceEdge::arrival() const {
  return arrives.x == 0 && arrives.y == 0 ? ends_of(line).arrives : arrives;
}

const PieceEdge* Piece::edge(const std::string& edge_name) const {
  const auto it = std::find_if(
      edges.begin(), edges.end(), [&](const PieceEdge& e) { return e.name == edge_name; });
  return it == edges.end() ? nullptr : &*it;
}

double Piece::seam_length(const std::string& seam) const {
  double sum = 0;
  for (const PieceEdge& e : edges)
    if (e.seam() == seam) sum += e.length();
  return sum;
}

std::vector<Vec2<double>> Piece::sew() const {
  std::vector<Vec2<double>> outline;
  for (const PieceEdge& e : edges) outline.insert(outline.end(), e.line.begin(), e.line.end() - 1);
  return outline;
}

NotchPlace place_of(const Piece& piece, const Notch& notch) {
  const Polyline& line = piece.edges.at(static_cast<size_t>(notch.edge)).line;
  return {point_at(line, notch.along), outward_of(direction_at(line, notch.along))};
}

}  // namespace easewright
