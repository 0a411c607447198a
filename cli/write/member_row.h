#pragma once
// A member of a group as one row of `rows.csv`: everything that the group's summary is made of, so
// that a run that was stopped goes on from its rows. Lengths in cm, angles in degrees whatever
// reports are written in. cli/read/member_row.h reads it back.
//
//   row  body  build  verdict  refused because  put on  proved
//   missed musts  missed shoulds  missed wishes  misses  cures
//   misses to expect  least sure  holds with  toss-ups  estimated
//   a column a draft value, a measure, a body measure, as 'neckline depth (cm)', 'body hip girth
//   (cm)'
//
// misses   'neckline depth -1.2 cm; strap width -0.4 cm', musts first
// cures    'neckline depth: wish neckline depth 9 cm or switch side dart sewn; strap width: none
//          known'; empty where none was looked for

#include "model/group/member.h"

#include <string>
#include <string_view>

namespace easewright {

/// The first row, with its line end.
std::string member_header();

/// One row, with its line end.
std::string write_member(const Member& member, const Terms& terms);

/// The row of a body that was refused.
std::string write_refused(std::uint32_t row, std::string_view label, std::string_view why);

/// 'wish neckline depth 9 cm', 'limit armhole drop at most 7 cm', 'switch side dart sewn'; steps
/// joined by 'and'.
std::string write_cure(const MemberCure& cure, const Terms& terms);

/// How many decimals a column of this dimension has: a hundredth of a millimetre, a thousandth of a
/// degree.
int decimals_of(Dimension dimension);

}  // namespace easewright
