#include "cli/write/json.h"

#include "cli/write/json_parts.h"
#include "cli/write/sureness.h"
#include "cli/write/why.h"
#include "cli/write/words.h"

#include <algorithm>

namespace easewright {
namespace {

using solver::Level;

Json body_of(const FitResult& result) {
  const CompleteBody& body = result.completed.body;
  Json measures = Json::object();
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    const BodyMeasureInfo& measure = info(key);
    Json entry = quantity(body[key], measure.dimension);
    entry["sd"] = outside(body.at(key).sd, measure.dimension);
    entry["origin"] = to_string(body.at(key).origin);
    measures[spoken(measure.id)] = std::move(entry);
  }
  Json notes = Json::array();
  for (const BodyNote& note : result.completed.notes) {
    notes.push_back({{"kind", note.kind == BodyNote::Kind::warning ? "warning" : "info"},
                     {"key", note.key_path},
                     {"text", note.text}});
  }
  return {{"label", body.label},
          {"build", to_string(body.build)},
          {"waist level", to_string(body.waist_level)},
          {"measures", std::move(measures)},
          {"notes", std::move(notes)}};
}

Json put_on_of(const FitResult& result) {
  Json tried = Json::array();
  for (const Route& route : result.routes) {
    tried.push_back({{"way", info(Switch::put_on).options[static_cast<size_t>(route.option)]},
                     {"musts hold", route.passes},
                     {"missed tolerances", number(route.worst)}});
  }
  return {{"way", result.switches[Switch::put_on]}, {"tried", std::move(tried)}};
}

Json switches_of(const FitResult& result) {
  Json all = Json::object();
  for (int i = 0; i < kSwitches; ++i) {
    const auto which = static_cast<Switch>(i);
    all[spoken(info(which).id)] = result.switches[which];
  }
  return all;
}

/// As sentences, lengths in cm like all of this file; none where there is no answer to note.
Json notes_of(const FitResult& result) {
  Json notes = Json::array();
  if (!has_answer(result)) return notes;
  for (const Note& note : result.notes) notes.push_back(write_note(note, {}));
  return notes;
}

Json draft_of(const FitResult& result) {
  Json all = Json::object();
  for (int i = 0; i < kValueKeys; ++i) {
    const auto key = static_cast<ValueKey>(i);
    if (!result.has_value[static_cast<size_t>(i)]) continue;
    Json entry = quantity(result.values[key], info(key).dimension);
    const auto& undecided = result.undecided;
    entry["by habit"] = std::find(undecided.begin(), undecided.end(), key) != undecided.end();
    all[spoken(info(key).id)] = std::move(entry);
  }
  return all;
}

Json measures_of(const Judged& judged) {
  const FitResult& result = judged.result;
  Json all = Json::object();
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto key = static_cast<MeasureKey>(i);
    if (!result.has_measure[static_cast<size_t>(i)]) continue;
    Json entry = quantity(result.measures[key], info(key).dimension);
    if (judged.doubts)
      entry["sd"] = outside(judged.doubts->measure_sd[static_cast<size_t>(i)], info(key).dimension);
    all[spoken(info(key).id)] = std::move(entry);
  }
  return all;
}

Json step_of(const CureStep& step) {
  if (step.kind == CureStep::Kind::option) {
    Json entry = {{"kind", "switch"}, {"name", spoken(info(step.which).id)}, {"to", step.option}};
    if (step.added != ValueKey::count) {
      entry["brings"] = quantity(step.added_amount, info(step.added).dimension);
      entry["brings"]["name"] = spoken(info(step.added).id);
    }
    return entry;
  }
  return {{"kind", step.kind == CureStep::Kind::wish ? "wish" : "limit"},
          {"name", spoken(step.id)},
          {"side", to_string(step.side)},
          {"from", outside(step.from, step.dimension)},
          {"to", outside(step.to, step.dimension)},
          {"between", step.between},
          {"unit", unit_name(step.dimension)}};
}

Json why_of(const Explanation& explanation, const Judged& judged) {
  Json conflict = Json::array();
  for (const Participant& p : told_order(explanation))
    conflict.push_back(participant_of(p, judged));
  Json cures = Json::array();
  for (const Cure& cure : explanation.cures) {
    Json steps = Json::array();
    for (const CureStep& step : cure.steps) steps.push_back(step_of(step));
    cures.push_back({{"text", write_cure(cure, judged.result, LengthUnit::cm)},
                     {"steps", std::move(steps)},
                     {"asks", number(cure.asks)},
                     {"options", cure_options(cure, *judged.job, judged.result)}});
  }
  return {{"conflict", std::move(conflict)},
          {"proved", explanation.proved},
          {"solves", explanation.solves},
          {"cures", std::move(cures)}};
}

Json finding_of(const Finding& f, const Judged& judged) {
  Json entry = {{"name", f.name},
                {"kind", f.rule != nullptr ? "rule" : "wish"},
                {"group", f.group},
                {"strength", to_string(f.strength)},
                {"standing",
                 f.missed  ? "missed"
                 : f.tight ? "at its limit"
                           : "holds"},
                {"value", outside(f.value, f.dimension)},
                {"least", outside(f.lo, f.dimension)},
                {"most", outside(f.hi, f.dimension)},
                {"miss", outside(f.miss, f.dimension)},
                {"tolerance", outside(f.tolerance, f.dimension)},
                {"unit", unit_name(f.dimension)},
                {"pull", number(f.pull)}};
  if (const RuleSureness* sureness = sureness_of(judged, f)) {
    entry["probability"] = number(sureness->probability);
    entry["sureness"] = to_string(sureness->sureness);
    entry["sd"] = outside(sureness->sd, f.dimension);
  }
  if (f.rule != nullptr) {
    entry["range"] = f.rule->range.text;
    entry["because"] = f.rule->because;
    entry["source"] = f.rule->source;
  }
  const auto terms = slack_terms(f, judged.result);
  for (const SlackTerm& term : terms)
    entry["slack"].push_back({{"part", term.text}, {"cm", number(term.amount)}});
  if (const Explanation* why = explanation_of(judged, f)) entry["why"] = why_of(*why, judged);
  return entry;
}

Json sureness_of(const Judged& judged) {
  if (!judged.doubts) return nullptr;
  Json all = Json::object();
  for (const Sureness s :
       {Sureness::sure, Sureness::likely, Sureness::toss_up, Sureness::unlikely}) {
    const auto& rules = judged.doubts->rules;
    all[std::string(to_string(s))] = std::count_if(
        rules.begin(), rules.end(), [s](const RuleSureness& r) { return r.sureness == s; });
  }
  Json tape = Json::array();
  for (const TapeAdvice& advice : judged.doubts->advice) {
    tape.push_back({{"measure", spoken(info(advice.key).id)},
                    {"doubt removed", number(advice.doubt_removed)}});
  }
  all["asked"] = judged.sure ? number(*judged.sure) : Json(nullptr);
  all["tape"] = std::move(tape);
  return all;
}

/// By wish: what one more unit (1 cm, 1 deg, 1) of it does.
Json effects_of(const Judged& judged) {
  if (!judged.effects) return nullptr;
  Json all = Json::object();
  for (const WishEffect& effect : *judged.effects) {
    const PosedRule& wish = judged.result.posed->rules[static_cast<size_t>(effect.rule)];
    const double unit = wish.expression.dimension() == kAngle ? radians(1) : 1;
    Json on = Json::array();
    for (const WishEffect::On& o : effect.on) {
      const Dimension d = info(o.measure).dimension;
      on.push_back({{"measure", spoken(info(o.measure).id)},
                    {"change", outside(o.per_unit * unit, d)},
                    {"unit", unit_name(d)}});
    }
    all[wish.name] = {{"of 1", unit_name(wish.expression.dimension())}, {"on", std::move(on)}};
  }
  return all;
}

Json proof_of(const solver::Outcome& o) {
  Json totals = Json::object();
  for (const Level level : {Level::must, Level::should, Level::wish, Level::habit}) {
    totals[std::string(to_string(level))] = number(o.total[static_cast<size_t>(level)]);
  }
  return {{"status", to_string(o.status)},
          {"totals", std::move(totals)},
          {"optimality", o.optimality},
          {"rank", o.rank},
          {"starts tried", o.starts_tried},
          {"starts agreed", o.starts_agreed},
          {"iterations", o.iterations},
          {"evaluations", o.evaluations}};
}

Json job_of(const Judged& judged) {
  const FitResult& result = judged.result;
  Json findings = Json::array();
  for (const Finding& f : result.findings) findings.push_back(finding_of(f, judged));
  return {{"file", judged.file},
          {"job", judged.job->label},
          {"style", judged.job->style.label},
          {"cloth", judged.job->cloth.label},
          {"holds",
           {{"musts", result.all_hold(Level::must)},
            {"shoulds", result.all_hold(Level::should)},
            {"wishes", result.all_hold(Level::wish)}}},
          {"fits", fits(result)},
          {"put on", put_on_of(result)},
          {"draft", draft_of(result)},
          {"findings", std::move(findings)},
          {"sureness", sureness_of(judged)},
          {"effects", effects_of(judged)},
          {"notes", notes_of(result)},
          {"switches", switches_of(result)},
          {"measures", measures_of(judged)},
          {"body", body_of(result)},
          {"proof", proof_of(result.outcome)}};
}

}  // namespace

std::string write_json(const std::vector<Judged>& all, std::string_view command) {
  Json jobs = Json::array();
  for (const Judged& judged : all) jobs.push_back(job_of(judged));
  return document_of(command, {{"jobs", std::move(jobs)}});
}

}  // namespace easewright
