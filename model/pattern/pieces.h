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
         front_edge = 1.0, belt = 1.0;
};

/// What is printed besides the geometry.
struct PieceLabels {
  std::string body;  ///< 'alto 2'
  std::string job;
  std::string date;  ///< as it is printed; empty: none
};

/// All pieces of the garment, in the order of their numbers: bodice front and back (cloth and,
/// lined, lining with its edges 0.2 smaller and 1 longer at the waist), back skirt on the fold,
/// left and right front skirt, belt strips, and lengths of elastic and stay tape. Needs
/// result.posed. Only parts that the garment has.
std::vector<Piece> pieces_of(const FitResult& result,
                             const Allowances& allowances = {},
                             const PieceLabels& labels = {});

/// One pair of edges that are sewn together.
struct SeamPair {
  std::string first, second;  ///< 'bodice front: side seam'
  double first_length = 0, second_length = 0;
  double eased = 0;  ///< meant difference, first less second
  double off = 0;    ///< what is left of the difference: truing error
  double corner_first = 0,
         corner_last =
             0;  ///< angles by which the edges across the seam's ends fail to run on smoothly, rad
};

/// Every pair of the pieces. Dart legs count as pairs; both ends of a seam are looked at.
std::vector<SeamPair> seam_pairs(const std::vector<Piece>& pieces);

}  // namespace easewright
