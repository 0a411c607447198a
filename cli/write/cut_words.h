#pragma once
// What is cut, bought and sewn together, in words that the summary of `cut`, the sheets and the
// cutting plan share.

#include "model/cloth.h"
#include "model/job.h"
#include "model/pattern/cutting.h"
#include "model/pattern/piece.h"
#include "model/pattern/pieces.h"

#include <string>

namespace easewright {

/// '1 on the fold', '2, left and right', '2'.
std::string count_words(const Piece& piece);

/// 'cloth', 'lining', 'elastic', 'stay tape'.
std::string material_words(CutOf cut_of);

/// '4 skirt front: 2, left and right, cloth'; of a strip, all that strip_words says too.
std::string cut_words(const Piece& piece, LengthUnit unit);

/// Of a rectangle, all that is needed to measure it off: '95 cm by 10 cm, between its sew lines
/// 93 cm; fold lengthwise'.
std::string strip_words(const Piece& strip, LengthUnit unit);

/// Whether the piece is a plain rectangle at least twice as long as wide.
bool is_strip(const Piece& piece);

/// '2.4 m (2 5/8 yd)'.
std::string to_buy_words(const ToBuy& to_buy);

/// '145 cm wide, folded'; with the width as it lies where a wash has narrowed it.
std::string lay_words(const CuttingPlan& plan, LengthUnit unit);

/// 'buy 2.4 m (2 5/8 yd)', 'pieces fill 74 % of 2.31 m; by area, width and the longest piece it
/// takes 1.71 m at least'.
std::string buy_words(const CuttingPlan& plan);
std::string filled_words(const CuttingPlan& plan);

/// A pair of seams: 'side seam: bodice front to bodice back', and how it comes out: '19.5 cm,
/// equal', '24 cm to 22.3 cm: bodice front 1.7 cm longer, eased in'.
struct PairWords {
  std::string seam, lengths;
};
PairWords pair_words(const SeamPair& pair, LengthUnit unit);

}  // namespace easewright
