#pragma once
// The words that report and JSON share.

#include "cli/write/quantity.h"
#include "model/fit.h"
#include "solver/member.h"

#include <string>
#include <string_view>
#include <vector>

namespace easewright {

std::string_view to_string(solver::Level level);  ///< 'must', 'should', 'wish', 'habit'
std::string_view to_string(
    solver::Status status);  ///< 'settled', 'stalled', 'out of steps', 'not finite'
std::string_view to_string(solver::Side side);  ///< 'least', 'most'
std::string_view to_string(Build build);
std::string_view to_string(Origin origin);

/// Per cent where the rule's own text says so.
RatioStyle ratio_style(const Rule& rule);
RatioStyle ratio_style(const Finding& finding);

/// How the figures of a rule are written, its value and its limits alike; `rule` is null for a wish
/// or a habit. In inches a rule computes and asks in decimals, since the eighths of a tape hide its
/// margins, while what is drafted, wished or taped is told in eighths.
Notation notation_of(const Rule* rule, Dimension dimension, LengthUnit unit);

/// One named part of a slack, in the order of its definition; zero parts included. They add up to
/// the slack.
struct SlackTerm {
  std::string text;   ///< 'from bust shaping left in the edge'
  double amount = 0;  ///< cm; what is drawn up counts negative
};

/// The parts of the slack that the finding is about; empty when it is about something else.
std::vector<SlackTerm> slack_terms(const Finding& finding, const FitResult& result);

}  // namespace easewright
