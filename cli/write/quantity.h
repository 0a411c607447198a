#pragma once
// Quantities as people read them: cm to a millimetre, inches to the eighths that a tape has,
// degrees, per cent.

#include "model/fit.h"
#include "model/job.h"
#include "model/units.h"

#include <string>

namespace easewright {

/// How a ratio is written: 0.12 as '0.12' or as '12 %'.
enum class RatioStyle { number, percent };

/// Fine: two decimals, inches too, for amounts that vanish between a tape's marks.
enum class Precision { usual, fine };

struct Notation {
  LengthUnit unit = LengthUnit::cm;
  RatioStyle ratio = RatioStyle::number;
  Precision precision = Precision::usual;
};

/// '12.3', '13 5/8', '18.5', '1.44', '34': without a unit. Inches round to the nearest eighth,
/// halves away from zero.
std::string write_number(double value, Dimension dimension, const Notation& notation);

/// 'cm', 'in', 'deg', '%', 'years', or empty.
std::string unit_word(Dimension dimension, const Notation& notation);

/// Number and unit: '12.3 cm', '13 5/8 in', '18.5 deg'.
std::string write_quantity(double value, Dimension dimension, const Notation& notation);

/// The size of an error or a miss: never rounded to nothing, '0.04 cm', 'under 1/8 in'.
std::string write_amount(double value, Dimension dimension, const Notation& notation);

/// A note with its lengths written into it.
std::string write_note(const Note& note, const Notation& notation);

/// 'at least 4 cm', 'at most 6 cm', '4 to 6 cm', '5 cm', 'anything'; lo and hi may be infinite.
std::string write_wanted(double lo, double hi, Dimension dimension, const Notation& notation);

/// '40-180 cm'.
std::string write_range(double lo, double hi, Dimension dimension, const Notation& notation);

}  // namespace easewright
