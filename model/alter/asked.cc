#include "model/alter/asked.h"

#include "model/alter/openings.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;

/// A miss below this share of its tolerance isn't felt and does not call for work; of a must.
constexpr double kUnfelt = 1.0, kUnfeltMust = 0.1;

/// Whether a garment of this kind has what the rule is about: a skirt alone has no bodice.
bool concerns(const PosedRule& rule, MadeKind kind) {
  if (kind != MadeKind::skirt) return true;
  const auto of_skirt = [](const std::optional<Expression>& e) {
    if (!e) return true;
    const auto& names = e->names();
    return std::all_of(names.begin(), names.end(), [](const Name& name) {
      if (name.kind == NameKind::value) return skirt_has(static_cast<ValueKey>(name.index));
      if (name.kind == NameKind::measure) return skirt_has(static_cast<MeasureKey>(name.index));
      return true;
    });
  };
  return of_skirt(rule.expression) && of_skirt(rule.lo) && of_skirt(rule.hi);
}

/// The finding about the same thing among others; null where there is none.
const Finding* same_among(const std::vector<Finding>& all, const Finding& finding) {
  const auto same = std::find_if(
      all.begin(), all.end(), [&](const Finding& f) { return f.outputs == finding.outputs; });
  return same == all.end() ? nullptr : &*same;
}

bool is_hair(const solver::Output& output, double now) {
  return now > output.lo - output.tolerance && now < output.hi + output.tolerance;
}

}  // namespace

bool is_felt(const Finding& f) {
  const double felt = f.strength == Level::must ? kUnfeltMust : kUnfelt + 1e-6;
  return f.missed && std::abs(f.miss) > felt * f.tolerance;
}

Asked::Asked(const Job& job,
             const std::vector<SeenFault>& faults,
             const Belief& belief,
             const Made& made,
             std::shared_ptr<const Posed> posed)
    : job_(job),
      faults_(faults),
      belief_(belief),
      made_(made),
      posed_(std::move(posed)),
      worn_before_(wear(made, posed_->frame)) {
  find_complaints();
  before_ = judged(worn_before_);
}

double Asked::reading(const SeenFault& fault, const Worn& worn) const {
  return reading_of(*fault.kind, posed_->frame, worn);
}

/// Faults that are to be mended: those that the model shows by more than is felt beyond what
/// nobody minds, and that say the same as the others.
void Asked::find_complaints() {
  std::set<int> contradicted;
  for (const auto& [one, other] : belief_.against) contradicted.insert({one, other});
  std::set<int> unclear(belief_.unexplained.begin(), belief_.unexplained.end());
  unclear.insert(contradicted.begin(), contradicted.end());
  for (int i = 0; i < static_cast<int>(faults_.size()); ++i) {
    const SeenFault& fault = faults_[static_cast<size_t>(i)];
    const double fine = fault.kind->fine, now = reading(fault, worn_before_);
    const bool minded = fault.amount > fine + fault.error;
    const bool shows = now > fine + 0.5 * fault.error && contradicted.count(i) == 0;
    if (unclear.count(i) > 0 && minded) unclear_.push_back(i);
    // Not to be made worse either.
    complaints_.push_back(shows && minded ? fine : std::max(fine, now));
  }
}

const PosedRule* Asked::rule_of(const Finding& finding) const {
  const auto rule = std::find_if(posed_->rules.begin(),
                                 posed_->rules.end(),
                                 [&](const PosedRule& r) { return r.outputs == finding.outputs; });
  return rule == posed_->rules.end() ? nullptr : &*rule;
}

std::vector<Finding> Asked::judged(const Worn& worn) const {
  std::vector<Finding> findings = findings_at(*posed_, worn.values, worn.measures);
  std::erase_if(findings, [&](const Finding& f) {
    const PosedRule* rule = rule_of(f);
    return rule != nullptr && !concerns(*rule, made_.kind);
  });
  for (size_t i = 0; i < faults_.size(); ++i) {
    if (std::isfinite(complaints_[i])) findings.push_back(judged(i, worn));
  }
  return findings;
}

/// A fault as a finding. Its place among the outputs is none of the posed ones'.
Finding Asked::judged(size_t i, const Worn& worn) const {
  const SeenFault& fault = faults_[i];
  Finding f;
  f.name = fault.kind->name;
  f.group = kFaultGroup;
  f.dimension = fault.kind->reads.dimension();
  f.value = reading(fault, worn);
  f.lo = -kInfinity, f.hi = complaints_[i];
  f.tolerance = fault.error;
  f.miss = std::max(f.value - f.hi, 0.0);
  f.missed = f.miss > solver::kHolds * f.tolerance;
  f.outputs = {-1 - static_cast<int>(i)};
  return f;
}

/// The range that an output has to be brought into: its own, wider by what isn't felt. What is
/// missed and nobody complains of is kept as it is in hand, and so is what the style only wished
/// for: a garment is not unpicked for that.
solver::Output Asked::wanted(int i, const PosedRule& rule, double now) const {
  solver::Output output = posed_->problem.outputs[static_cast<size_t>(i)];
  output.level = rule.strength;
  const bool asked = std::any_of(job_.wishes.begin(), job_.wishes.end(), [&](const Wish& wish) {
    return wish.id == rule.wish_id;
  });
  const bool leave = output.level == Level::must   ? is_hair(output, now)
                     : output.level == Level::wish ? !asked
                                                   : !is_called_for(rule);
  if (leave) {
    output.lo = std::min(output.lo, now);
    output.hi = std::max(output.hi, now);
  }
  if (output.level == Level::must) return output;
  const double wider = is_complained_of(rule) ? 0 : kUnfelt * output.tolerance;
  output.lo -= wider;
  output.hi += wider;
  return output;
}

/// With faults seen, work is done for these; without any, for all that the rules find.
bool Asked::is_called_for(const PosedRule& rule) const {
  return faults_.empty() || is_complained_of(rule);
}

/// Whether a fault that was seen reads what the rule is about: then all of the rule is wanted. A
/// hem that isn't level is no complaint about the waist edge that it hangs from.
bool Asked::is_complained_of(const PosedRule& rule) const {
  const auto reads = [](const Expression& e, const Name& name) {
    const std::vector<Name> names = e.names();
    return std::any_of(names.begin(), names.end(), [&](const Name& other) {
      return other.kind == name.kind && other.index == name.index;
    });
  };
  const std::vector<Name> names = rule.expression.names();
  return std::any_of(faults_.begin(), faults_.end(), [&](const SeenFault& f) {
    return !f.kind->is_of_hem() && std::any_of(names.begin(), names.end(), [&](const Name& name) {
      return (name.kind == NameKind::measure || name.kind == NameKind::value) &&
             reads(f.kind->reads, name);
    });
  });
}

bool Asked::worsened(const Finding& f) const {
  const Finding* was = same_among(before_, f);
  return was == nullptr || std::abs(f.miss) > std::abs(was->miss) + kUnfelt * f.tolerance;
}

bool Asked::is_left(const Finding& f) const {
  if (!is_felt(f) || f.strength > Level::should) return false;
  if (f.strength == Level::must) return std::abs(f.miss) > f.tolerance || worsened(f);
  if (f.group == kFaultGroup) return true;
  const PosedRule* rule = rule_of(f);
  return (rule != nullptr && is_called_for(*rule)) || worsened(f);
}

bool Asked::leaves_no_more(const std::vector<Finding>& other,
                           const std::vector<Finding>& than) const {
  return std::all_of(other.begin(), other.end(), [&](const Finding& f) {
    if (!is_left(f)) return true;
    const Finding* same = same_among(than, f);
    const double felt = f.strength == Level::must ? kUnfeltMust : kUnfelt;
    return same != nullptr && is_left(*same) &&
           std::abs(f.miss) <= std::abs(same->miss) + felt * f.tolerance;
  });
}

solver::ChoiceProblem Asked::choice_among(const std::vector<Possible>& moves) const {
  solver::ChoiceProblem choice;
  const std::vector<double> now = outputs_at(*posed_, worn_before_.values, worn_before_.measures);
  std::vector<const PosedRule*> owner(now.size(), nullptr);
  for (const PosedRule& rule : posed_->rules) {
    for (const int i : rule.outputs) owner[static_cast<size_t>(i)] = &rule;
  }
  for (int i = 0; i < posed_->first_habit; ++i) {
    const PosedRule& rule = *owner[static_cast<size_t>(i)];
    solver::Output output = wanted(i, rule, now[static_cast<size_t>(i)]);
    if (!concerns(rule, made_.kind)) output.lo = -kInfinity, output.hi = kInfinity;
    choice.problem.outputs.push_back(output);
  }
  std::vector<const FaultKind*> kinds;
  for (size_t i = 0; i < faults_.size(); ++i) {
    const SeenFault& fault = faults_[i];
    kinds.push_back(fault.kind);
    choice.problem.outputs.push_back(
        {fault.kind->name, -kInfinity, complaints_[i], fault.error, Level::should});
  }
  for (const solver::Output& guard : guards(made_, worn_before_))
    choice.problem.outputs.push_back(guard);
  const OpeningMinutes shared = shared_minutes(moves);
  for (size_t i = 0; i < shared.size(); ++i) {
    if (!(shared[i] > 0)) continue;
    solver::SharedWork work{shared[i], {}};
    for (size_t k = 0; k < moves.size(); ++k) {
      if (opens(moves[k], static_cast<Opening>(i))) work.moves.push_back(static_cast<int>(k));
    }
    choice.shared.push_back(std::move(work));
  }
  for (const Possible& p : moves) {
    const bool angle = info(p.move->change).dimension == kAngle;
    choice.problem.variables.push_back(
        {p.move->name, 0, p.limits.most, angle ? radians(3) : 1.0, 0});
    double own = p.limits.minutes_fixed;
    for (size_t i = 0; i < shared.size(); ++i) {
      if (opens(p, static_cast<Opening>(i))) own -= shared[i];
    }
    choice.moves.push_back({std::max(own, 0.0), minutes_per_inside(p), p.limits.least});
  }
  for (size_t a = 0; a < moves.size(); ++a) {
    for (size_t b = a + 1; b < moves.size(); ++b) {
      // No allowance can be let out twice over.
      const auto& held = moves[a].move->let_out_of;
      if (inverse_of(moves[a].move->change) == moves[b].move->change ||
          (held && held == moves[b].move->let_out_of))
        choice.exclusive.emplace_back(static_cast<int>(a), static_cast<int>(b));
    }
  }
  choice.problem.function =
      std::make_shared<AlteredFunction>(made_, moves, posed_, std::move(kinds));
  return choice;
}

}  // namespace easewright
