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

/// One named edge of a piece's sew line, from corner to corner, counter-clockwise. What stands
/// after a comma tells parts of one seam apart: 'side seam, above dart' and 'side seam, below dart'
/// are sewn to one 'side seam'.
struct PieceEdge {
  std::string name;                ///< 'side seam', 'armhole', 'waist', 'centre back'
  std::vector<Vec2<double>> line;  ///< sew line, flattened to 0.001; ends are the corners
  double allowance = 0;
  EdgeWork work = EdgeWork::seam;
  std::string mate;  ///< 'bodice back: side seam'; empty where it meets none
  double eased =
      0;          ///< so much longer (+) than its mate on purpose: gathered, eased or stretched in
  int order = 0;  ///< in which the edges of a garment are sewn; an earlier one is pressed open
                  ///< before a later one crosses it
  /// Unit directions in which the edge begins and ends, where its line flattens a curve; {0, 0}: as
  /// the first and last chord.
  Vec2<double> leaves{0, 0}, arrives{0, 0};

  double length() const;
  std::string seam() const;        ///< name up to the comma
  Vec2<double> departure() const;  ///< unit direction at its beginning
  Vec2<double> arrival() const;    ///< unit direction at its end
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
  enum class Kind {
    point,
    stitch,
    fold,
    grain,
    gather,
    dart_leg,
    slit_start,
    casing_line,
    text,
    placement  ///< where another piece's edge lies, or the centre of a piece without a fold
  };
  Kind kind = Kind::point;
  std::vector<Vec2<double>> line;  ///< one point, or a line
  std::string label;               ///< 'bust point', 'dart', 'ease 1.2 cm', ...
};
/// The notch's place on the sew line, and its direction outwards from the piece (unit length).
struct NotchPlace {
  Vec2<double> at, outward;
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

  const PieceEdge* edge(const std::string& edge_name) const;  ///< null where there is none
  /// Length of a whole seam, its parts together: 'side seam'. 0 where there is none.
  double seam_length(const std::string& seam) const;
  std::vector<Vec2<double>> sew() const;  ///< the whole sew line, closed, first point not repeated
};
NotchPlace place_of(const Piece& piece, const Notch& notch);

}  // namespace easewright
