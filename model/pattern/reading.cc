#include "model/pattern/reading.h"

#include "model/units.h"

#include <cmath>
#include <numeric>

#include <fmt/format.h>

namespace easewright {

std::string length_as_read(double cm, LengthUnit unit) {
  if (unit == LengthUnit::cm) {
    const double rounded = std::round(cm * 10) / 10;
    return fmt::format("{:.1f} cm", rounded == 0 ? 0.0 : rounded);
  }
  const long eighths = std::lround(std::abs(cm) / kCmPerInch * 8);
  const long whole = eighths / 8, part = eighths % 8;
  std::string text = cm < 0 && eighths > 0 ? "-" : "";
  if (whole > 0 || part == 0) text += fmt::format("{}", whole);
  if (part > 0) {
    const long common = std::gcd(part, 8L);
    text += fmt::format("{}{}/{}", whole > 0 ? " " : "", part / common, 8 / common);
  }
  return text + " in";
}

}  // namespace easewright
