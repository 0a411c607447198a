#include "cli/write/words.h"

#include <algorithm>

namespace easewright {
namespace {

/// A slack measure and what adds up to it.
struct SlackParts {
  MeasureKey whole;
  std::vector<MeasureKey> parts;
  ValueKey taken;
};

const std::vector<SlackParts>& slacks() {
  using M = MeasureKey;
  static const std::vector<SlackParts> all = {
      {M::neckline_slack,
       {M::neckline_slack_shaping,
        M::neckline_slack_width,
        M::neckline_slack_length,
        M::neckline_slack_bias,
        M::neckline_slack_contour},
       ValueKey::neckline_taken},
      {M::armhole_slack,
       {M::armhole_slack_shaping,
        M::armhole_slack_width,
        M::armhole_slack_length,
        M::armhole_slack_bias,
        M::armhole_slack_contour},
       ValueKey::armhole_taken},
  };
  return all;
}

bool is_about(const Finding& finding, MeasureKey key) {
  if (finding.rule == nullptr) return finding.wish_id == info(key).id;
  const auto names = finding.rule->range.expression.names();
  return std::any_of(names.begin(), names.end(), [key](const Name& name) {
    return name.kind == NameKind::measure && name.index == static_cast<int>(key);
  });
}

}  // namespace

std::string_view to_string(solver::Level level) {
  switch (level) {
    case solver::Level::must:
      return "must";
    case solver::Level::should:
      return "should";
    case solver::Level::wish:
      return "wish";
    case solver::Level::habit:
      return "habit";
  }
  return "";
}

std::string_view to_string(solver::Status status) {
  switch (status) {
    case solver::Status::settled:
      return "settled";
    case solver::Status::stalled:
      return "stalled";
    case solver::Status::out_of_steps:
      return "out of steps";
    case solver::Status::not_finite:
      return "not finite";
  }
  return "";
}

std::string_view to_string(solver::Side side) {
  return side == solver::Side::lower ? "least" : "most";
}

std::string_view to_string(Build build) {
  return build == Build::woman ? "woman" : build == Build::man ? "man" : "child";
}

std::string_view to_string(Origin origin) {
  return origin == Origin::measured    ? "measured"
         : origin == Origin::converted ? "converted"
         : origin == Origin::garment   ? "from a garment"
                                       : "estimated";
}

RatioStyle ratio_style(const Rule& rule) {
  return rule.range.text.find('%') != std::string::npos ? RatioStyle::percent : RatioStyle::number;
}

RatioStyle ratio_style(const Finding& finding) {
  return finding.rule != nullptr ? ratio_style(*finding.rule) : RatioStyle::number;
}

Notation notation_of(const Rule* rule, Dimension dimension, LengthUnit unit) {
  Notation notation{unit};
  if (rule == nullptr) return notation;
  notation.ratio = ratio_style(*rule);
  if (unit == LengthUnit::inch && dimension == kLength) notation.precision = Precision::fine;
  return notation;
}

std::vector<SlackTerm> slack_terms(const Finding& finding, const FitResult& result) {
  std::vector<SlackTerm> terms;
  for (const SlackParts& slack : slacks()) {
    if (!is_about(finding, slack.whole)) continue;
    for (const MeasureKey part : slack.parts) {
      std::string text(info(part).definition);
      if (text.starts_with("of it ")) text.erase(0, 6);
      terms.push_back({std::move(text), result.measures[part]});
    }
    terms.push_back({"drawn up", -result.values[slack.taken]});
  }
  return terms;
}

}  // namespace easewright
