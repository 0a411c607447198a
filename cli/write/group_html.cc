#include "cli/write/group_plots.h"
#include "cli/write/group_summary.h"
#include "cli/write/html_page.h"
#include "cli/write/markup.h"
#include "cli/write/words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Level;

/// Points of the scatter; of more bodies every n-th is drawn.
constexpr size_t kMostPoints = 2000;

/// What the page needs beyond the report's.
constexpr const char* kStyle = R"(
figure.scatter { max-width: 42rem; }
figcaption { max-width: none; }
td.plot { width: 13rem; } td.plot svg { display: block; width: 12.5rem; height: auto; }
th.amount { text-align: right; padding-right: .4rem; }
td.amount + td { padding-left: .4rem; }
ol.changes li { margin: .3rem 0; break-inside: avoid; }
@media print { td.plot { width: 10rem; } td.plot svg { width: 9.5rem; } }
)";

class Pages {
 public:
  explicit Pages(const GroupSummary& group)
      : group_(group),
        run_(*group.run),
        summary_(group.summary),
        terms_(group.run->terms),
        unit_(group.run->job->job.unit) {}

  std::string write() {
    begin_html(page_, title(), kStyle);
    heading();
    if (summary_.members > 0) {
      sizes();
      misses();
      if (group_.advice) advice();
      if (group_.sewing) sewing();
      spreads();
    }
    refused();
    end_html(
        page_,
        "Computed by easewright. Each body's own row, with its draft and what it misses, is in "
        "rows.csv beside this page where one was written.");
    return page_.all();
  }

 private:
  std::string title() const {
    const Job& job = run_.job->job;
    return fmt::format("{} on {} {}",
                       job.style.label,
                       summary_.members,
                       summary_.members == 1 ? "body" : "bodies");
  }

  void heading() {
    const Job& job = run_.job->job;
    page_.element("h1", title());
    page_.element("p class=\"under\"", fmt::format("{}; {}", job.label, job.cloth.label));
    if (summary_.members == 0) return;
    page_.open(summary_.fit == summary_.members ? "div class=\"verdict\""
                                                : "div class=\"verdict missed\"");
    const Interval others = share_interval(summary_.fit_fully, summary_.members);
    page_.element("strong",
                  fmt::format("Fits {} fully", share_words(summary_.fit_fully, summary_.members)));
    page_.text(fmt::format(
        "Musts and shoulds hold for {}, musts for {}. Of more bodies like them, {:.0f} to "
        "{:.0f} % would be fitted fully (95 % sure).",
        share_words(summary_.fit, summary_.members),
        share_words(summary_.can_be_made, summary_.members),
        100 * others.least,
        100 * others.most));
    page_.close();
  }

  double outside(double value, Dimension d) const {
    if (d == kAngle) return degrees(value);
    return d == kLength && unit_ == LengthUnit::inch ? value / kCmPerInch : value;
  }

  PlotAxis axis(BodyKey key, const Spread& spread) const {
    PlotAxis axis;
    axis.title = fmt::format("{} ({})", spoken(info(key).id), unit_word(kLength, {unit_}));
    const double room = std::max(0.03 * (spread.most - spread.least), 0.5);
    axis.from = outside(spread.least - room, kLength);
    axis.to = outside(spread.most + room, kLength);
    for (const double tick : round_ticks(axis.from, axis.to))
      axis.ticks.emplace_back(tick, fmt::format("{:g}", tick));
    return axis;
  }

  Mark mark(const Member& m) const {
    if (m.misses.empty()) return Mark::fits;
    return all_hold(m, terms_, Level::should) ? Mark::misses_a_wish : Mark::misses_more;
  }

  void sizes() {
    const BodyKey across = BodyKey::bust_girth, up = BodyKey::hip_girth;
    std::vector<Point> points;
    const size_t every = run_.members.size() / kMostPoints + 1;
    for (size_t i = 0; i < run_.members.size(); i += every) {
      const Member& m = run_.members[i];
      points.push_back({outside(static_cast<double>(m[across]), kLength),
                        outside(static_cast<double>(m[up]), kLength),
                        mark(m)});
    }
    page_.open("section class=\"whole\"").element("h2", "Bodies by size");
    page_.open("figure class=\"scatter\"");
    page_.raw(scatter(points,
                      axis(across, summary_.body[static_cast<size_t>(across)]),
                      axis(up, summary_.body[static_cast<size_t>(up)]),
                      "Each body by its bust and hip girth, and whether the style fits it"));
    page_.element(
        "figcaption",
        fmt::format("A grey dot fits fully; a ring misses a wish; a cross misses a must or "
                    "a should.{}",
                    every > 1 ? fmt::format(" One body in {} is drawn.", every) : ""));
    page_.close().close();
  }

  Notation notation(const Term& term) const {
    return notation_of(term.rule, term.dimension, unit_);
  }

  void misses() {
    page_.open("section").element("h2", "What is missed");
    if (summary_.misses.empty()) {
      page_.element("p", "Nothing: every must, should and wish holds for every body.").close();
      return;
    }
    page_.open("div class=\"wide\"").open("table").open("thead").open("tr");
    for (const char* head : {"Rule or wish", "Strength"}) page_.element("th", head);
    for (const char* head : {"Bodies", "By, in the middle", "At most"})
      page_.element("th class=\"amount\"", head);
    page_.element("th", "Under it | over it");
    page_.close().close().open("tbody");
    for (const TermMisses& t : summary_.misses) {
      const Term& term = terms_.all[static_cast<size_t>(t.term)];
      const auto amount = [&](double tolerances) {
        return write_amount(tolerances * term.tolerance, term.dimension, notation(term));
      };
      page_.open("tr").open("td").text(term.name);
      if (term.rule != nullptr && !term.rule->because.empty())
        page_.open("span class=\"small\"").text(" " + term.rule->because).close();
      page_.close();
      page_.element("td", to_string(term.strength));
      page_.element("td class=\"amount\"", share_words(t.amounts.size(), summary_.members));
      page_.element("td class=\"amount\"", amount(t.size.at[2]));
      page_.element("td class=\"amount\"", amount(t.size.most));
      page_.open("td class=\"plot\"");
      page_.raw(miss_histogram(t.amounts,
                               t.size.most * term.tolerance,
                               fmt::format("{}: {} of those who miss it are under, {} over",
                                           term.name,
                                           t.amounts.size() - t.above,
                                           t.above)));
      page_.close().close();
    }
    page_.close().close().close();
    const auto wishes = std::count_if(
        terms_.all.begin(), terms_.all.end(), [](const Term& t) { return t.rule == nullptr; });
    const auto missed =
        std::count_if(summary_.misses.begin(), summary_.misses.end(), [this](const TermMisses& t) {
          return terms_.all[static_cast<size_t>(t.term)].rule == nullptr;
        });
    page_.element("p class=\"small\"",
                  fmt::format("Each picture ends at the largest miss, to both sides. Of {} wishes "
                              "{} hold for everybody.",
                              wishes,
                              wishes - missed));
    page_.close();
  }

  void advice() {
    const Advice& a = *group_.advice;
    if (a.missing.bodies == 0) return;
    page_.open("section class=\"whole\"").element("h2", "What would help");
    page_.element("p", "Each was tried: drafted again were " + tried_words(a) + ".");
    if (a.changes.empty()) {
      page_.element(
          "p",
          fmt::format("None of {} changes helps more bodies than it spoils.", a.changes_tried));
    } else {
      page_.open("ol class=\"changes\"");
      for (const StyleChange& c : a.changes) {
        page_.open("li").element("b", change_words(c.change, terms_, unit_));
        page_.text(" " + effect_words(c.trial, a)).close();
      }
      page_.close();
      if (a.together)
        page_.element("p",
                      fmt::format("{} together: it {}.",
                                  a.changes.size() == 2 ? "Both" : "All three",
                                  effect_words(a.all_changes, a)));
    }
    if (!a.wishes.empty()) {
      page_.element("h3", "What each wish costs");
      page_.open("table").open("thead").open("tr");
      page_.element("th", "Without the wish");
      for (const char* head : {"Fits, of those that miss something",
                               "Spoilt, of those that fit",
                               "All misses, in tolerances"})
        page_.element("th class=\"amount\"", head);
      page_.close().close().open("tbody");
      for (const WithoutWish& w : a.wishes) {
        page_.open("tr").element("td", terms_.all[static_cast<size_t>(w.term)].name);
        page_.element("td class=\"amount\"",
                      fmt::format("{} of {}", w.trial.helped, a.missing.bodies));
        page_.element("td class=\"amount\"",
                      fmt::format("{} of {}", w.trial.harmed, a.holding.bodies));
        page_.element("td class=\"amount\"",
                      fmt::format("{:.3g}, not {:.3g}",
                                  w.trial.missed + w.trial.wishes_missed,
                                  a.before.missed + a.before.wishes_missed));
        page_.close();
      }
      page_.close().close();
    }
    page_.close();
  }

  void sewing() {
    page_.open("section class=\"whole\"").element("h2", "Sewing for all").open("ul");
    for (const std::string& line : sewing_words(*group_.sewing, unit_)) page_.element("li", line);
    page_.close();
    if (!group_.sewing->files.empty())
      page_.element("p class=\"small\"",
                    "How the pieces lie: cutting-plan.pdf beside this page; what is cut for whom: "
                    "cut-list.csv.");
    page_.close();
  }

  template <typename Key>
  void spread_rows(Key last, const auto& spreads) {
    for (int i = 0; i < static_cast<int>(last); ++i) {
      const auto key = static_cast<Key>(i);
      const Spread& spread = spreads[static_cast<size_t>(i)];
      if (spread.count == 0) continue;
      spread_row(
          std::string(spoken(info(key).id)), spread, info(key).dimension, [key](const Member& m) {
            return static_cast<double>(m[key]);
          });
    }
  }

  template <typename Read>
  void spread_row(const std::string& name, const Spread& spread, Dimension d, const Read& read) {
    page_.open("tr").element("td", name);
    // What is the same for everybody needs no picture.
    const bool varies = spread.most - spread.least > 1e-3;
    for (const double at : {spread.least, spread.at[0], spread.at[2], spread.at[4], spread.most})
      page_.element("td class=\"amount\"", write_number(at, d, {unit_}));
    page_.element("td", unit_word(d, {unit_})).open("td class=\"plot\"");
    if (varies) {
      std::vector<double> values;
      for (const Member& m : run_.members)
        if (const double v = read(m); std::isfinite(v)) values.push_back(v);
      page_.raw(histogram(values, spread.least, spread.most, name + " over the group"));
    } else {
      page_.text("the same for all");
    }
    page_.close().close();
  }

  void spread_table(const char* title, const auto& rows) {
    page_.open("section").element("h2", title).open("div class=\"wide\"").open("table");
    page_.open("thead").open("tr");
    for (const char* head :
         {"", "Least", "5 %", "Middle", "95 %", "Most", "", "From least to most"})
      page_.element("th", head);
    page_.close().close().open("tbody");
    rows();
    page_.close().close().close().close();
  }

  void spreads() {
    spread_table("The draft", [this] { spread_rows(ValueKey::count, summary_.values); });
    spread_table("The garment's measures",
                 [this] { spread_rows(MeasureKey::count, summary_.measures); });
    spread_table("The bodies", [this] {
      for (const BodyKey key : {BodyKey::bust_girth,
                                BodyKey::underbust_girth,
                                BodyKey::waist_girth,
                                BodyKey::hip_girth,
                                BodyKey::shoulder_girth,
                                BodyKey::stature}) {
        spread_row(std::string(spoken(info(key).id)),
                   summary_.body[static_cast<size_t>(key)],
                   info(key).dimension,
                   [key](const Member& m) { return static_cast<double>(m[key]); });
      }
    });
  }

  void refused() {
    if (run_.refused.empty()) return;
    page_.open("section").element("h2", "Left out").open("ul");
    for (const RefusedBody& r : run_.refused)
      page_.element(
          "li", fmt::format("row {}, {}: {}", r.row, r.label.empty() ? "no name" : r.label, r.why));
    page_.close().close();
  }

  const GroupSummary& group_;
  const GroupRun& run_;
  const Summary& summary_;
  const Terms& terms_;
  LengthUnit unit_;
  Markup page_;
};

}  // namespace

std::string write_group_html(const GroupSummary& group) { return Pages(group).write(); }

}  // namespace easewright
