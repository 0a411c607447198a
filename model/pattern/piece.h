#pragma once
// A pattern piece: closed sew line with its edges by name, cut line with an allowance for each
// edge, and everything that is marked on it. Lengths in cm, x to the right, y up, the grain along
// y.

#include "model/geometry/bezier.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace easewright {

using geometry::Vec2;

/// How an edge's allowance ends at its corners and is worked.
enum class EdgeWork {
  seam,    ///< sewn to a mate; corners mitred so that pressed-open allowances meet
  faced,   ///< sewn to its lining and turned: trimmed, clipped
  hem,     ///< turned up: squared, the cut line mirrors the piece's sides across the fold
  casing,  ///< waist allowance that is folded to the elastic's casing
  fold,    ///< on the fold of the cloth: no allowance, sew line and cut line are one
};

/// One named edge of a piece's sew line, from corner to corner, counter-clockwise.
struct PieceEdge {
  std::string name;                ///< 'side seam', 'armhole', 'waist', 'centre back'
  std::vector<Vec2<double>> line;  ///< sew line, flattened to 0.005; ends are the corners
  double allowance = 0;
  EdgeWork work = EdgeWork::seam;
  std::string mate;  ///< 'bodice back: side seam'; empty where it meets none
  double eased =
      0;  ///< so much longer (+) than its mate on purpose: gathered, eased or stretched in
  double length() const;
};

enum class NotchKind {
  single,
  pair
};  ///< single at the front, double at the back (common practice)

struct Notch {
  int edge = 0;
  double along = 0;  ///< from the edge's beginning on its sew line, cm
  NotchKind kind = NotchKind::single;
  std::string mate;  ///< name of the balance mark that it meets
};

/// A line or a point inside the piece.
struct PieceMark {
  enum class Kind { point, stitch, fold, grain, gather, dart_leg, slit_start, casing_line, text };
  Kind kind = Kind::point;
  std::vector<Vec2<double>> line;  ///< one point, or a line
  std::string label;               ///< 'bust point', 'dart', 'ease 1.2 cm', ...
};

enum class CutOf { cloth, lining, elastic, tape };

struct Piece {
  int number = 0;
  std::string name;  ///< 'bodice front'
  CutOf cut_of = CutOf::cloth;
  int count = 1;                  ///< pieces to cut
  bool on_fold = false;           ///< one edge lies on the fold; count counts whole pieces
  bool mirrored = false;          ///< cut in pairs, left and right
  std::vector<PieceEdge> edges;   ///< closed: the end of each is the beginning of the next
  std::vector<Vec2<double>> cut;  ///< cut line, closed, counter-clockwise, first point not repeated
  std::array<Vec2<double>, 2> grain{};  ///< the grain line's ends
  std::vector<Notch> notches;
  std::vector<PieceMark> marks;
  std::vector<std::string>
      label;  ///< lines of the label: piece, body, cut count and cloth, allowances, date

  const PieceEdge* edge(const std::string& edge_name) const;
  std::vector<Vec2<double>> sew() const;  ///< the whole sew line, closed, first point not repeated
};

}  // namespace easewright
