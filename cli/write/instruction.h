#pragma once
// A move's words with its amount written into them.

#include "cli/write/quantity.h"

#include <string>
#include <string_view>

namespace easewright {

/// '{amount} at the neck end to {nothing} at the armhole' -> '1 cm at the neck end to nothing at
/// the armhole'. {half}, {twice} and {four times} stand for as much of the amount; a length in
/// braces, {2.5 cm}, is written in the reader's unit.
std::string write_instruction(std::string_view words,
                              double amount,
                              Dimension dimension,
                              const Notation& notation);

/// '45 min', '1 h 50 min', to five minutes from half an hour on: nobody sews to the minute.
std::string write_minutes(double minutes);

}  // namespace easewright
