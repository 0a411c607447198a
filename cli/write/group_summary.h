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

/// 'fits 12 of 27 that miss something; 1 of 60 that fit no longer does': what a trial did.
std::string effect_words(const Trial& trial, const Advice& advice);

/// On whom a change was tried.
std::string tried_words(const Advice& advice);

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
