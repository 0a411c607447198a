#pragma once
// A group summed up: on a terminal, as JSON, and as a page to read and print.

#include "cli/commands/group_run.h"
#include "cli/write/page.h"
#include "model/group/advice.h"
#include "model/group/summary.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// What the group's garments take, cut from one plan. Lengths in cm.
struct SewingSums {
  size_t garments = 0;
  std::vector<std::string> buy;  ///< 'choir bolt, 145 cm wide, single: buy 18.4 m'
  double elastic = 0;            ///< cut lengths in all
  size_t belts = 0;
  double belt = 0;                 ///< finished lengths in all
  std::vector<std::string> files;  ///< plan and cut list, where a folder was asked for
};

struct GroupSummary {
  const GroupRun* run = nullptr;
  std::string bodies_file;
  Summary summary;
  std::optional<Advice> advice;  ///< nothing where it was not asked for
  std::optional<SewingSums> sewing;
};

/// 'neckline depth at most 9.2 cm and side dart sewn': a change as a reader makes it.
std::string change_words(const MemberCure& change, const Terms& terms, LengthUnit unit);

/// 'fits 12 of 27 that miss something; 1 of 60 that fit no longer does': what a trial did.
std::string effect_words(const Trial& trial, const Advice& advice);

/// What to buy, elastic and belts, a line each.
std::vector<std::string> sewing_words(const SewingSums& sewing, LengthUnit unit);

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
