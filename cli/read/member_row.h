#pragma once
// A row of `rows.csv` back into the member that it was written from (cli/write/member_row.h).

#include "cli/read/csv.h"
#include "model/group/member.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace easewright {

struct RowRead {
  std::uint32_t row = 0;
  std::optional<Member> member;  ///< nothing of a body that was refused
  std::string label, refused;    ///< of one that was: whose, and why
};

/// Nothing when the cells are no such row.
std::optional<RowRead> read_member(const std::vector<CsvCell>& cells, const Terms& terms);

/// One line, as write_member() and write_refused() make it.
std::optional<RowRead> read_member(std::string_view line, const Terms& terms);

/// Back from write_cure(): 'wish neckline depth 9 cm'.
std::optional<MemberCure> read_cure(std::string_view text, const Terms& terms);

}  // namespace easewright
