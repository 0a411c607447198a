#pragma once
// The lines of a pattern, and what each means. All are black, told apart by their dashes and
// widths.

#include "cli/draw/canvas.h"

namespace easewright::draw {

/// Cut here, along its middle.
inline const Pen kCutLine{.width = 0.05};
/// Sew here.
inline const Pen kSewLine{.width = 0.03, .dash = {0.3, 0.15}};
/// The fold of the cloth; nothing is cut here.
inline const Pen kClothFold{.width = 0.05, .dash = {1.2, 0.15, 0.15, 0.15}};
/// A fold that is pressed or stitched into the piece.
inline const Pen kPressedFold{.width = 0.025, .dash = {0.6, 0.12, 0.12, 0.12}};
/// The casing's other edge, stitched round once the casing is folded.
inline const Pen kCasingLine{.width = 0.025, .dash = {0.8, 0.25}};
/// Where another piece's edge comes to lie.
inline const Pen kPlacement{.width = 0.025, .dash = {0.06, 0.18}, .ends = Ends::round};
/// Grain, brackets, and what points at something.
inline const Pen kArrow{.width = 0.04};
inline const Pen kNotch{.width = 0.05};
inline const Pen kGathers{.width = 0.03};
/// Sheets meet along it.
inline const Pen kSheetEdge{.width = 0.02, .tint = grey(0.45)};

}  // namespace easewright::draw
