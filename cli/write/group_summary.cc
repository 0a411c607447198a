#include "cli/write/group_summary.h"

#include "cli/write/words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Level;

/// Rules and wishes that are named as missed most; the page and JSON have all.
constexpr size_t kNamed = 8;
constexpr size_t kNamedWishes = 3;

/// A step's words end with their own limit: an exact wish stays exact unless all between is taken.
std::string step_words(const MemberStep& step, const Terms& terms, LengthUnit unit) {
  const char* side = step.side == solver::Side::lower ? "at least" : "at most";
  switch (step.kind) {
    case CureStep::Kind::option: {
      const auto& which = info(static_cast<Switch>(step.which));
      return fmt::format("{}: {}", spoken(which.id), which.options[step.option]);
    }
    case CureStep::Kind::wish: {
      const Term& term = terms.all[step.which];
      const std::string to = write_quantity(static_cast<double>(step.to), term.dimension, {unit});
      return term.exact && !step.between ? term.name + " " + to
                                         : fmt::format("{} {} {}", term.name, side, to);
    }
    case CureStep::Kind::limit: {
      const auto& value = info(static_cast<ValueKey>(step.which));
      return fmt::format("limit of {} {} {}",
                         spoken(value.id),
                         side,
                         write_quantity(static_cast<double>(step.to), value.dimension, {unit}));
    }
  }
  return {};
}

double sum(const Trial& trial) { return trial.missed + trial.wishes_missed; }

/// By enough to be worth a word.
bool falls(const Trial& trial, const Trial& before) { return sum(trial) < 0.95 * sum(before); }

std::string garments(size_t count) {
  return fmt::format("{} garment{}", count, count == 1 ? "" : "s");
}

std::string bodies(size_t count) {
  return fmt::format("{} {}", count, count == 1 ? "body" : "bodies");
}

class Writer {
 public:
  Writer(const GroupSummary& group, Page& page)
      : group_(group),
        summary_(group.summary),
        terms_(group.run->terms),
        unit_(group.run->job->job.unit),
        page_(page) {}

  void write() {
    write_title();
    write_shares();
    write_misses();
    if (group_.advice) {
      write_wishes();
      write_changes();
    }
    write_spreads();
    write_sureness();
    if (group_.sewing) write_sewing();
    write_refused();
  }

 private:
  void write_title() {
    const Job& job = group_.run->job->job;
    const RowRange& range = group_.run->range;
    const bool part = range.first > 1 || range.last < group_.run->count;
    page_.paragraph(
        "",
        fmt::format("{}, {}, on {}{}",
                    job.style.label,
                    job.cloth.label,
                    bodies(summary_.members),
                    part ? fmt::format(" (rows {} to {})", range.first, range.last) : ""));
    if (summary_.members == 0) return;
    const Interval others = share_interval(summary_.fit_fully, summary_.members);
    page_.paragraph(fmt::format("FITS {} OF {} FULLY: ", summary_.fit_fully, summary_.members),
                    fmt::format("{:.0f} %; of more like them, {:.0f} to {:.0f} %",
                                percent(summary_.fit_fully),
                                100 * others.least,
                                100 * others.most),
                    summary_.fit == summary_.members ? Tone::good : Tone::bad);
    page_.gap();
  }

  double percent(size_t part) const {
    return 100 * static_cast<double>(part) / static_cast<double>(summary_.members);
  }

  void write_shares() {
    if (summary_.members == 0) return;
    page_.paragraph("Hold      ",
                    fmt::format("{} all; musts and shoulds {}; musts {}",
                                share_words(summary_.fit_fully, summary_.members),
                                share_words(summary_.fit, summary_.members),
                                share_words(summary_.can_be_made, summary_.members)),
                    Tone::bold);
  }

  Notation notation(const Term& term) const {
    return notation_of(term.rule, term.dimension, unit_);
  }

  void write_misses() {
    if (summary_.misses.empty()) return;
    page_.gap();
    page_.line(
        fmt::format("{:<38}{:>7}{:>8}  {}", "Missed most", "", "bodies", "by (middle, most)"),
        Tone::bold);
    for (size_t i = 0; i < std::min(kNamed, summary_.misses.size()); ++i) {
      const TermMisses& t = summary_.misses[i];
      const Term& term = terms_.all[static_cast<size_t>(t.term)];
      page_.line(fmt::format("{:<38}{:>7}{:>8}  {}",
                             shortened(term.name, 37),
                             to_string(term.strength),
                             t.amounts.size(),
                             by_words(t, term)));
    }
    if (summary_.misses.size() > kNamed)
      page_.line(fmt::format("and {} more", summary_.misses.size() - kNamed));
  }

  static std::string shortened(const std::string& text, size_t most) {
    return columns(text) <= most ? text : text.substr(0, most - 3) + "...";
  }

  /// '1.2, 3.1 cm under'.
  std::string by_words(const TermMisses& t, const Term& term) const {
    const char* side = t.above == 0 ? "under" : t.above == t.amounts.size() ? "over" : "either way";
    return fmt::format("{}, {} {}",
                       write_amount(t.size.at[2] * term.tolerance, term.dimension, notation(term)),
                       write_amount(t.size.most * term.tolerance, term.dimension, notation(term)),
                       side);
  }

  void write_wishes() {
    const Advice& a = *group_.advice;
    if (a.missing.bodies == 0 || a.wishes.empty()) return;
    page_.gap();
    const auto is_dear = [&](const WithoutWish& w) {
      return w.trial.helped > 0 || falls(w.trial, a.before);
    };
    if (std::none_of(a.wishes.begin(), a.wishes.end(), is_dear)) {
      page_.paragraph(
          "Wishes    ", "none is what stops it: without any one nobody more fits", Tone::bold);
      return;
    }
    std::string lead = "Wishes    ";
    size_t told = 0;
    for (const WithoutWish& w : a.wishes) {
      if (!is_dear(w) || ++told > kNamedWishes) continue;
      std::string text = fmt::format("without '{}' it {}",
                                     terms_.all[static_cast<size_t>(w.term)].name,
                                     effect_words(w.trial, a));
      page_.paragraph(lead, text, Tone::bold);
      lead.assign(10, ' ');
    }
  }

  void write_changes() {
    const Advice& a = *group_.advice;
    if (a.missing.bodies == 0) return;
    page_.gap();
    if (a.changes.empty()) {
      page_.paragraph("Changes   ",
                      fmt::format("no single one of {} tried helps more bodies than it spoils",
                                  a.changes_tried),
                      Tone::bold);
      return;
    }
    for (size_t i = 0; i < a.changes.size(); ++i) {
      page_.paragraph(i == 0 ? "Changes   " : "          ",
                      fmt::format("{}. {}: {}",
                                  i + 1,
                                  change_words(a.changes[i].change, terms_, unit_),
                                  effect_words(a.changes[i].trial, a)),
                      Tone::bold);
    }
    if (a.together)
      page_.paragraph("          ",
                      fmt::format("{} together: {}",
                                  a.changes.size() == 2 ? "both" : "all three",
                                  effect_words(a.all_changes, a)));
    page_.paragraph("          ", "tried on " + tried_words(a));
  }

  void write_spreads() {
    if (summary_.members < 2) return;
    page_.gap();
    std::string head =
        fmt::format("{:<32}", unit_ == LengthUnit::cm ? "Spread (cm, deg)" : "Spread (in, deg)");
    for (const double share : kShares)
      head += fmt::format("{:>9}", share == 0.5 ? "middle" : fmt::format("{:.0f} %", 100 * share));
    page_.line(head, Tone::bold);
    for (const BodyKey key :
         {BodyKey::bust_girth, BodyKey::waist_girth, BodyKey::hip_girth, BodyKey::stature})
      row("body: " + std::string(spoken(info(key).id)),
          summary_.body[static_cast<size_t>(key)],
          info(key).dimension);
    for (const Term& term : terms_.all) {
      if (term.rule != nullptr) continue;
      if (const Spread* spread = spread_of_name(term.wish_id, summary_))
        row(term.name, *spread, term.dimension);
    }
    if (!same_.empty()) page_.paragraph("", "for all alike: " + same_);
  }

  void row(const std::string& name, const Spread& spread, Dimension dimension) {
    if (spread.count == 0) return;
    if (write_number(spread.least, dimension, {unit_}) ==
        write_number(spread.most, dimension, {unit_})) {
      same_ += fmt::format("{}{} {}",
                           same_.empty() ? "" : ", ",
                           name,
                           write_number(spread.most, dimension, {unit_}));
      return;
    }
    std::string line = fmt::format("{:<32}", shortened(name, 31));
    for (const double at : spread.at)
      line += fmt::format("{:>9}", write_number(at, dimension, {unit_}));
    page_.line(line);
  }

  void write_sureness() {
    if (summary_.sure_of == 0) return;
    page_.gap();
    page_.paragraph(
        "Sureness  ",
        fmt::format(
            "of {} measures {} are estimated for the body in the middle; {} have a must or a "
            "should that is a toss-up; {:.1f} are to be expected to miss for each",
            kBodyKeys,
            write_number(summary_.estimated.at[2], kRatio, {}),
            share_words(summary_.with_toss_ups, summary_.sure_of),
            summary_.expected_misses),
        Tone::bold);
  }

  void write_sewing() {
    page_.gap();
    std::string lead = "Sewing    ";
    for (const std::string& line : sewing_words(*group_.sewing, unit_)) {
      page_.paragraph(lead, line, Tone::bold);
      lead.assign(10, ' ');
    }
    for (const std::string& file : group_.sewing->files)
      page_.paragraph("          ", "written: " + file);
  }

  void write_refused() {
    if (group_.run->refused.empty()) return;
    page_.gap();
    page_.paragraph(
        "Left out  ",
        fmt::format("{}; each is told above with its line", bodies(group_.run->refused.size())),
        Tone::bad);
  }

  const GroupSummary& group_;
  const Summary& summary_;
  const Terms& terms_;
  LengthUnit unit_;
  Page& page_;
  std::string same_;  ///< what is the same for all
};

}  // namespace

std::vector<std::string> sewing_words(const SewingSums& sewing, LengthUnit unit) {
  std::vector<std::string> lines;
  for (const std::string& buy : sewing.buy)
    lines.push_back(fmt::format("{} from one piece of {}", garments(sewing.garments), buy));
  const auto long_words = [unit](double cm) {
    return unit == LengthUnit::inch ? fmt::format("{:.2f} yd", cm / (36 * kCmPerInch))
                                    : fmt::format("{:.2f} m", cm / 100);
  };
  if (sewing.elastic > 0)
    lines.push_back(fmt::format("elastic {} in all, as it is cut", long_words(sewing.elastic)));
  if (sewing.belts > 0)
    lines.push_back(fmt::format("{} belt{}, {} finished in all (their strips lie on the cloth)",
                                sewing.belts,
                                sewing.belts == 1 ? "" : "s",
                                long_words(sewing.belt)));
  return lines;
}

std::string effect_words(const Trial& trial, const Advice& advice) {
  std::string text = fmt::format("fits {}{} of {} that miss something",
                                 trial.helped,
                                 trial.helped == 0 ? " more" : "",
                                 advice.missing.bodies);
  if (advice.holding.bodies > 0)
    text += trial.harmed == 0 ? "; none that fits is spoilt"
                              : fmt::format("; {} of {} that fit no longer {}",
                                            trial.harmed,
                                            advice.holding.bodies,
                                            trial.harmed == 1 ? "does" : "do");
  if (falls(trial, advice.before))
    text += fmt::format("; misses in all fall from {} to {} tolerances",
                        fmt::format("{:.3g}", sum(advice.before)),
                        fmt::format("{:.3g}", sum(trial)));
  return text;
}

std::string tried_words(const Advice& a) {
  const auto part = [](const Tried& tried, const char* which) {
    return tried.bodies == tried.of
               ? fmt::format("all {} that {}", tried.of, which)
               : fmt::format("{} of the {} that {}", tried.bodies, tried.of, which);
  };
  if (a.holding.of == 0) return part(a.missing, "miss something");
  return part(a.missing, "miss something") + ", and " + part(a.holding, "don't");
}

const Spread* spread_of_name(std::string_view id, const Summary& summary) {
  const auto name = find_name(id);
  if (!name) return nullptr;
  const auto at = static_cast<size_t>(name->index);
  if (name->kind == NameKind::value) return &summary.values[at];
  if (name->kind == NameKind::measure) return &summary.measures[at];
  return nullptr;
}

std::string share_words(std::size_t part, std::size_t whole) {
  if (whole == 0) return "none";
  const double percent = 100 * static_cast<double>(part) / static_cast<double>(whole);
  // Not all is never 100 %, and somebody never 0 %.
  const double told = part == whole || part == 0 ? percent : std::clamp(percent, 0.1, 99.9);
  const bool fine = told > 0 && (told < 1 || (told > 99 && told < 100));
  return fmt::format("{} ({:.{}f} %)", part, told, fine ? 1 : 0);
}

std::string change_words(const MemberCure& change, const Terms& terms, LengthUnit unit) {
  std::string text;
  for (size_t i = 0; i < change.count; ++i)
    text += (i == 0 ? "" : " and ") + step_words(change.steps.at(i), terms, unit);
  return text;
}

std::string write_group_summary(const GroupSummary& group, Colour colour) {
  Page page(colour);
  Writer(group, page).write();
  return page.text();
}

}  // namespace easewright
