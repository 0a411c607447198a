#include "cli/write/report.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/write/quantity.h"
#include "cli/write/words.h"

namespace easewright {
namespace {

using solver::Level;

/// Misses that are told in full; any further ones get one line each, so that the rest of the report stays in sight.
constexpr size_t kToldInFull = 4;
/// Parts of a slack below this go unsaid.
constexpr double kSaidSlack_cm = 0.05;
/// How many estimates are named: those whose error is largest against what a tape would leave.
constexpr size_t kNamedEstimates = 5;

std::string counted(long count, std::string_view word) { return fmt::format("{} {}{}", count, word, count == 1 ? "" : word == "wish" ? "es" : "s"); }

long count_findings(const FitResult& result, Level strength, bool missed_only) {
  return std::count_if(result.findings.begin(), result.findings.end(), [=](const Finding& f) {
    return f.strength == strength && (f.missed || !missed_only);
  });
}

std::string missed_counts(const FitResult& result) {
  std::string text;
  for (const Level level : {Level::must, Level::should, Level::wish}) {
    const long missed = count_findings(result, level, true);
    if (missed > 0) text += (text.empty() ? "" : ", ") + counted(missed, to_string(level));
  }
  return text;
}

bool has_answer(const FitResult& result) { return result.outcome.status != solver::Status::not_finite; }

void write_verdict(Page& page, const FitResult& result) {
  const long rules = std::count_if(result.findings.begin(), result.findings.end(), [](const Finding& f) { return f.rule != nullptr; });
  const long wishes = static_cast<long>(result.findings.size()) - rules;
  const std::string all = fmt::format("of {} and {}", counted(rules, "rule"), counted(wishes, "wish"));
  if (!has_answer(result)) {
    page.paragraph("NO ANSWER", ": the garment can't be computed on this body; a rule or a habit divides by nothing.", Tone::bad);
  } else if (!result.all_hold(Level::must)) {
    page.paragraph("CAN'T BE WORN AS WISHED", fmt::format(": missed {} {}.", missed_counts(result), all), Tone::bad);
  } else if (!result.all_hold(Level::should)) {
    page.paragraph("DOES NOT FIT WELL", fmt::format(": missed {} {}.", missed_counts(result), all), Tone::bad);
  } else if (!result.all_hold(Level::wish)) {
    page.paragraph("FITS, not as wished", fmt::format(": missed {} {}.", missed_counts(result), all), Tone::good);
  } else {
    page.paragraph("FITS", fmt::format(": all {} and {} hold.", counted(rules, "rule"), counted(wishes, "wish")), Tone::good);
  }
}

std::string sentence_of(const Finding& f, LengthUnit unit) {
  const RatioStyle ratio = ratio_style(f);
  return fmt::format("{}: {}, wanted {}: {} too {}",
                     f.name,
                     write_quantity(f.value, f.dimension, unit, ratio),
                     write_wanted(f.lo, f.hi, f.dimension, unit, ratio),
                     write_amount(f.miss, f.dimension, unit, ratio),
                     f.miss < 0 ? "little" : "much");
}

std::string slack_sentence(const Finding& f, const FitResult& result, LengthUnit unit) {
  std::vector<SlackTerm> terms = slack_terms(f, result);
  std::erase_if(terms, [](const SlackTerm& t) { return std::abs(t.amount) < kSaidSlack_cm; });
  std::stable_sort(terms.begin(), terms.end(), [](const SlackTerm& a, const SlackTerm& b) { return a.amount > b.amount; });
  std::string text;
  for (const SlackTerm& term : terms) {
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", write_number(term.amount, kLength, unit), term.text);
  }
  return text;
}

void write_misses(Page& page, const FitResult& result, LengthUnit unit) {
  size_t told = 0;
  for (const Finding& f : result.findings) {
    if (!f.missed) continue;
    const std::string lead = fmt::format("  {:<8}", to_string(f.strength));
    if (++told > kToldInFull) {
      page.line(lead + sentence_of(f, unit));
      continue;
    }
    page.paragraph(lead, sentence_of(f, unit), f.strength <= Level::should ? Tone::bad : Tone::bold);
    if (f.rule != nullptr) page.paragraph("          ", "because " + f.rule->because);
    const std::string slack = slack_sentence(f, result, unit);
    if (!slack.empty()) page.paragraph("          ", fmt::format("in {}: {}", unit_word(kLength, unit), slack));
  }
  if (told > 0) page.gap();
}

void write_put_on(Page& page, const FitResult& result) {
  std::string text = result.switches[Switch::put_on];
  std::string failed;
  for (const Route& route : result.routes) {
    const std::string& way = info(Switch::put_on).options[static_cast<size_t>(route.option)];
    if (way != text) failed += (failed.empty() ? "" : ", ") + way;
  }
  if (!failed.empty()) text += fmt::format(" (tried and worse: {})", failed);
  page.paragraph("Put on    ", text, Tone::bold);
}

std::string first_word(std::string_view id) { return std::string(id.substr(0, id.find('.'))); }

/// One value: 'back depth 3', angles with their unit since the heading names that of lengths.
std::string value_text(ValueKey key, const FitResult& result, LengthUnit unit) {
  const ValueInfo& value = info(key);
  const std::string name = spoken(value.id.substr(value.id.find('.') + 1));
  const double amount = result.values[key];
  const bool length = value.dimension == kLength;
  return name + " " + (length ? write_number(amount, kLength, unit) : write_quantity(amount, value.dimension, unit));
}

void write_values(Page& page, const FitResult& result, LengthUnit unit) {
  page.line(unit == LengthUnit::inch ? "Draft values, in inches" : "Draft values, in cm", Tone::bold);
  for (int i = 0; i < kValueKeys;) {
    const std::string group = first_word(info(static_cast<ValueKey>(i)).id);
    std::string text;
    for (; i < kValueKeys && first_word(info(static_cast<ValueKey>(i)).id) == group; ++i) {
      const auto key = static_cast<ValueKey>(i);
      if (result.has_value[static_cast<size_t>(i)]) text += (text.empty() ? "" : ", ") + value_text(key, result, unit);
    }
    if (!text.empty()) page.paragraph(fmt::format("  {:<9} ", group), text);
  }
}

void write_estimates(Page& page, const FitResult& result, LengthUnit unit) {
  const CompleteBody& body = result.completed.body;
  std::vector<BodyKey> keys;
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (body.at(key).origin == Origin::estimated) keys.push_back(key);
  }
  if (keys.empty()) return;
  const size_t count = keys.size();
  const auto doubt = [&body](BodyKey key) { return body.at(key).sd / std::max(info(key).default_sd, 0.1); };
  std::stable_sort(keys.begin(), keys.end(), [&doubt](BodyKey a, BodyKey b) { return doubt(a) > doubt(b); });
  keys.resize(std::min(count, kNamedEstimates));
  std::string text = fmt::format("{} of {} measures; least sure: ", count, kBodyKeys);
  for (const BodyKey key : keys) {
    const Dimension d = info(key).dimension;
    text += fmt::format("{}{} {} +- {}",
                        key == keys.front() ? "" : ", ",
                        spoken(info(key).id),
                        write_number(body[key], d, unit),
                        write_amount(body.at(key).sd, d, unit));
  }
  page.paragraph("Estimated ", text, Tone::bold);
}

void write_undecided(Page& page, const FitResult& result) {
  if (result.undecided.empty()) return;
  std::string text;
  for (const ValueKey key : result.undecided) text += (text.empty() ? "" : ", ") + spoken(info(key).id);
  page.paragraph("By habit  ", text + ": nothing else decides them", Tone::bold);
}

void write_notes(Page& page, const FitResult& result) {
  for (const BodyNote& note : result.completed.notes) {
    if (note.kind == BodyNote::Kind::info) continue;
    const std::string about = note.key_path.empty() ? "" : note.key_path + ": ";
    page.paragraph("Body      ", about + note.text, Tone::bold);
  }
  for (const std::string& note : result.notes) page.paragraph("Note      ", note, Tone::bold);
}

/// An answer that the search could not prove is said to be one.
void write_proof(Page& page, const FitResult& result) {
  const solver::Outcome& o = result.outcome;
  if (o.status == solver::Status::stalled || o.status == solver::Status::out_of_steps) {
    page.paragraph("Search    ", fmt::format("{}: a better draft may exist", to_string(o.status)), Tone::bold);
  }
  if (o.starts_tried > 1) {
    page.paragraph("Search    ",
                   fmt::format("{} of {} starts ended at the same misses", o.starts_agreed, o.starts_tried),
                   Tone::bold);
  }
}

}  // namespace

bool fits(const FitResult& result) { return has_answer(result) && result.all_hold(Level::should); }

std::string write_report(const Judged& judged, Colour colour) {
  Page page(colour);
  const Job& job = *judged.job;
  const FitResult& result = judged.result;
  page.paragraph("", fmt::format("{} ({}, {}, {})", job.label, job.body.label, job.style.label, job.cloth.label));
  write_verdict(page, result);
  page.gap();
  if (has_answer(result)) {
    write_misses(page, result, job.unit);
    write_put_on(page, result);
    write_values(page, result, job.unit);
    write_undecided(page, result);
  }
  write_estimates(page, result, job.unit);
  write_notes(page, result);
  if (has_answer(result)) write_proof(page, result);
  return page.text();
}

std::string write_brief(const Judged& judged) {
  const FitResult& result = judged.result;
  std::string text = judged.job->label + ": ";
  if (!has_answer(result)) return text + "no answer\n";
  text += fits(result) ? "fits" : result.all_hold(Level::must) ? "does not fit well" : "can't be worn as wished";
  std::string misses;
  for (const Finding& f : result.findings) {
    if (!f.missed) continue;
    misses += fmt::format("{}{} by {}",
                          misses.empty() ? "; missed " : ", ",
                          f.name,
                          write_amount(f.miss, f.dimension, judged.job->unit, ratio_style(f)));
  }
  return text + misses + "\n";
}

}  // namespace easewright
