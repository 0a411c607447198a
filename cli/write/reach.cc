#include "cli/write/reach.h"

#include "cli/write/json_parts.h"
#include "cli/write/quantity.h"
#include "cli/write/report.h"
#include "cli/write/why.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

/// A table's number: lengths bare, as the heading names their unit.
std::string cell(double value, Dimension dimension, LengthUnit unit) {
  return dimension == kLength ? write_number(value, dimension, {unit})
                              : write_quantity(value, dimension, {unit});
}

/// What stops it, in words: the one that matters most.
std::string stop_of(const ReachEnd& end, ValueKey value, const Judged& judged) {
  std::string text = end.proved ? "" : " (not proved)";
  if (end.stops.empty()) return "nothing that was found" + text;
  const Participant& stop = end.stops.front();
  if (stop.kind == Participant::Kind::limit && stop.value == value) return "its own limit" + text;
  return write_participant(stop, judged.result, judged.job->unit) + text;
}

Json end_of(const ReachEnd& end, Dimension dimension, const Judged& judged) {
  Json stops = Json::array();
  for (const Participant& stop : end.stops) stops.push_back(participant_of(stop, judged));
  return {{"value", outside(end.value, dimension)},
          {"proved", end.proved},
          {"stops", std::move(stops)}};
}

}  // namespace

std::string write_reach(const Judged& judged, const std::vector<ValueReach>& found, Colour colour) {
  Page page(colour);
  const Job& job = *judged.job;
  page.paragraph("", title_of(judged));
  page.paragraph("",
                 fmt::format("How far each value goes on this body while all that holds now still "
                             "holds, in {}; wishes "
                             "about the value itself take no part.",
                             job.unit == LengthUnit::inch ? "inches" : "cm"));
  page.gap();
  size_t widest = 5;
  for (const ValueReach& r : found) widest = std::max(widest, spoken(info(r.value).id).size());
  page.line(
      fmt::format(
          "{:<{}} {:>8} {:>8} {:>8}  stopped by", "value", widest, "least", "now", "greatest"),
      Tone::bold);
  for (const ValueReach& r : found) {
    const Dimension d = info(r.value).dimension;
    const auto number = [&](double value) { return cell(value, d, job.unit); };
    const std::string lead = fmt::format("{:<{}} {:>8} {:>8} {:>8}  ",
                                         spoken(info(r.value).id),
                                         widest,
                                         number(r.least.value),
                                         number(r.now),
                                         number(r.greatest.value));
    page.paragraph(lead, "least: " + stop_of(r.least, r.value, judged));
    page.paragraph(std::string(lead.size(), ' '),
                   "greatest: " + stop_of(r.greatest, r.value, judged));
  }
  return page.text();
}

std::string write_reach_json(const Judged& judged, const std::vector<ValueReach>& found) {
  Json values = Json::object();
  for (const ValueReach& r : found) {
    const Dimension d = info(r.value).dimension;
    values[spoken(info(r.value).id)] = {{"unit", unit_name(d)},
                                        {"now", outside(r.now, d)},
                                        {"least", end_of(r.least, d, judged)},
                                        {"greatest", end_of(r.greatest, d, judged)}};
  }
  return document_of("reach", {{"job", heading_of(judged)}, {"values", std::move(values)}});
}

}  // namespace easewright
