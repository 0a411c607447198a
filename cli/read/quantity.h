#pragma once
// Quantities as people write them, and back to inside units: cm, rad, plain ratios, years.
//
//   34.5 cm   345 mm   0.345 m   13 5/8 in   5 ft 4 in   15 deg   12 %   1.5   34 years
//
// A length, an angle and an age need their unit; only a ratio may be bare. Ranges of use are
// checked where the meaning is known; here only that a number is finite and not beyond
// kMostQuantity of its unit.

#include "model/units.h"

#include <optional>
#include <string>
#include <string_view>

namespace easewright {

/// Lengths past 10 m, and numbers past 1000 of any other unit, are slips.
inline constexpr double kMostQuantity = 1000;

/// Nothing when `text` is none; then `why` is one sentence that names what was found and what would
/// be right.
std::optional<double> parse_quantity(std::string_view text, Dimension dimension, std::string& why);

/// A measure with the error it was taken with, 1 s.d.: '98 cm +- 1 cm'.
struct MeasuredQuantity {
  double value = 0;
  std::optional<double> sd;
};
std::optional<MeasuredQuantity> parse_measured(std::string_view text,
                                               Dimension dimension,
                                               std::string& why);

/// How a quantity of this dimension is written: '12.5 cm', '12.5 deg', '12.5'.
std::string example_of(Dimension dimension);

/// A number without a unit: '12', '12.5', '13 5/8'.
bool is_bare_number(std::string_view text);

}  // namespace easewright
