#include "cli/write/report.h"

#include "cli/write/finding.h"
#include "cli/write/quantity.h"
#include "cli/write/sureness.h"
#include "cli/write/verdict.h"
#include "cli/write/why.h"
#include "cli/write/words.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Level;

/// Misses that are told in full; any further ones get one line each, so that the rest of the report
/// stays in sight.
constexpr size_t kToldInFull = 4;
/// How many estimates are named: those whose error is largest against what a tape would leave.
constexpr size_t kNamedEstimates = 3;

void write_verdict(Page& page, const FitResult& result) {
  const Verdict verdict = verdict_of(result);
  page.paragraph(verdict.head, verdict.rest, verdict.good ? Tone::good : Tone::bad);
}

/// The `nth` miss, from 1.
bool is_told_in_full(const Finding& f, size_t nth) {
  return nth <= kToldInFull && f.strength < Level::habit;
}

/// Musts and shoulds with their reason, the rest on a line each: a wish needs none to whom it
/// belongs.
void write_misses(Page& page, const Judged& judged) {
  const FitResult& result = judged.result;
  const LengthUnit unit = judged.job->unit;
  size_t told = 0;
  for (const Finding& f : result.findings) {
    if (!f.missed) continue;
    if (told == 0) page.gap();
    const std::string lead = fmt::format("{:<9} ", to_string(f.strength));
    const bool serious = f.strength <= Level::should;
    std::string text = miss_sentence(f, unit);
    if (serious && f.rule != nullptr) text += ": " + f.rule->because;
    if (is_told_in_full(f, ++told)) {
      page.paragraph(
          lead, text + slack_sentence(f, result, unit), serious ? Tone::bad : Tone::bold);
    } else {
      page.line(lead + f.name + ": " + miss_of(f, unit));
    }
    if (const Explanation* why = explanation_of(judged, f)) write_why(page, *why, judged);
  }
  if (told > 0) page.gap();
}

/// Where the slacks come from that no miss has told; once where two rules hold one slack.
void write_slacks(Page& page, const Judged& judged) {
  const FitResult& result = judged.result;
  const LengthUnit unit = judged.job->unit;
  size_t misses = 0;
  std::set<std::string> said;
  std::string lead = "Slack     ";
  for (const Finding& f : result.findings) {
    if (f.missed && is_told_in_full(f, ++misses)) continue;
    const std::string parts = slack_sentence(f, result, unit);
    if (parts.empty() || !said.insert(parts).second) continue;
    const Notation notation = notation_of(f.rule, f.dimension, unit);
    page.paragraph(
        lead, f.name + ": " + write_quantity(f.value, f.dimension, notation) + parts, Tone::bold);
    lead = "          ";
  }
}

void write_put_on(Page& page, const FitResult& result) {
  std::string text = result.switches[Switch::put_on];
  std::string failed;
  for (const Route& route : result.routes) {
    const std::string& way = info(Switch::put_on).options[static_cast<size_t>(route.option)];
    if (way != text) failed += (failed.empty() ? "" : ", ") + way;
  }
  if (!failed.empty()) text += fmt::format(" (tried, no better: {})", failed);
  page.paragraph("Put on    ", text, Tone::bold);
}

std::string first_word(std::string_view id) { return std::string(id.substr(0, id.find('.'))); }

bool is_by_habit(ValueKey key, const FitResult& result) {
  return std::find(result.undecided.begin(), result.undecided.end(), key) != result.undecided.end();
}

/// One value: 'back depth 3*', angles with their unit since the heading names that of lengths.
std::string value_text(ValueKey key, const FitResult& result, LengthUnit unit) {
  const ValueInfo& value = info(key);
  const std::string name = spoken(value.id.substr(value.id.find('.') + 1));
  const double amount = result.values[key];
  const bool length = value.dimension == kLength;
  return name + " " +
         (length ? write_number(amount, kLength, {unit})
                 : write_quantity(amount, value.dimension, {unit})) +
         (is_by_habit(key, result) ? "*" : "");
}

/// The values of one part of the garment.
struct Group {
  std::string part;  ///< 'neckline'
  std::string text;  ///< 'depth 10, back depth 4*'
  int count = 0;
};

std::vector<Group> groups_of(const FitResult& result, LengthUnit unit) {
  std::vector<Group> groups;
  for (int i = 0; i < kValueKeys; ++i) {
    const auto key = static_cast<ValueKey>(i);
    if (!result.has_value[static_cast<size_t>(i)]) continue;
    const std::string part = first_word(info(key).id);
    if (groups.empty() || groups.back().part != part) groups.push_back({part, "", 0});
    Group& group = groups.back();
    group.text += (group.count++ > 0 ? ", " : "") + value_text(key, result, unit);
  }
  return groups;
}

void write_values(Page& page, const FitResult& result, LengthUnit unit) {
  const std::string habit =
      result.undecided.empty() ? "" : "; * by habit: no rule and no wish decides it";
  page.paragraph("Draft     ",
                 fmt::format("in {}{}", unit == LengthUnit::inch ? "inches" : "cm", habit),
                 Tone::bold);
  const std::vector<Group> groups = groups_of(result, unit);
  for (size_t i = 0; i < groups.size(); ++i) {
    std::string text = groups[i].text;
    // A part with one value shares its line: 'elastic   length 70.4; casing width 2.4,
    // allowance 2.9'.
    const std::string lead = fmt::format("{:<9} ", groups[i].part);
    if (groups[i].count == 1 && i + 1 < groups.size()) {
      ++i;
      text += "; " + groups[i].part + " " + groups[i].text;
    }
    page.paragraph(lead, text);
  }
}

/// ', 10 of them from a garment that fits: bust girth 94 +- 3 cm, ...', the first as listed; or
/// empty.
std::string worn_sentence(const CompleteBody& body, LengthUnit unit) {
  size_t count = 0;
  std::string named;
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (body.at(key).origin != Origin::garment || ++count > kNamedEstimates) continue;
    const Dimension d = info(key).dimension;
    named += fmt::format("{}{} {} +- {}",
                         count > 1 ? ", " : "",
                         spoken(info(key).id),
                         write_number(body[key], d, {unit}),
                         write_amount(body.at(key).sd, d, {unit}));
  }
  return count == 0 ? "" : fmt::format(", {} of them from a garment that fits: {}", count, named);
}

void write_estimates(Page& page, const FitResult& result, LengthUnit unit) {
  const CompleteBody& body = result.completed.body;
  std::vector<BodyKey> keys;
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (!is_taped(body.at(key).origin)) keys.push_back(key);
  }
  if (keys.empty()) return;
  const size_t count = keys.size();
  const auto doubt = [&body](BodyKey key) {
    return body.at(key).sd / std::max(info(key).default_sd, 0.1);
  };
  std::stable_sort(
      keys.begin(), keys.end(), [&doubt](BodyKey a, BodyKey b) { return doubt(a) > doubt(b); });
  keys.resize(std::min(count, kNamedEstimates));
  std::string text =
      fmt::format("{} of {} measures{}; least sure: ", count, kBodyKeys, worn_sentence(body, unit));
  for (const BodyKey key : keys) {
    const Dimension d = info(key).dimension;
    text += fmt::format("{}{} {} +- {}",
                        key == keys.front() ? "" : ", ",
                        spoken(info(key).id),
                        write_number(body[key], d, {unit}),
                        write_amount(body.at(key).sd, d, {unit}));
  }
  page.paragraph("Estimated ", text, Tone::bold);
}

/// Whether the draft still holds once it is read off a tape: a cutter cuts what is printed here.
void write_rounding(Page& page, const FitResult& result, LengthUnit unit) {
  const std::string lost = lost_by_reading(result, unit);
  if (lost.empty()) return;
  page.paragraph("Rounded   ",
                 std::string("as printed, to ") +
                     (unit == LengthUnit::inch ? "eighths" : "millimetres") + ", it misses " + lost,
                 Tone::bold);
}

void write_body_notes(Page& page, const FitResult& result) {
  for (const BodyNote& note : result.completed.notes) {
    if (note.kind == BodyNote::Kind::info) continue;
    const std::string about = note.key_path.substr(note.key_path.find('.') + 1);
    const bool named = about.empty() || note.text.find(about) != std::string::npos;
    page.paragraph("Body      ", (named ? "" : about + ": ") + note.text, Tone::bold);
  }
}

void write_notes(Page& page, const FitResult& result, LengthUnit unit) {
  for (const Note& note : result.notes) {
    page.paragraph("Note      ", write_note(note, {unit}), Tone::bold);
  }
  write_rounding(page, result, unit);
}

/// An answer that the search could not prove is said to be one.
void write_proof(Page& page, const FitResult& result) {
  const solver::Outcome& o = result.outcome;
  if (o.status == solver::Status::stalled || o.status == solver::Status::out_of_steps) {
    page.paragraph(
        "Search    ", fmt::format("{}: a better draft may exist", to_string(o.status)), Tone::bold);
  }
  if (o.starts_tried > 1) {
    page.paragraph("Search    ",
                   fmt::format("from {} starts; {} ended at these misses, none did better",
                               o.starts_tried,
                               o.starts_agreed),
                   Tone::bold);
  }
}

}  // namespace

std::string title_of(const Judged& judged) {
  const Job& job = *judged.job;
  const bool named = job.label.find(job.body.label) != std::string::npos;
  return fmt::format("{} ({}{}, {})",
                     job.label,
                     named ? "" : job.body.label + ", ",
                     job.style.label,
                     job.cloth.label);
}

std::string write_report(const Judged& judged, Colour colour) {
  Page page(colour);
  const Job& job = *judged.job;
  const FitResult& result = judged.result;
  page.paragraph("", title_of(judged));
  write_verdict(page, result);
  if (has_answer(result)) {
    write_misses(page, judged);
    write_put_on(page, result);
    write_values(page, result, job.unit);
    if (judged.tell_slacks) write_slacks(page, judged);
    write_sureness(page, judged);
    write_effects(page, judged);
  }
  write_estimates(page, result, job.unit);
  write_body_notes(page, result);
  if (has_answer(result)) {
    write_notes(page, result, job.unit);
    write_proof(page, result);
  }
  return page.text();
}

std::string write_brief(const Judged& judged) {
  const FitResult& result = judged.result;
  std::string text = judged.job->label + ": ";
  if (!has_answer(result)) return text + "no answer\n";
  text += fits(result)                   ? "fits"
          : result.all_hold(Level::must) ? "does not fit well"
                                         : "can't be worn or sewn";
  std::string misses;
  for (const Finding& f : result.findings) {
    if (!f.missed) continue;
    misses += fmt::format("{}{} by {}",
                          misses.empty() ? "; missed " : ", ",
                          f.name,
                          write_amount(f.miss, f.dimension, notation_of_miss(f, judged.job->unit)));
  }
  return text + misses + "\n";
}

}  // namespace easewright
