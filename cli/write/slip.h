#pragma once
// The sewing slip as text of 80 columns, one page: for the terminal, and for the slip.txt beside a
// pattern.

#include "cli/write/judged.h"
#include "cli/write/page.h"
#include "model/pattern/slip.h"

#include <string>
#include <vector>

namespace easewright {

/// A line's words and, between them, its lengths as they are written: without a unit, which the
/// slip's heading names.
struct SlipText {
  std::string text;
  bool length = false;
};
std::vector<SlipText> texts_of(const SlipLine& line, LengthUnit unit);

/// The same in one: 'bodice front 19.5 to back 19.5'.
std::string write_line(const SlipLine& line, LengthUnit unit);

/// The slip of a job, mates rounded to its unit. Needs an answer (has_answer).
Slip slip_of(const Judged& judged, const Allowances& allowances);

/// Its text: for the terminal, or without colour for a slip.txt.
std::string write_slip(const Judged& judged, const Slip& slip, Colour colour = Colour::off);

/// The same for programs: document, heading, steps with their lines and figures.
std::string write_slip_json(const Judged& judged, const Slip& slip);

/// Lines of a printed page: A4 or Letter at six lines an inch, margins taken off.
inline constexpr size_t kSlipLines = 66;

}  // namespace easewright
