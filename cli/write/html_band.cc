#include "cli/write/html_band.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

/// The picture, in its own units.
constexpr double kWidth = 120, kHeight = 16, kMiddle = 8, kEdge = 4;
/// Room left and right of what is shown, as a share of it.
constexpr double kRoom = 0.3;

}  // namespace

std::string band_of(const Finding& f) {
  const bool below = std::isfinite(f.lo), above = std::isfinite(f.hi);
  if ((!below && !above) || !std::isfinite(f.value)) return {};
  double least = f.value, most = f.value;
  if (below) least = std::min(least, f.lo), most = std::max(most, f.lo);
  if (above) least = std::min(least, f.hi), most = std::max(most, f.hi);
  // At least four tolerances wide, so that a hair's breadth is not blown up.
  const double width = std::max(most - least, 4 * f.tolerance);
  const double middle = 0.5 * (least + most), shown = (1 + 2 * kRoom) * width;
  if (!(shown > 0)) return {};
  const auto place = [&](double value) {
    return kEdge + (kWidth - 2 * kEdge) * ((value - middle) / shown + 0.5);
  };
  const double from = below ? place(f.lo) : 0, to = above ? place(f.hi) : kWidth;
  return fmt::format(
      "<svg viewBox=\"0 0 {} {}\" aria-hidden=\"true\">"
      "<path d=\"M0 {}H{}\" stroke=\"#777\" stroke-width=\"1\"/>"
      "<path d=\"M{:.1f} {}H{:.1f}\" stroke=\"#9aa5b3\" stroke-width=\"6\"/>"
      "<path d=\"M{:.1f} 1V{}\" stroke=\"#000\" stroke-width=\"2.4\"/></svg>",
      kWidth,
      kHeight,
      kMiddle,
      kWidth,
      std::min(from, to - 2),
      kMiddle,
      to,
      place(f.value),
      kHeight - 1);
}

}  // namespace easewright
