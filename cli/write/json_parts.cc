#include "cli/write/json_parts.h"

#include "cli/write/quantity.h"
#include "cli/write/why.h"
#include "cli/write/words.h"

#include <cmath>

namespace easewright {

Json number(double value) {
  if (!std::isfinite(value)) return nullptr;
  return std::round(value * 1e6) / 1e6;
}

std::string unit_name(Dimension d) {
  if (d == kRatio) return "ratio";
  const std::string word = unit_word(d, {});
  return word.empty() ? to_string(d) : word;
}

Json outside(double value, Dimension d) { return number(d == kAngle ? degrees(value) : value); }

Json quantity(double value, Dimension d) {
  return {{"value", outside(value, d)}, {"unit", unit_name(d)}};
}

Json participant_of(const Participant& participant, const Judged& judged) {
  const bool limit = participant.kind == Participant::Kind::limit;
  const auto& rules = judged.result.posed->rules;
  Json entry = {{"kind",
                 limit                                         ? "limit"
                 : participant.kind == Participant::Kind::wish ? "wish"
                                                               : "rule"}};
  if (limit) {
    entry["name"] = spoken(info(participant.value).id);
  } else {
    entry["name"] = participant.rule < 0 ? "" : rules[static_cast<size_t>(participant.rule)].name;
  }
  const Dimension d = limit ? info(participant.value).dimension
                      : participant.rule < 0
                          ? kRatio
                          : rules[static_cast<size_t>(participant.rule)].expression.dimension();
  entry["side"] = to_string(participant.side);
  entry["at"] = outside(participant.at, d);
  entry["unit"] = unit_name(d);
  entry["as got"] = participant.as_got;
  entry["text"] = write_participant(participant, judged.result, LengthUnit::cm);
  return entry;
}

Json heading_of(const Judged& judged) {
  return {{"file", judged.file},
          {"job", judged.job->label},
          {"style", judged.job->style.label},
          {"cloth", judged.job->cloth.label},
          {"fits", fits(judged.result)}};
}

std::string document_of(std::string_view command, Json rest) {
  Json document = {{"easewright", 1}, {"command", command}};
  document.update(rest);
  // Text that came through the readers is UTF-8; a path given on the command line need not be.
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace easewright
