#pragma once
// Paper, and how sheets of it are joined to one.
//
// A sheet carries a field, and a strip beyond it on the right and below that repeats what its
// neighbours show: these are cut off along their left and upper edges and laid on the strips. Rows
// have letters from the top, columns have numbers from the left.

#include "cli/draw/canvas.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace easewright::draw {

enum class Paper { a4, a3, letter, whole };
/// 'a4', 'a3', 'letter', 'whole', as on the command line.
inline constexpr std::array<std::string_view, 4> kPaperWords = {"a4", "a3", "letter", "whole"};

/// 'A4', 'Letter', 'one large sheet'.
std::string_view to_string(Paper paper);

/// Home printers leave up to this much white, and a strip of this width is glued well (0.5 to 1.0;
/// common practice), cm.
inline constexpr double kMargin = 1.0, kStrip = 1.0;
/// One large sheet is as wide as rolls are that copy shops have at least (ISO 216: A0), cm.
inline constexpr double kRoll = 84.1;

/// Upright sheets of this size; of whole paper, no size (one large sheet has its own).
struct SheetSize {
  double width = 0, height = 0;

  double field_width() const { return width - 2 * kMargin - kStrip; }
  double field_height() const { return height - 2 * kMargin - kStrip; }
};
/// ISO 216; Letter is 8 1/2 by 11 in.
SheetSize size_of(Paper paper);

/// A sheet's field on the joined ones, of so many rows; origin at the lower left.
Box field_of(const SheetSize& sheet, int rows, int row, int column);

/// 'A1', 'B3', 'AA12'.
std::string sheet_name(int row, int column);

}  // namespace easewright::draw
