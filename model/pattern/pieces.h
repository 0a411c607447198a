#pragma once
// From a draft to its pieces.

#include "model/fit.h"
#include "model/pattern/piece.h"

namespace easewright {

/// Seam allowances by place, cm (home patterns have 1.5 at seams; lined edges 0.6 to 1.0; common
/// practice). The waist's is the draft's casing.allowance, the hem's its hem.turn with what is
/// folded in.
struct Allowances {
  double side = 1.5, shoulder = 1.5, centre = 1.5, waist = 1.5, neck = 0.8, armhole = 0.8,
         belt = 1.0;
  double front_edge = 0;  ///< free edge of a wrapped front; 0: as the hem, one narrow-hemmed line
};

/// What a turned hem folds in: two thirds of the turn, at most 1 (0.6 turned and 0.4 folded in are
/// the 1.0 of a narrow hem; common practice).
double folded_in(double hem_turn);

/// What is printed besides the geometry.
struct PieceLabels {
  std::string body;  ///< 'alto 2'
  std::string job;
  std::string date;                  ///< as it is printed; empty: none
  LengthUnit unit = LengthUnit::cm;  ///< what lengths on the pieces are written in
};

/// All pieces of the garment, in the order of their numbers: bodice front and back, skirt back and
/// front (a wrapped front is one piece, cut as a left and a right), belt strips, lining front and
/// back (neck and armhole edges 0.2 smaller, 1 longer at the waist), and lengths of elastic and
/// stay tape. Needs result.posed. Only parts that the garment has.
///
/// A piece on the fold is drawn as its half: the fold edge on x = 0, the cloth to its right.
std::vector<Piece> pieces_of(const FitResult& result,
                             const Allowances& allowances = {},
                             const PieceLabels& labels = {});

/// One pair of edges that are sewn together; the parts of one seam count as one.
struct SeamPair {
  std::string first, second;  ///< 'bodice front: side seam'
  double first_length = 0, second_length = 0;
  double eased = 0;  ///< meant difference, first less second
  double off = 0;    ///< what is left of the difference: truing error
  /// Angles by which the edges across the seam's ends fail to run on smoothly, rad: at the
  /// beginning and at the end of `first`. For an edge sewn to its lining: by which the edges beside
  /// it fail to lie on each other.
  double corner_first = 0, corner_last = 0;
};

/// Joined seam lines are equal within this, cm (trade practice; what is meant is no error).
inline constexpr double kTrued = 0.1;

/// Every pair of the pieces. Dart legs count as pairs; both ends of a seam are looked at.
std::vector<SeamPair> seam_pairs(const std::vector<Piece>& pieces);

/// The pair as it is read off in cm or eighths: the first length and the ease are rounded, the
/// second length is what they leave, so that mates agree in print too. What is off by more than
/// truing and reading allow (a draft of one's own) stays off, and shows.
SeamPair as_read(const SeamPair& pair, LengthUnit unit);

}  // namespace easewright
