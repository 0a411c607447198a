#include "cli/draw/paper.h"

#include "model/units.h"

namespace easewright::draw {

std::string_view to_string(Paper paper) {
  static constexpr std::array<std::string_view, 4> kNames = {
      "A4", "A3", "Letter", "one large sheet"};
  return kNames[static_cast<size_t>(paper)];
}

SheetSize size_of(Paper paper) {
  switch (paper) {
    case Paper::a4:
      return {21.0, 29.7};
    case Paper::a3:
      return {29.7, 42.0};
    case Paper::letter:
      return {8.5 * kCmPerInch, 11 * kCmPerInch};
    case Paper::whole:
      break;
  }
  return {};
}

Box field_of(const SheetSize& sheet, int rows, int row, int column) {
  const Point size{sheet.field_width(), sheet.field_height()};
  const Point least{column * size.x, (rows - row - 1) * size.y};
  return {least, least + size};
}

std::string sheet_name(int row, int column) {
  std::string letters;
  for (int rest = row; rest >= 0; rest = rest / 26 - 1)
    letters.insert(letters.begin(), static_cast<char>('A' + rest % 26));
  return letters + std::to_string(column + 1);
}

}  // namespace easewright::draw
