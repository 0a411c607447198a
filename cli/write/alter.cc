#include "cli/write/alter.h"

#include "cli/write/alter_paper.h"
#include "cli/write/instruction.h"
#include "cli/write/words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Level;

constexpr size_t kNamedShifts = 3;
constexpr size_t kNamedMisses = 5;
constexpr size_t kNamedBlocked = 3;
/// Plans whose readings have room beside the faults.
constexpr size_t kPlansBeside = 3;
/// A reading further off than this, in its errors, is a slip of the tape.
constexpr double kSlip = 3;

constexpr const char* kBlank = "";

/// The terminal's.
class TextPaper : public AlterPaper {
 public:
  explicit TextPaper(Page& page) : page_(page) {}

  void title(const std::string& text) override { page_.paragraph("", text); }
  void verdict(const std::string& head, const std::string& rest, Tone tone) override {
    page_.paragraph(head, rest, tone);
  }
  void faults(const std::vector<std::vector<std::string>>& rows) override {
    for (size_t i = 0; i < rows.size(); ++i) {
      // A long name takes its room from the column beside it.
      const size_t over = std::max<size_t>(rows[i][0].size(), 36) - 36;
      std::string row =
          fmt::format("{:<36} {:>{}}", rows[i][0], rows[i][1], 12 - std::min<size_t>(over, 6));
      for (size_t k = 2; k < rows[i].size(); ++k) row += fmt::format(" {:>6}", rows[i][k]);
      page_.line(row, i == 0 ? Tone::bold : Tone::plain);
    }
  }
  void paragraph(const std::string& lead, const std::string& text, Tone tone) override {
    page_.paragraph(fmt::format("{:<10}", lead), text, tone);
  }
  void plan(const std::string& lead, const std::string& text, bool in_full) override {
    if (in_full) page_.gap();
    page_.paragraph(fmt::format("{:<10}", lead), text, Tone::bold);
  }
  void step(int number,
            const std::string& name,
            const std::string& open,
            const std::string& says,
            const std::string& mark,
            const std::string& check) override {
    page_.paragraph(fmt::format("{:>3}.      ", number), name, Tone::bold);
    if (!open.empty()) page_.paragraph(std::string(10, ' '), open);
    page_.paragraph(std::string(10, ' '), says);
    page_.paragraph("    mark  ", mark);
    page_.paragraph("    check ", check);
  }
  void gap() override { page_.gap(); }

 private:
  Page& page_;
};

class Writer {
 public:
  Writer(const Altered& altered, AlterPaper& page)
      : altered_(altered), result_(altered.result), page_(page), unit_(altered.job->unit) {}

  void write() {
    write_title();
    write_verdict();
    page_.gap();
    write_faults();
    write_belief();
    write_garment();
    write_misses();
    write_plans();
    write_left_alone();
    write_unmet();
    write_cautions();
    write_search();
  }

 private:
  std::string quantity(double value, Dimension d) const {
    return write_quantity(value, d, {unit_});
  }
  std::string amount(double value, Dimension d) const { return write_amount(value, d, {unit_}); }

  void write_title() {
    const Job& job = *altered_.job;
    const bool named = job.label.find(job.body.label) != std::string::npos;
    page_.title(fmt::format("{} ({}{}, {})",
                            job.label,
                            named ? "" : job.body.label + ", ",
                            job.style.label,
                            job.cloth.label));
  }

  void write_verdict() {
    const auto& plans = result_.plans;
    if (!result_.unclear.empty()) {
      page_.verdict("UNCLEAR: ", unclear_verdict(), Tone::bad);
    } else if (plans.empty() && result_.unmet.empty()) {
      page_.verdict("FITS: ", "nothing is missed by more than is felt; leave it", Tone::good);
    } else if (plans.empty()) {
      page_.verdict("CAN'T BE MADE TO FIT: ", "no move that can be done helps", Tone::bad);
    } else if (plans.front().meets_all) {
      page_.verdict("CAN BE MADE TO FIT: ",
                    fmt::format("in {} step{}, {}",
                                plans.front().steps.size(),
                                plans.front().steps.size() == 1 ? "" : "s",
                                write_minutes(plans.front().minutes)),
                    Tone::good);
    } else {
      const bool must = plans.front().left.front().strength == Level::must;
      page_.verdict(must ? "CAN'T BE MADE TO FIT: " : "CAN BE MADE BETTER: ",
                    "no plan meets " + counts_of(plans.front()),
                    Tone::bad);
    }
  }

  /// What was seen and not explained comes first: no plan is made for it.
  std::string unclear_verdict() const {
    const auto& plans = result_.plans;
    std::string text = "no plan answers ";
    for (size_t i = 0; i < result_.unclear.size(); ++i)
      text += fmt::format("{}'{}'", i == 0 ? "" : ", ", fault_name(result_.unclear[i]));
    if (plans.empty())
      return text + (result_.unmet.empty() ? "; nothing else calls for work"
                                           : "; nor does one meet the rest");
    return fmt::format("{}; the rest {} in {} step{}, {}",
                       text,
                       plans.front().meets_all ? "can be met" : "can be made better",
                       plans.front().steps.size(),
                       plans.front().steps.size() == 1 ? "" : "s",
                       write_minutes(plans.front().minutes));
  }

  /// '1 must and 2 shoulds'.
  static std::string counts_of(const AlterPlan& plan) {
    std::string text;
    for (const Level level : {Level::must, Level::should}) {
      const long count = std::count_if(plan.left.begin(),
                                       plan.left.end(),
                                       [level](const Finding& f) { return f.strength == level; });
      if (count > 0)
        text += fmt::format("{}{} {}{}",
                            text.empty() ? "" : " and ",
                            count,
                            to_string(level),
                            count == 1 ? "" : "s");
    }
    return text;
  }

  /// 'none' where the model reads that there is nothing left to pinch.
  std::string reading(double value, Dimension d) const {
    const std::string number = write_number(value, d, {unit_});
    return value <= 0 || number == "0" ? "none" : number;
  }

  /// A row a fault: as it was seen, as the model reads it, and after each plan.
  void write_faults() {
    const auto& faults = altered_.in_hand->faults;
    if (faults.empty()) return;
    const size_t plans = std::min(result_.plans.size(), kPlansBeside);
    std::vector<std::vector<std::string>> rows{{"Fault", "seen", "read"}};
    for (size_t k = 0; k < plans; ++k) rows.front().push_back(fmt::format("plan {}", k + 1));
    for (size_t i = 0; i < faults.size(); ++i) {
      const SeenFault& fault = faults[i];
      const Dimension d = fault.kind->reads.dimension();
      const auto& readings = result_.belief.readings;
      rows.push_back({fault.kind->name,
                      quantity(fault.amount, d),
                      i < readings.size() ? reading(readings[i].after, d) : ""});
      for (size_t k = 0; k < plans; ++k) {
        const auto& after = result_.plans[k].faults_after;
        rows.back().push_back(i < after.size() ? reading(after[i], d) : "");
      }
    }
    page_.faults(rows);
  }

  std::string fault_name(int i) const {
    return altered_.in_hand->faults[static_cast<size_t>(i)].kind->name;
  }

  void write_belief() {
    const Belief& belief = result_.belief;
    if (altered_.in_hand->faults.empty()) return;
    std::string text;
    for (size_t i = 0; i < std::min(belief.shifts.size(), kNamedShifts); ++i) {
      const BodyShift& s = belief.shifts[i];
      const Dimension d = info(s.key).dimension;
      text += fmt::format("{}{} {} +- {} rather than {} +- {}",
                          text.empty() ? "" : "; ",
                          spoken(info(s.key).id),
                          quantity(s.after, d),
                          write_number(s.sd_after, d, {unit_}),
                          write_number(s.before, d, {unit_}),
                          write_number(s.sd_before, d, {unit_}));
    }
    if (belief.shifts.size() > kNamedShifts)
      text += fmt::format("; {} more", belief.shifts.size() - kNamedShifts);
    if (text.empty()) text = "the body as it was taped, to within half its errors";
    page_.paragraph("Believed", text, Tone::bold);
    write_blame();
    for (const auto& [one, other] : belief.against) {
      page_.paragraph("Against",
                      fmt::format("'{}' and '{}' contradict each other: one is explained without "
                                  "the other alone; look again",
                                  fault_name(one),
                                  fault_name(other)),
                      Tone::bad);
    }
    for (const int i : belief.unexplained) {
      const auto at = static_cast<size_t>(i);
      const Dimension d = altered_.in_hand->faults[at].kind->reads.dimension();
      page_.paragraph(
          "Unclear",
          fmt::format(
              "'{}' is not explained: on the likeliest body it reads {} instead of {}; "
              "take it again, or take the garment's flat measurements: it may not be cut or "
              "sewn as described",
              fault_name(i),
              quantity(belief.readings[at].after, d),
              quantity(altered_.in_hand->faults[at].amount, d)),
          Tone::bad);
    }
  }

  /// What no likely body explains lies in how it was handled and sewn.
  void write_blame() {
    const Made& made = result_.in_hand.made;
    std::vector<std::string> parts;
    const auto stretched = [&](double length, const char* edge) {
      if (length > 0)
        parts.push_back(
            fmt::format("front {} stretched by {} each side", edge, amount(length, kLength)));
    };
    stretched(made.neck_stretched, "neck edge");
    stretched(made.armhole_stretched, "armhole edge");
    for (const OffDraft& off : off_its_draft(altered_))
      parts.push_back(fmt::format("{} {} {} than its draft",
                                  spoken(off.id),
                                  off.dimension == kRatio
                                      ? fmt::format("{:.1f} %", 100 * std::abs(off.by))
                                      : amount(std::abs(off.by), off.dimension),
                                  off.by > 0 ? "more" : "less"));
    if (parts.empty()) return;
    page_.paragraph("Laid to", fmt::format("the garment: {}", fmt::join(parts, "; ")), Tone::bold);
  }

  /// Where the garment's figures come from, and which reading can't be right beside the others.
  void write_garment() {
    const auto& flat = altered_.in_hand->flat;
    std::string text = "as a fit of " + result_.made_for.body.label + " gives";
    if (!flat.empty()) {
      text = fmt::format("{} flat measurement{} {}; the rest {}",
                         flat.size(),
                         flat.size() == 1 ? " settles" : "s settle",
                         read_values(),
                         text);
    }
    page_.paragraph("Garment", text, Tone::bold);
    const auto& residuals = result_.in_hand.residuals;
    for (size_t i = 0; i < std::min(flat.size(), residuals.size()); ++i) {
      if (std::abs(residuals[i]) <= kSlip) continue;
      page_.paragraph("Flat",
                      fmt::format("{} {} can't be right beside the others: {:.1f} of its errors "
                                  "off; take it again",
                                  info(flat[i].key).name,
                                  quantity(flat[i].value, kLength),
                                  std::abs(residuals[i])),
                      Tone::bad);
    }
  }

  std::string read_values() const {
    const auto& read = result_.in_hand.read;
    std::string text;
    for (size_t i = 0; i < std::min<size_t>(read.size(), 3); ++i)
      text += (i > 0 ? ", " : "") + spoken(info(read[i]).id);
    if (read.size() > 3) text += fmt::format(" and {} more", read.size() - 3);
    return text.empty() ? "nothing" : text;
  }

  /// Finer where value and limit would read alike.
  Notation notation_of(const Finding& f) const {
    Notation notation{unit_, ratio_style(f), Precision::usual};
    const double limit = f.miss < 0 ? f.lo : f.hi;
    if (write_number(f.value, f.dimension, notation) == write_number(limit, f.dimension, notation))
      notation.precision = Precision::fine;
    return notation;
  }

  /// 'armhole clears the arm by 1 cm (0.9, wanted at least 2 cm)'.
  std::string miss_of(const Finding& f) const {
    const Notation notation = notation_of(f);
    return fmt::format("{}: {}, wanted {}",
                       f.name,
                       write_quantity(f.value, f.dimension, notation),
                       write_wanted(f.lo, f.hi, f.dimension, notation));
  }

  std::string misses_of(const std::vector<Finding>& findings, size_t most) const {
    std::string text;
    for (size_t i = 0; i < std::min(findings.size(), most); ++i)
      text += (i > 0 ? "; " : "") + miss_of(findings[i]);
    if (findings.size() > most) text += fmt::format("; {} more", findings.size() - most);
    return text;
  }

  /// What the garment misses as it is, of what is felt.
  void write_misses() {
    std::vector<Finding> felt;
    for (const Finding& f : result_.findings) {
      if (is_felt(f) && f.strength <= Level::should && f.group != kFaultGroup) felt.push_back(f);
    }
    if (felt.empty()) return;
    page_.paragraph(
        "Missed", misses_of(felt, altered_.tell_all ? felt.size() : kNamedMisses), Tone::bold);
  }

  void write_plans() {
    for (size_t k = 0; k < result_.plans.size(); ++k) {
      const AlterPlan& plan = result_.plans[k];
      write_plan(k, plan, k == 0 || altered_.tell_all);
    }
  }

  void write_plan(size_t k, const AlterPlan& plan, bool full) {
    const std::string lead = fmt::format("Plan {}", k + 1);
    const std::string leaves = plan.left.empty() ? std::string("meets all that was to be met")
                               : k == 0 ? std::string("meets all but what no plan meets, below")
                                        : "leaves " + misses_of(plan.left, kNamedMisses);
    if (!full) {
      std::string steps;
      for (const PlanStep& step : plan.steps)
        steps += (steps.empty() ? "" : ", ") + step.move->name + " " + amount_of(step);
      page_.plan(lead, fmt::format("{}: {}; {}", write_minutes(plan.minutes), steps, leaves), full);
      return;
    }
    page_.plan(lead, fmt::format("{}; {}", write_minutes(plan.minutes), leaves), full);
    for (size_t i = 0; i < plan.steps.size(); ++i) write_step(i, plan.steps[i]);
  }

  std::string amount_of(const PlanStep& step) const {
    return quantity(step.amount, info(step.move->change).dimension);
  }

  /// 'the hem is open already'.
  static std::string open_already(const PlanStep& step) {
    std::vector<std::string_view> open;
    for (const Opening opening : step.open_already) open.push_back(to_string(opening));
    const auto is_plural = [](std::string_view words) {
      return words.find("seams") != words.npos || words.find("edges") != words.npos;
    };
    const bool are = open.size() > 1 || is_plural(open.front());
    return fmt::format("the {} {} open already", fmt::join(open, " and the "), are ? "are" : "is");
  }

  void write_step(size_t i, const PlanStep& step) {
    const Move& move = *step.move;
    const auto words = [&](const std::string& text) {
      return write_instruction(text, step.amount, info(move.change).dimension, {unit_});
    };
    page_.step(
        static_cast<int>(i) + 1,
        fmt::format(
            "{} {}, {}: {}", move.name, amount_of(step), write_minutes(step.minutes), move.place),
        step.open_already.empty() ? "" : open_already(step),
        words(move.says),
        words(move.mark),
        words(move.check));
  }

  /// What the first plan leaves because nobody complained of it: a garment is not unpicked for
  /// that.
  void write_left_alone() {
    if (result_.plans.empty()) return;
    const AlterPlan& plan = result_.plans.front();
    std::vector<Finding> alone;
    for (const Finding& f : plan.findings) {
      const bool told = std::any_of(plan.left.begin(), plan.left.end(), [&](const Finding& left) {
        return left.outputs == f.outputs;
      });
      if (is_felt(f) && f.strength <= Level::should && !told) alone.push_back(f);
    }
    if (alone.empty()) return;
    page_.paragraph(
        "Let be",
        misses_of(alone, altered_.tell_all ? alone.size() : kNamedMisses) +
            " (nobody complained of it; name it among the faults and it is planned for)",
        Tone::bold);
  }

  void write_unmet() {
    if (result_.unmet.empty()) return;
    page_.gap();
    for (const Unmet& unmet : result_.unmet) {
      std::string text = miss_of(unmet.finding);
      for (size_t i = 0; i < std::min(unmet.blocked.size(), kNamedBlocked); ++i)
        text += (i == 0 ? "; would help but can't be done: " : "; ") + unmet.blocked[i];
      for (size_t i = 0; i < std::min(unmet.spoils.size(), kNamedBlocked); ++i)
        text += fmt::format("{}{} ('{}')",
                            i == 0 ? "; would help and spoil what holds: " : "; ",
                            unmet.spoils[i].substr(0, unmet.spoils[i].find(": ")),
                            unmet.spoils[i].substr(unmet.spoils[i].find(": ") + 2));
      if (unmet.recut) text += "; nothing that can be done to it reaches that: recut the piece";
      page_.paragraph("Not met", text, Tone::bad);
    }
  }

  /// Of the first plan's steps, and of rules that it leaves; each once.
  void write_cautions() {
    std::vector<std::string> cautions;
    const auto add = [&cautions](const std::string& text) {
      if (!text.empty() && std::find(cautions.begin(), cautions.end(), text) == cautions.end())
        cautions.push_back(text);
    };
    for (const AlterPlan& plan : result_.plans) {
      for (const PlanStep& step : plan.steps) add(step.move->caution);
      if (!altered_.tell_all) break;
    }
    for (const Unmet& unmet : result_.unmet) {
      if (unmet.finding.rule != nullptr) add(unmet.finding.rule->caution);
    }
    for (const std::string& text : cautions) page_.paragraph("Care", text, Tone::bold);
  }

  void write_search() {
    std::string text = fmt::format("{} moves that can be done to it, {} ruled out",
                                   result_.possible,
                                   result_.impossible.size());
    if (!result_.not_weighed.empty())
      text += fmt::format("; {} of them, which help most, weighed to the end", result_.weighed);
    if (!result_.proved) text += "; it is not certain that no plan is better";
    const bool more = !result_.impossible.empty() || !result_.not_weighed.empty();
    if (!altered_.tell_all && more) text += " (--all says why)";
    page_.paragraph("Searched", text, Tone::bold);
    if (!altered_.tell_all) return;
    if (!result_.exact && result_.proved && !result_.plans.empty())
      page_.paragraph(kBlank,
                      "the moves' effects do not just add up: a better plan may have been "
                      "overlooked, if rarely",
                      Tone::plain);
    for (const auto& [move, why] : result_.impossible)
      page_.paragraph(kBlank, fmt::format("{}: {}", move->name, why), Tone::plain);
    for (const auto& [move, why] : result_.not_weighed)
      page_.paragraph(kBlank, fmt::format("{}: {}", move->name, why), Tone::plain);
  }

  const Altered& altered_;
  const AlterResult& result_;
  AlterPaper& page_;
  LengthUnit unit_;
};

}  // namespace

std::vector<OffDraft> off_its_draft(const Altered& altered) {
  std::vector<OffDraft> all;
  const Made& made = altered.result.in_hand.made;
  const auto add = [&all](std::string_view id, double by, Dimension dimension) {
    const bool told =
        std::any_of(all.begin(), all.end(), [id](const OffDraft& off) { return off.id == id; });
    if (by != 0 && !told) all.push_back({id, by, dimension});
  };
  for (const SeenFault& fault : altered.in_hand->faults) {
    for (const Name& name : fault.kind->reads.names()) {
      const auto at = static_cast<size_t>(name.index);
      if (name.kind == NameKind::measure) {
        const MeasureInfo& measure = info(static_cast<MeasureKey>(name.index));
        add(measure.id, made.sewn_off.at[at], measure.dimension);
      } else if (name.kind == NameKind::value) {
        const ValueInfo& value = info(static_cast<ValueKey>(name.index));
        add(value.id, made.values_off.at[at], value.dimension);
      }
    }
  }
  return all;
}

bool can_be_met(const Altered& altered) {
  const AlterResult& result = altered.result;
  if (!result.unclear.empty()) return false;
  return result.plans.empty() ? result.unmet.empty() : result.plans.front().meets_all;
}

std::string write_alteration(const Altered& altered, Colour colour) {
  Page page(colour);
  TextPaper paper(page);
  write_alteration_on(altered, paper);
  return page.text();
}

void write_alteration_on(const Altered& altered, AlterPaper& paper) {
  Writer(altered, paper).write();
}

}  // namespace easewright
