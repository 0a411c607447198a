#pragma once
// How sure a draft is, and what one more centimetre of a wish does: two blocks of the report.

#include "cli/write/judged.h"
#include "cli/write/page.h"

namespace easewright {

/// How many rules are sure, likely, a toss-up; the toss-ups by name; what to tape. With
/// judged.tell_all every rule.
void write_sureness(Page& page, const Judged& judged);

/// The three measures that each wish moves most.
void write_effects(Page& page, const Judged& judged);

/// 1 cm or 1 in, 1 deg, 0.1 or 1 year: the step that effects are told for.
double effect_step(Dimension dimension, LengthUnit unit);

}  // namespace easewright
