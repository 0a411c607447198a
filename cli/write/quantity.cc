#include "cli/write/quantity.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Fixed decimals, zeros at the end and a bare point taken off, never '-0'.
std::string trimmed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') != std::string::npos) {
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string eighths(double inches) {
  const auto count = std::llround(std::abs(inches) * 8);
  const auto whole = count / 8;
  const auto rest = count % 8;
  std::string text = inches < 0 && count > 0 ? "-" : "";
  if (rest == 0) return text + std::to_string(whole);
  const auto common = std::gcd(rest, 8LL);
  if (whole > 0) text += std::to_string(whole) + " ";
  return text + std::to_string(rest / common) + "/" + std::to_string(8 / common);
}

/// The value in the unit that it is shown in.
double shown(double value, Dimension dimension, const Notation& notation) {
  if (dimension == kLength) return notation.unit == LengthUnit::inch ? value / kCmPerInch : value;
  if (dimension == kAngle) return degrees(value);
  return dimension == kRatio && notation.ratio == RatioStyle::percent ? 100 * value : value;
}

int decimals(Dimension dimension, const Notation& notation) {
  if (dimension == kTime) return 0;
  if (notation.precision == Precision::fine) return 2;
  return dimension == kRatio && notation.ratio == RatioStyle::number ? 2 : 1;
}

bool in_eighths(Dimension dimension, const Notation& notation) {
  return dimension == kLength && notation.unit == LengthUnit::inch &&
         notation.precision == Precision::usual;
}

std::string with_unit(const std::string& number, Dimension dimension, const Notation& notation) {
  const std::string word = unit_word(dimension, notation);
  return word.empty() ? number : number + " " + word;
}

}  // namespace

std::string unit_word(Dimension dimension, const Notation& notation) {
  if (dimension == kLength) return notation.unit == LengthUnit::inch ? "in" : "cm";
  if (dimension == kAngle) return "deg";
  if (dimension == kTime) return "years";
  return dimension == kRatio && notation.ratio == RatioStyle::percent ? "%" : "";
}

std::string write_number(double value, Dimension dimension, const Notation& notation) {
  if (!std::isfinite(value))
    return std::isnan(value) ? "unknown" : value > 0 ? "infinite" : "-infinite";
  const double number = shown(value, dimension, notation);
  return in_eighths(dimension, notation) ? eighths(number)
                                         : trimmed(number, decimals(dimension, notation));
}

std::string write_quantity(double value, Dimension dimension, const Notation& notation) {
  return with_unit(write_number(value, dimension, notation), dimension, notation);
}

std::string write_amount(double value, Dimension dimension, const Notation& notation) {
  const double size = std::abs(value);
  const std::string number = write_number(size, dimension, notation);
  if (number != "0") return with_unit(number, dimension, notation);
  if (in_eighths(dimension, notation)) return "under 1/8 in";
  const double amount = shown(size, dimension, notation);
  const int places = amount > 0 ? std::min(6, static_cast<int>(std::ceil(-std::log10(amount)))) : 0;
  return with_unit(trimmed(amount, places), dimension, notation);
}

std::string write_note(const Note& note, const Notation& notation) {
  std::string text = note.text;
  for (const double length : note.lengths) {
    const size_t at = text.find("{}");
    if (at == std::string::npos) break;
    text.replace(at, 2, write_amount(length, kLength, notation));
  }
  return text;
}

std::string write_wanted(double lo, double hi, Dimension dimension, const Notation& notation) {
  const bool below = std::isfinite(lo), above = std::isfinite(hi);
  if (below && above) {
    const std::string first = write_number(lo, dimension, notation);
    const std::string last = write_quantity(hi, dimension, notation);
    return first == write_number(hi, dimension, notation) ? last : first + " to " + last;
  }
  if (below) return "at least " + write_quantity(lo, dimension, notation);
  if (above) return "at most " + write_quantity(hi, dimension, notation);
  return "anything";
}

std::string write_range(double lo, double hi, Dimension dimension, const Notation& notation) {
  return with_unit(
      write_number(lo, dimension, notation) + "-" + write_number(hi, dimension, notation),
      dimension,
      notation);
}

}  // namespace easewright
