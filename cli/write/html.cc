#include "cli/write/html.h"

#include "cli/write/finding.h"
#include "cli/write/html_band.h"
#include "cli/write/html_page.h"
#include "cli/write/markup.h"
#include "cli/write/quantity.h"
#include "cli/write/report.h"
#include "cli/write/slip.h"
#include "cli/write/verdict.h"
#include "cli/write/why.h"
#include "cli/write/words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Level;
using M = MeasureKey;

/// What a finished garment is known by, in the order in which it is put on.
constexpr M kTold[] = {
    M::neckline_edge,     M::armhole_girth,         M::bodice_underarm, M::bodice_bust,
    M::bodice_bust_ease,  M::bodice_underbust_ease, M::bodice_side,     M::bodice_waist,
    M::bodice_waist_ease, M::gather_ratio,          M::elastic_front,   M::elastic_back,
    M::dressing_need,     M::dressing_elastic,      M::skirt_hip,       M::skirt_hip_ease,
    M::skirt_hem,         M::skirt_clearance,       M::slit_opening,    M::slit_opening_above_knee};

/// A block of one of the page's columns: a heading and rows of a name and an amount.
class Block {
 public:
  Block(Markup& page, std::string_view heading, const char* tag = "div") : page_(page) {
    page_.open(tag).element("h3", heading).open("table").open("tbody");
  }
  ~Block() { page_.close().close().close(); }
  Block(const Block&) = delete;
  Block& operator=(const Block&) = delete;

  void row(std::string_view name, std::string_view amount) {
    page_.open("tr").element("td", name).element("td class=\"amount\"", amount).close();
  }

 private:
  Markup& page_;
};

void heading(Markup& page, const Judged& judged) {
  const Job& job = *judged.job;
  page.element("h1", job.label);
  page.element("p class=\"under\"",
               fmt::format("for {} / {} / {} / lengths in {}",
                           job.body.label,
                           job.style.label,
                           job.cloth.label,
                           job.unit == LengthUnit::inch ? "inches" : "cm"));
  const Verdict verdict = verdict_of(judged.result);
  page.open(verdict.good ? "div class=\"verdict\"" : "div class=\"verdict missed\"");
  page.element("strong", verdict.head.substr(0, verdict.head.find(": "))).text(verdict.rest);
  page.close();
}

void labelled(Markup& page, const char* lead, std::string_view words) {
  page.open("p").element("span class=\"lead\"", lead).text(" ").text(words).close();
}

/// ' (--wish "neckline depth 19.8 cm")' as it is typed.
std::string typed(const std::vector<std::string>& options) {
  std::string text;
  for (size_t i = 0; i < options.size(); ++i)
    text += (i > 0 ? " " : "") + (i % 2 == 0 ? options[i] : "'" + options[i] + "'");
  return text;
}

void explain(Markup& page, const Judged& judged, const Explanation& why) {
  const LengthUnit unit = judged.job->unit;
  std::string clash;
  for (const Participant& p : told_order(why))
    clash += (clash.empty() ? "" : "; ") + write_participant(p, judged.result, unit);
  if (!clash.empty()) labelled(page, "Can't all hold:", clash);
  if (clash.empty() && judged.sure) return;
  if (why.cures.empty())
    labelled(page,
             "Remedy:",
             "no change of a wish, a limit or a switch settles it without a worse miss elsewhere");
  for (const Cure& cure : why.cures) {
    page.open("p").element("span class=\"lead\"", "Remedy:").text(" ");
    page.text(write_cure(cure, judged.result, unit)).text("; ");
    page.element("code", typed(cure_options(cure, *judged.job, judged.result))).close();
  }
}

void misses(Markup& page, const Judged& judged) {
  const FitResult& result = judged.result;
  const LengthUnit unit = judged.job->unit;
  if (std::none_of(result.findings.begin(), result.findings.end(), [](const Finding& f) {
        return f.missed;
      }))
    return;
  page.element("h2", "What is missed").open("ol class=\"misses\"");
  for (const Finding& f : result.findings) {
    if (!f.missed) continue;
    const std::string strength(to_string(f.strength));
    page.open("li").element("span class=\"tag " + strength + "\"", strength);
    page.element("p", miss_sentence(f, unit) + slack_sentence(f, result, unit));
    if (f.rule != nullptr) labelled(page, "Because", f.rule->because);
    if (const Explanation* why = explanation_of(judged, f)) explain(page, judged, *why);
    page.close();
  }
  page.close();
}

bool is_by_habit(ValueKey key, const FitResult& result) {
  return std::find(result.undecided.begin(), result.undecided.end(), key) != result.undecided.end();
}

void values(Markup& page, const Judged& judged) {
  const FitResult& result = judged.result;
  page.element("h2", "The draft");
  page.open("p").text("Put on: " + result.switches[Switch::put_on] + ".");
  if (!result.undecided.empty()) page.text(" * by habit: no rule and no wish decides it.");
  page.close().open("div class=\"columns\"");
  for (int i = 0; i < kValueKeys;) {
    const auto part_of = [](int at) {
      const std::string_view id = info(static_cast<ValueKey>(at)).id;
      return id.substr(0, id.find('.'));
    };
    const std::string_view part = part_of(i);
    std::vector<ValueKey> keys;
    for (; i < kValueKeys && part_of(i) == part; ++i)
      if (result.has_value[static_cast<size_t>(i)]) keys.push_back(static_cast<ValueKey>(i));
    if (keys.empty()) continue;
    Block block(page, part);
    for (const ValueKey key : keys) {
      const ValueInfo& value = info(key);
      block.row(spoken(value.id.substr(part.size() + 1)) + (is_by_habit(key, result) ? " *" : ""),
                write_quantity(result.values[key], value.dimension, {judged.job->unit}));
    }
  }
  {
    Block block(page, "the finished garment");
    for (const M key : kTold) {
      const auto at = static_cast<size_t>(key);
      if (!result.has_measure[at]) continue;
      const Dimension d = info(key).dimension;
      std::string amount = write_quantity(result.measures[key], d, {judged.job->unit});
      const std::string sd =
          judged.doubts ? write_number(judged.doubts->measure_sd[at], d, {judged.job->unit}) : "0";
      if (sd != "0") amount += " ± " + sd;
      block.row(spoken(info(key).id), amount);
    }
  }
  page.close();
}

/// Missed, at its limit, a toss-up, or wished: what a change would be felt by first.
bool is_told(const Judged& judged, const Finding& f) {
  if (f.missed || f.tight || f.rule == nullptr) return true;
  const RuleSureness* sureness = sureness_of(judged, f);
  return sureness != nullptr && sureness->sureness != Sureness::sure && f.strength <= Level::should;
}

void close_rules(Markup& page, const Judged& judged) {
  const LengthUnit unit = judged.job->unit;
  std::vector<const Finding*> told;
  for (const Finding& f : judged.result.findings)
    if (f.strength < Level::habit && is_told(judged, f)) told.push_back(&f);
  if (told.empty()) return;
  page.element("h2", "What is close, and what was wished");
  page.open("div class=\"wide\"").open("table").open("thead").open("tr");
  for (const char* column : {"", "is", "wanted", "", "strength", "standing"})
    page.element("th", column);
  if (judged.doubts) page.element("th", "sure");
  page.close().close().open("tbody");
  for (const Finding* f : told) {
    const Notation notation = notation_of_miss(*f, unit);
    page.open("tr").element("td", f->name);
    page.element("td class=\"amount\"", write_quantity(f->value, f->dimension, notation));
    page.element("td", write_wanted(f->lo, f->hi, f->dimension, notation));
    page.open("td class=\"band\"").raw(band_of(*f)).close();
    page.element("td", to_string(f->strength));
    page.element("td", f->missed ? miss_of(*f, unit) : f->tight ? "at its limit" : "holds");
    if (judged.doubts) {
      const RuleSureness* s = sureness_of(judged, *f);
      page.element("td class=\"amount\"",
                   s == nullptr ? "" : fmt::format("{:.0f} %", 100 * s->probability));
    }
    page.close();
  }
  page.close().close().close();
  page.element("p class=\"small\"",
               "In the small pictures the bar is what is wanted, the stroke is what it is.");
}

void body(Markup& page, const Judged& judged) {
  const CompleteBody& body = judged.result.completed.body;
  page.element("h2", "The body").open("div class=\"columns\"");
  const auto block = [&](const char* title, bool taped) {
    std::vector<BodyKey> keys;
    for (int i = 0; i < kBodyKeys; ++i)
      if (is_taped(body.at(static_cast<BodyKey>(i)).origin) == taped)
        keys.push_back(static_cast<BodyKey>(i));
    if (keys.empty()) return;
    Block rows(page, title, "div class=\"long\"");
    for (const BodyKey key : keys) {
      const Dimension d = info(key).dimension;
      std::string amount = write_quantity(body[key], d, {judged.job->unit});
      if (!taped) amount += " ± " + write_number(body.at(key).sd, d, {judged.job->unit});
      rows.row(spoken(info(key).id), amount);
    }
  };
  block("taped", true);
  block("estimated", false);
  page.close();
}

/// What the slip below says is not said twice.
void notes(Markup& page, const Judged& judged, bool with_slip) {
  const FitResult& result = judged.result;
  std::vector<std::string> all;
  for (const BodyNote& note : result.completed.notes)
    if (note.kind != BodyNote::Kind::info) all.push_back(note.key_path + ": " + note.text);
  if (has_answer(result)) {
    for (const Note& note : result.notes)
      if (!(with_slip && note.on_slip)) all.push_back(write_note(note, {judged.job->unit}));
    if (const std::string lost = lost_by_reading(result, judged.job->unit); !lost.empty())
      all.push_back("As printed, rounded to a tape's marks, it misses " + lost + ".");
  }
  if (all.empty()) return;
  page.element("h2", "Notes").open("ul");
  for (const std::string& note : all) page.element("li", note);
  page.close();
}

void drawings(Markup& page, const char* title, const std::vector<Drawing>& all) {
  if (all.empty()) return;
  page.open("section class=\"whole\"").element("h2", title).open("div class=\"drawings\"");
  for (const Drawing& d : all) {
    const bool to_scale = d.width_cm > 0;
    page.open(to_scale ? fmt::format("figure class=\"scaled\" style=\"--cm: {:.2f}\"", d.width_cm)
                       : std::string("figure"));
    page.raw(d.element);
    if (!d.name.empty()) page.element("figcaption", d.name);
    page.close();
  }
  page.close().close();
}

void slip(Markup& page, const Judged& judged, const Slip& slip) {
  page.open("section class=\"sheet\"")
      .element("h2",
               judged.job->unit == LengthUnit::inch ? "The sewing slip, in inches"
                                                    : "The sewing slip, in cm");
  page.open("div class=\"slip\"").open("table").open("tbody");
  for (const SlipStep& step : slip.steps) {
    page.open("tr").element("td class=\"step\"", step.title).open("td");
    for (const SlipLine& line : step.lines) {
      page.open(line.kind == SlipLine::Kind::check     ? "p class=\"check\""
                : line.kind == SlipLine::Kind::caution ? "p class=\"care\""
                                                       : "p");
      for (const SlipText& t : texts_of(line, judged.job->unit)) {
        if (t.length) {
          page.element("b", t.text);
        } else {
          page.text(t.text);
        }
      }
      page.close();
    }
    page.close().close();
  }
  page.close().close().close();
  page.element("p class=\"small\"",
               "In order of work. What has a box is to be measured on the way.");
  page.close();
}

void leaf(Markup& page, const Leaf& leaf) {
  const Judged& judged = *leaf.judged;
  page.open("article");
  heading(page, judged);
  if (has_answer(judged.result)) misses(page, judged);
  notes(page, judged, leaf.slip.has_value());
  if (has_answer(judged.result)) {
    drawings(page, "The garment", leaf.figure);
    values(page, judged);
    close_rules(page, judged);
  }
  body(page, judged);
  if (has_answer(judged.result)) {
    drawings(page, "The pieces, a tenth of their size", leaf.pieces);
    for (const std::string& caution : leaf.cautions) labelled(page, "Caution:", caution);
    if (leaf.slip) slip(page, judged, *leaf.slip);
  }
  page.close();
}

}  // namespace

std::string write_html(const std::vector<Leaf>& leaves) {
  Markup page;
  std::string title;
  for (const Leaf& l : leaves) title += (title.empty() ? "" : "; ") + l.judged->job->label;
  begin_html(page, title);
  for (const Leaf& l : leaves) leaf(page, l);
  end_html(
      page,
      "Computed by easewright. Body measures err by half a centimetre and cloth is soft: cut in "
      "something cheap first where it matters.");
  return page.all();
}

}  // namespace easewright
