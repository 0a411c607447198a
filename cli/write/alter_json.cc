#include "cli/write/alter.h"
#include "cli/write/instruction.h"
#include "cli/write/json_parts.h"
#include "cli/write/words.h"

#include <cmath>

namespace easewright {
namespace {

Json finding_of(const Finding& f) {
  Json entry = {{"name", f.name},
                {"kind",
                 f.group == kFaultGroup ? "fault"
                 : f.rule != nullptr    ? "rule"
                                        : "wish"},
                {"strength", to_string(f.strength)},
                {"value", outside(f.value, f.dimension)},
                {"least", outside(f.lo, f.dimension)},
                {"most", outside(f.hi, f.dimension)},
                {"miss", outside(f.miss, f.dimension)},
                {"tolerance", outside(f.tolerance, f.dimension)},
                {"unit", unit_name(f.dimension)}};
  if (f.rule != nullptr) entry["because"] = f.rule->because;
  return entry;
}

Json missed_of(const std::vector<Finding>& findings) {
  Json all = Json::array();
  for (const Finding& f : findings) {
    if (f.missed) all.push_back(finding_of(f));
  }
  return all;
}

Json names_of(const std::vector<Finding>& findings) {
  Json all = Json::array();
  for (const Finding& f : findings) all.push_back(f.name);
  return all;
}

Json garment_of(const Altered& altered) {
  const FromFlat& in_hand = altered.result.in_hand;
  const Made& made = in_hand.made;
  Json read = Json::array();
  for (const ValueKey key : in_hand.read) read.push_back(spoken(info(key).id));
  Json flat = Json::object();
  for (size_t i = 0; i < altered.in_hand->flat.size(); ++i) {
    const FlatReading& reading = altered.in_hand->flat[i];
    Json entry = quantity(reading.value, kLength);
    entry["error"] = number(reading.error);
    entry["off"] = i < in_hand.residuals.size() ? number(in_hand.residuals[i]) : Json(nullptr);
    flat[std::string(info(reading.key).name)] = std::move(entry);
  }
  Json draft = Json::object();
  for (int i = 0; i < kValueKeys; ++i) {
    const ValueInfo& value = info(static_cast<ValueKey>(i));
    draft[spoken(value.id)] = quantity(made.values[static_cast<ValueKey>(i)], value.dimension);
  }
  Json seams = Json::object();
  for (int i = 0; i < kSeamKeys; ++i) {
    const Seam& seam = made.seam(static_cast<SeamKey>(i));
    seams[std::string(to_string(static_cast<SeamKey>(i)))] = {
        {"allowance", number(seam.allowance)},
        {"keep", number(seam.keep)},
        {"finish", to_string(made.finish(static_cast<SeamKey>(i)))}};
  }
  Json off = Json::object();
  for (const OffDraft& part : off_its_draft(altered))
    off[spoken(part.id)] = quantity(part.by, part.dimension);
  return {{"kind", to_string(made.kind)},
          {"made for", altered.result.made_for.body.label},
          {"flat", std::move(flat)},
          {"read", std::move(read)},
          {"draft", std::move(draft)},
          {"seams", std::move(seams)},
          {"holes show", made.holes_show},
          {"stretched",
           {{"neck edge", number(made.neck_stretched)},
            {"armhole edge", number(made.armhole_stretched)}}},
          {"off its draft", std::move(off)}};
}

Json belief_of(const Altered& altered) {
  const Belief& belief = altered.result.belief;
  const auto& faults = altered.in_hand->faults;
  Json shifts = Json::array();
  for (const BodyShift& s : belief.shifts) {
    const Dimension d = info(s.key).dimension;
    shifts.push_back({{"measure", spoken(info(s.key).id)},
                      {"taped", outside(s.before, d)},
                      {"taped sd", outside(s.sd_before, d)},
                      {"believed", outside(s.after, d)},
                      {"believed sd", outside(s.sd_after, d)},
                      {"unit", unit_name(d)}});
  }
  Json seen = Json::array();
  for (size_t i = 0; i < faults.size(); ++i) {
    const Dimension d = faults[i].kind->reads.dimension();
    Json entry = {{"name", faults[i].kind->name},
                  {"seen", outside(faults[i].amount, d)},
                  {"error", outside(faults[i].error, d)},
                  {"unit", unit_name(d)}};
    if (i < belief.readings.size()) {
      entry["on the body as taped"] = outside(belief.readings[i].before, d);
      entry["on the body believed"] = outside(belief.readings[i].after, d);
      entry["off"] = number(belief.readings[i].off);
    }
    seen.push_back(std::move(entry));
  }
  Json unexplained = Json::array();
  for (const int i : belief.unexplained)
    unexplained.push_back(faults[static_cast<size_t>(i)].kind->name);
  Json against = Json::array();
  for (const auto& [one, other] : belief.against) {
    against.push_back({faults[static_cast<size_t>(one)].kind->name,
                       faults[static_cast<size_t>(other)].kind->name});
  }
  Json unclear = Json::array();
  for (const int i : altered.result.unclear)
    unclear.push_back(faults[static_cast<size_t>(i)].kind->name);
  return {{"explained", belief.explained},
          {"shifts", std::move(shifts)},
          {"faults", std::move(seen)},
          {"unexplained", std::move(unexplained)},
          {"unclear", std::move(unclear)},
          {"against", std::move(against)}};
}

Json step_of(const PlanStep& step) {
  const Move& move = *step.move;
  const Dimension d = info(move.change).dimension;
  const auto words = [&](const std::string& text) {
    return write_instruction(text, step.amount, d, {});
  };
  Json open = Json::array();
  for (const Opening opening : step.open_already) open.push_back(std::string(to_string(opening)));
  return {{"move", move.name},
          {"place", move.place},
          {"change", info(move.change).name},
          {"amount", outside(step.amount, d)},
          {"unit", unit_name(d)},
          {"minutes", number(step.minutes)},
          {"open already", open},
          {"says", words(move.says)},
          {"mark", words(move.mark)},
          {"check", words(move.check)},
          {"caution", move.caution}};
}

Json plan_of(const AlterPlan& plan, const Altered& altered) {
  Json steps = Json::array();
  for (const PlanStep& step : plan.steps) steps.push_back(step_of(step));
  Json faults = Json::object();
  const auto& seen = altered.in_hand->faults;
  for (size_t i = 0; i < std::min(seen.size(), plan.faults_after.size()); ++i) {
    faults[seen[i].kind->name] = quantity(plan.faults_after[i], seen[i].kind->reads.dimension());
  }
  return {{"minutes", number(plan.minutes)},
          {"meets all", plan.meets_all},
          {"steps", std::move(steps)},
          {"faults after", std::move(faults)},
          {"left", names_of(plan.left)},
          {"missed after", missed_of(plan.findings)}};
}

}  // namespace

std::string write_alteration_json(const Altered& altered) {
  const AlterResult& result = altered.result;
  Json plans = Json::array();
  for (const AlterPlan& plan : result.plans) plans.push_back(plan_of(plan, altered));
  Json unmet = Json::array();
  for (const Unmet& u : result.unmet) {
    Json entry = finding_of(u.finding);
    entry["blocked"] = u.blocked;
    entry["spoils"] = u.spoils;
    entry["recut"] = u.recut;
    unmet.push_back(std::move(entry));
  }
  Json impossible = Json::array();
  for (const auto& [move, why] : result.impossible)
    impossible.push_back({{"move", move->name}, {"why", why}});
  Json not_weighed = Json::array();
  for (const auto& [move, why] : result.not_weighed)
    not_weighed.push_back({{"move", move->name}, {"why", why}});
  return document_of("alter",
                     {{"job",
                       {{"file", altered.file},
                        {"job", altered.job->label},
                        {"style", altered.job->style.label},
                        {"cloth", altered.job->cloth.label},
                        {"can be met", can_be_met(altered)}}},
                      {"garment", garment_of(altered)},
                      {"belief", belief_of(altered)},
                      {"missed before", missed_of(result.findings)},
                      {"plans", std::move(plans)},
                      {"unmet", std::move(unmet)},
                      {"moves",
                       {{"possible", result.possible},
                        {"ruled out", std::move(impossible)},
                        {"weighed", result.weighed},
                        {"not weighed", std::move(not_weighed)},
                        {"nodes", result.nodes},
                        {"proved", result.proved},
                        {"exact", result.exact}}}});
}

}  // namespace easewright
