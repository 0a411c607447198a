#pragma once
// A group summed up: on a terminal, as JSON, and as a page to read and print.

#include "cli/commands/group_run.h"
#include "cli/write/page.h"
#include "model/group/advice.h"
#include "model/group/summary.h"

#include <optional>
#include <string>
#include <string_view>

namespace easewright {

struct GroupSummary {
  const GroupRun* run = nullptr;
  std::string bodies_file;
  Summary summary;
  std::optional<Advice> advice;  ///< nothing where it was not asked for
};

/// 'neckline depth at most 9.2 cm and side dart sewn': a change as a reader makes it.
std::string change_words(const MemberCure& change, const Terms& terms, LengthUnit unit);

/// How a draft value or a measure is spread, by its id; null for anything else.
const Spread* spread_of_name(std::string_view id, const Summary& summary);

/// '983 (89 %)'.
std::string share_words(std::size_t part, std::size_t whole);

std::string write_group_summary(const GroupSummary& group, Colour colour);

/// The schema is written down in cli/write/README.md.
std::string write_group_json(const GroupSummary& group);

/// One file, all style and drawings in it, nothing fetched.
std::string write_group_html(const GroupSummary& group);

}  // namespace easewright
