#include "cli/write/slip.h"

#include "cli/write/quantity.h"
#include "cli/write/report.h"
#include "cli/write/verdict.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

constexpr size_t kLead = 10;

/// Stands in for the blank of '7 3/4' while lines are broken.
constexpr char kJoint = '\x1f';

std::string lead_of(const SlipLine& line, const SlipStep& step, bool first) {
  if (first) return fmt::format("{:<{}}", step.title, kLead);
  switch (line.kind) {
    case SlipLine::Kind::check:
      return "    check ";
    case SlipLine::Kind::caution:
      return "    care  ";
    case SlipLine::Kind::work:
      break;
  }
  return std::string(kLead, ' ');
}

/// The line, with no length broken over two.
std::string kept_together(const SlipLine& line, LengthUnit unit) {
  std::string all;
  for (SlipText& t : texts_of(line, unit)) {
    if (t.length) std::replace(t.text.begin(), t.text.end(), ' ', kJoint);
    all += t.text;
  }
  return all;
}

}  // namespace

std::vector<SlipText> texts_of(const SlipLine& line, LengthUnit unit) {
  std::vector<SlipText> texts;
  size_t from = 0;
  for (const SlipFigure& f : line.figures) {
    const size_t at = line.text.find("{}", from);
    if (at == std::string::npos) break;
    if (at > from) texts.push_back({line.text.substr(from, at - from)});
    texts.push_back({write_number(f.cm, kLength, {unit}), true});
    from = at + 2;
  }
  if (from < line.text.size()) texts.push_back({line.text.substr(from)});
  return texts;
}

std::string write_line(const SlipLine& line, LengthUnit unit) {
  std::string all;
  for (const SlipText& t : texts_of(line, unit)) all += t.text;
  return all;
}

Slip slip_of(const Judged& judged, const Allowances& allowances) {
  PieceLabels labels;
  labels.unit = judged.job->unit;
  return slip_of(judged.result, pieces_of(judged.result, allowances, labels), labels.unit);
}

std::string write_slip(const Judged& judged, const Slip& slip, Colour colour) {
  Page page(colour);
  const LengthUnit unit = judged.job->unit;
  page.paragraph(
      "",
      fmt::format(
          "Sewing slip in {}: {}", unit == LengthUnit::inch ? "inches" : "cm", title_of(judged)));
  const Verdict verdict = verdict_of(judged.result);
  if (!verdict.good) page.paragraph("", verdict.head + verdict.rest + "; see 'easewright fit'");
  for (const SlipStep& step : slip.steps) {
    bool first = true;
    for (const SlipLine& line : step.lines) {
      const Tone tone = first ? Tone::bold : Tone::plain;
      page.paragraph(lead_of(line, step, first), kept_together(line, unit), tone);
      first = false;
    }
  }
  std::string text = page.text();
  std::replace(text.begin(), text.end(), kJoint, ' ');
  return text;
}

}  // namespace easewright
