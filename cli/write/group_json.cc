#include "cli/write/group_summary.h"
#include "cli/write/json_parts.h"
#include "cli/write/member_row.h"
#include "cli/write/words.h"

#include <cmath>

namespace easewright {
namespace {

Json json_of(const Spread& spread, Dimension dimension) {
  Json json = {{"bodies", spread.count},
               {"unit", unit_name(dimension)},
               {"least", number(outside(spread.least, dimension).get<double>())}};
  for (size_t i = 0; i < kShares.size(); ++i) {
    json[std::to_string(std::lround(100 * kShares[i])) + " %"] =
        number(outside(spread.at[i], dimension).get<double>());
  }
  json["most"] = number(outside(spread.most, dimension).get<double>());
  return json;
}

Json json_of(const TermMisses& t, const Terms& terms) {
  const Term& term = terms.all[static_cast<size_t>(t.term)];
  return {{"name", term.name},
          {"kind", term.rule != nullptr ? "rule" : "wish"},
          {"strength", to_string(term.strength)},
          {"bodies", t.amounts.size()},
          {"over", t.above},
          {"tolerances", json_of(t.size, kRatio)}};
}

Json json_of(const Trial& t) {
  return {{"helped", t.helped},
          {"harmed", t.harmed},
          {"missed tolerances", number(t.missed)},
          {"missed tolerances of wishes", number(t.wishes_missed)}};
}

Json json_of(const Advice& a, const Terms& terms) {
  Json json = {{"missing", {{"tried", a.missing.bodies}, {"of", a.missing.of}}},
               {"holding", {{"tried", a.holding.bodies}, {"of", a.holding.of}}},
               {"as drafted", json_of(a.before)}};
  json["without a wish"] = Json::array();
  for (const WithoutWish& w : a.wishes) {
    Json wish = {{"wish", terms.all[static_cast<size_t>(w.term)].name}};
    wish.update(json_of(w.trial));
    json["without a wish"].push_back(std::move(wish));
  }
  json["changes tried"] = a.changes_tried;
  json["changes"] = Json::array();
  for (const StyleChange& c : a.changes) {
    Json change = {{"change", write_cure(c.change, terms)}, {"settles", c.settles}};
    change.update(json_of(c.trial));
    json["changes"].push_back(std::move(change));
  }
  json["all changes"] = a.together ? json_of(a.all_changes) : Json(nullptr);
  return json;
}

}  // namespace

std::string write_group_json(const GroupSummary& group) {
  const GroupRun& run = *group.run;
  const Summary& s = group.summary;
  Json json;
  json["job"] = {{"file", run.job->file},
                 {"job", run.job->job.label},
                 {"style", run.job->job.style.label},
                 {"cloth", run.job->job.cloth.label},
                 {"bodies", group.bodies_file},
                 {"rows", {run.range.first, run.range.last}}};
  const Interval others = share_interval(s.fit_fully, s.members);
  json["group"] = {{"bodies", s.members},
                   {"refused", run.refused.size()},
                   {"fit fully", s.fit_fully},
                   {"of others like them", {number(others.least), number(others.most)}},
                   {"musts and shoulds hold", s.fit},
                   {"musts hold", s.can_be_made}};
  json["missed"] = Json::array();
  for (const TermMisses& t : s.misses) json["missed"].push_back(json_of(t, run.terms));
  json["advice"] = group.advice ? json_of(*group.advice, run.terms) : Json(nullptr);
  for (int i = 0; i < kValueKeys; ++i) {
    const auto key = static_cast<ValueKey>(i);
    const Spread& spread = s.values[static_cast<size_t>(i)];
    if (spread.count > 0)
      json["draft"][std::string(spoken(info(key).id))] = json_of(spread, info(key).dimension);
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto key = static_cast<MeasureKey>(i);
    const Spread& spread = s.measures[static_cast<size_t>(i)];
    if (spread.count > 0)
      json["measures"][std::string(spoken(info(key).id))] = json_of(spread, info(key).dimension);
  }
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    const Spread& spread = s.body[static_cast<size_t>(i)];
    if (spread.count > 0)
      json["body"][std::string(spoken(info(key).id))] = json_of(spread, info(key).dimension);
  }
  json["sureness"] = s.sure_of == 0 ? Json(nullptr)
                                    : Json{{"bodies", s.sure_of},
                                           {"with toss-ups", s.with_toss_ups},
                                           {"misses to expect", number(s.expected_misses)},
                                           {"estimated", json_of(s.estimated, kRatio)}};
  json["sewing"] = nullptr;
  if (group.sewing)
    json["sewing"] = {{"garments", group.sewing->garments},
                      {"buy", group.sewing->buy},
                      {"elastic cm", number(group.sewing->elastic)},
                      {"belts", group.sewing->belts},
                      {"belts cm", number(group.sewing->belt)},
                      {"files", group.sewing->files}};
  json["left out"] = Json::array();
  for (const RefusedBody& r : run.refused)
    json["left out"].push_back({{"row", r.row}, {"body", r.label}, {"why", r.why}});
  return document_of("group", json);
}

}  // namespace easewright
