#include "cli/write/json.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/write/words.h"

namespace easewright {
namespace {

using Json = nlohmann::ordered_json;
using solver::Level;

/// Rounded, so that the last bits of a sum do not show; null where there is no number or no limit.
Json number(double value) {
  if (!std::isfinite(value)) return nullptr;
  return std::round(value * 1e6) / 1e6;
}

std::string unit_name(Dimension d) {
  if (d == kRatio) return "ratio";
  const std::string word = unit_word(d, {});
  return word.empty() ? to_string(d) : word;
}

/// Angles leave as degrees, all else as it is inside.
Json outside(double value, Dimension d) { return number(d == kAngle ? degrees(value) : value); }

Json quantity(double value, Dimension d) { return {{"value", outside(value, d)}, {"unit", unit_name(d)}}; }

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
    notes.push_back({{"kind", note.kind == BodyNote::Kind::warning ? "warning" : "info"}, {"key", note.key_path}, {"text", note.text}});
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

Json measures_of(const FitResult& result) {
  Json all = Json::object();
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto key = static_cast<MeasureKey>(i);
    if (!result.has_measure[static_cast<size_t>(i)]) continue;
    all[spoken(info(key).id)] = quantity(result.measures[key], info(key).dimension);
  }
  return all;
}

Json finding_of(const Finding& f, const FitResult& result) {
  Json entry = {{"name", f.name},
                {"kind", f.rule != nullptr ? "rule" : "wish"},
                {"group", f.group},
                {"strength", to_string(f.strength)},
                {"standing", f.missed ? "missed" : f.tight ? "at its limit" : "holds"},
                {"value", outside(f.value, f.dimension)},
                {"least", outside(f.lo, f.dimension)},
                {"most", outside(f.hi, f.dimension)},
                {"miss", outside(f.miss, f.dimension)},
                {"tolerance", outside(f.tolerance, f.dimension)},
                {"unit", unit_name(f.dimension)},
                {"pull", number(f.pull)}};
  if (f.rule != nullptr) {
    entry["range"] = f.rule->range.text;
    entry["because"] = f.rule->because;
    entry["source"] = f.rule->source;
  }
  const auto terms = slack_terms(f, result);
  for (const SlackTerm& term : terms) entry["slack"].push_back({{"part", term.text}, {"cm", number(term.amount)}});
  return entry;
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
  for (const Finding& f : result.findings) findings.push_back(finding_of(f, result));
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
          {"notes", result.notes},
          {"switches", switches_of(result)},
          {"measures", measures_of(result)},
          {"body", body_of(result)},
          {"proof", proof_of(result.outcome)}};
}

}  // namespace

std::string write_json(const std::vector<Judged>& all, std::string_view command) {
  Json jobs = Json::array();
  for (const Judged& judged : all) jobs.push_back(job_of(judged));
  const Json document = {{"easewright", 1}, {"command", command}, {"jobs", std::move(jobs)}};
  // Text that came through the readers is UTF-8; a path given on the command line need not be.
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace easewright
