#include "model/fit.h"

#include "model/pose.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <set>
#include <utility>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;
using solver::Standing;

Switches switches_for(const Job& job, int put_on) {
  Switches switches = job.style.switches;
  switches.at[static_cast<size_t>(Switch::put_on)] = put_on;
  switches.set(Switch::build,
               job.body.build == Build::woman ? "woman"
               : job.body.build == Build::man ? "man"
                                              : "child");
  return switches;
}

std::vector<int> routes_of(const Style& style) {
  if (!style.put_on.empty()) return style.put_on;
  return {style.switches.at[static_cast<size_t>(Switch::put_on)]};
}

double limit(const std::optional<Expression>& e,
             double open,
             const FrameFacts& facts,
             const FitResult& result) {
  return e ? evaluate(*e, facts, result.values, result.measures) : open;
}

Finding find(const PosedRule& rule,
             const Posed& posed,
             const FrameFacts& facts,
             const FitResult& result) {
  Finding f;
  f.name = rule.name;
  f.group = rule.rule != nullptr ? rule.rule->group : "wish";
  f.rule = rule.rule;
  f.wish_id = rule.wish_id;
  f.strength = rule.strength;
  f.tolerance = rule.tolerance;
  f.dimension = rule.expression.dimension();
  f.outputs = rule.outputs;
  f.value = evaluate(rule.expression, facts, result.values, result.measures);
  f.lo = limit(rule.lo, -kInfinity, facts, result);
  f.hi = limit(rule.hi, kInfinity, facts, result);
  for (const int i : rule.outputs) {
    const auto at = static_cast<size_t>(i);
    if (std::abs(result.outcome.miss[at]) > std::abs(f.miss)) f.miss = result.outcome.miss[at];
    if (std::abs(result.outcome.pull[at]) > std::abs(f.pull)) f.pull = result.outcome.pull[at];
    f.missed = f.missed || solver::is_missed(posed.problem, result.outcome, i);
    const Standing standing = result.outcome.standing[at];
    f.tight = f.tight || standing == Standing::at_lower || standing == Standing::at_upper;
  }
  f.tight = f.tight && !f.missed;
  return f;
}

/// Misses first, by strength and then by size in tolerances; the rest in the catalogue's order.
void sort_findings(std::vector<Finding>& findings) {
  const auto rank = [](const Finding& f) {
    return f.missed ? static_cast<double>(f.strength) * 1e6 - std::abs(f.miss) / f.tolerance : 1e9;
  };
  std::stable_sort(findings.begin(), findings.end(), [&](const Finding& a, const Finding& b) {
    return rank(a) < rank(b);
  });
}

/// Depth below the waist at which a full step bares the leg: the first at which the overlap no
/// longer makes up what the girth lacks. Nothing when it covers to the hem.
std::optional<double> step_bares_from(const Posed& posed, const Values<double>& v) {
  const Frame& f = posed.frame;
  if (!f.wrapped) return std::nullopt;
  const double length = v[ValueKey::skirt_length];
  const double run = v[ValueKey::slit_run_in], start = v[ValueKey::slit_start];
  const double hip = 2 * (v[ValueKey::skirt_back_width] + v[ValueKey::skirt_front_width]) -
                     v[ValueKey::skirt_overlap];
  for (double y = f.hip_y; y < length; y += 0.5) {
    const double u = std::max(0.0, y - start) / std::max(1.0, length - start);
    const double overlap = v[ValueKey::skirt_overlap] - 2 * run * u * u;
    const double girth = hip + 4 * v[ValueKey::skirt_flare] * (y - f.hip_y) / (length - f.hip_y);
    const double height = f.body[BodyKey::waist_height] - y;
    const double need =
        walking_girth(height, f.leg_girth.at(height), f.step, f.body[BodyKey::trochanter_height]);
    if (y >= v[ValueKey::slit_catch] && overlap < std::max(0.0, need - girth)) return y;
  }
  return std::nullopt;
}

void say(FitResult& result, std::string text, std::vector<double> lengths = {}) {
  result.notes.push_back({std::move(text), std::move(lengths)});
}

/// What the slip says too.
void say_of_sewing(FitResult& result, std::string text, std::vector<double> lengths = {}) {
  say(result, std::move(text), std::move(lengths));
  result.notes.back().on_slip = true;
}

void note_turning(const Posed& posed, FitResult& result) {
  if (!posed.frame.lined) return;
  const bool seam = posed.frame.switches.is(Switch::centre_back, "seam");
  const double spare =
      result.measures[seam ? MeasureKey::strap_turns_half : MeasureKey::strap_turns];
  if (spare < 0) {
    say_of_sewing(
        result,
        "Turning: the strap is too narrow for the back to pass; close the straps last (about 20 "
        "min more).");
  } else if (seam) {
    say_of_sewing(
        result,
        "Turning: each half back passes through its strap; leave the centre back open until then.");
  } else {
    say_of_sewing(result,
                  "Turning: the whole back passes through one strap; roll one armhole at a time.");
  }
}

void note_cutting(const Posed& posed, FitResult& result) {
  if (posed.frame.lined) {
    const bool seam = posed.frame.switches.is(Switch::centre_back, "seam");
    say_of_sewing(
        result,
        std::string("Lining: neck and armhole edges {} smaller than the shell's, {} longer at the "
                    "waist; ") +
            (seam ? "front cut twice on the fold." : "front and back cut 4 times on the fold."),
        {0.2, 1.0});
  }
  if (posed.frame.wrapped) {
    say_of_sewing(
        result,
        "Fronts of the skirt are left and right, not on the fold; nap or print decides which lies "
        "on top.");
  }
}

void note_balance(const Posed& posed, FitResult& result) {
  const bool taped = posed.frame.body.at(BodyKey::front_over_bust).origin != Origin::estimated &&
                     posed.frame.body.at(BodyKey::back_waist_length).origin != Origin::estimated;
  // What is cut, which the rule lets differ from the balance by its own range.
  const double shift = result.values[ValueKey::bodice_centre_front];
  if (std::abs(shift) < 0.2) return;
  const char* cause = !taped ? "A length was estimated: tape front over bust and back waist length."
                      : shift > 0
                          ? "A round back, or the front taped short: tape it again."
                          : "An erect or full front, or the back taped short: tape it again.";
  say(result,
      std::string("Front and back lengths don't balance: the centre front waist is cut {} ") +
          (shift > 0 ? "shorter. " : "longer. ") + cause,
      {std::abs(shift)});
}

void note_armhole(const Posed& posed, FitResult& result) {
  // The 1988 women's gap is -3.4 +- 3.0: what lies outside it looks like a slip of the tape.
  const Frame& f = posed.frame;
  const auto taped = [&f](BodyKey key) { return f.body.at(key).origin == Origin::measured; };
  if (!taped(BodyKey::scye_depth) || !taped(BodyKey::armscye_girth)) return;
  if (f.armscye_gap > -8 && f.armscye_gap < 2.5) return;
  say(result,
      f.armscye_gap < 0 ? "Armscye girth and scye depth don't agree: an armhole drawn to the depth "
                          "is {} smaller than the girth. Tape both again."
                        : "Armscye girth and scye depth don't agree: an armhole drawn to the depth "
                          "is {} larger than the girth. Tape both again.",
      {std::abs(f.armscye_gap)});
}

void note_cautions(FitResult& result) {
  std::set<std::string> said;
  for (const Finding& f : result.findings) {
    if (f.rule == nullptr || f.rule->caution.empty()) continue;
    if ((f.missed || f.tight) && said.insert(f.rule->caution).second) say(result, f.rule->caution);
  }
}

/// Reads an outcome back into the garment's words.
void interpret(const Posed& posed, FitResult& result) {
  result.values = posed.values_at(result.outcome.x);
  result.measures = measure(posed.frame, result.values);
  result.has_value = posed.has_value;
  result.has_measure.assign(kMeasureKeys, false);
  for (size_t i = 0; i < kMeasureKeys; ++i) {
    result.has_measure[i] = has_measure(posed.frame.switches, static_cast<MeasureKey>(i));
  }
  result.findings.clear();
  const FrameFacts facts(posed.frame);
  result.findings.reserve(posed.rules.size());
  for (const PosedRule& rule : posed.rules)
    result.findings.push_back(find(rule, posed, facts, result));
  sort_findings(result.findings);
  result.undecided.clear();
  for (const int j : result.outcome.undecided)
    result.undecided.push_back(posed.keys[static_cast<size_t>(j)]);
  result.notes.clear();
  note_turning(posed, result);
  note_cutting(posed, result);
  note_balance(posed, result);
  note_armhole(posed, result);
  if (const auto from = step_bares_from(posed, result.values)) {
    say(result, "At a full step the fronts part {} below the waist and lower.", {*from});
  }
  note_cautions(result);
}

double total(const solver::Outcome& outcome, Level level) {
  return outcome.total[static_cast<size_t>(level)];
}

/// True when a is better than b by more than a hundredth of a tolerance at the first level where
/// they differ: small gains do not justify a less usual way of dressing. Wishes do not count: no
/// one sews in an opening for taste unasked.
bool beats(const solver::Outcome& a, const solver::Outcome& b) {
  for (const Level level : {Level::must, Level::should}) {
    const double gain = total(b, level) - total(a, level);
    if (std::abs(gain) > 0.01) return gain > 0;
  }
  return false;
}

using Settle = std::function<solver::Outcome(const Posed&)>;

/// Tries the ways of putting the garment on, in the style's order, until musts and shoulds hold;
/// keeps the best.
FitResult try_routes(const Job& job, const Catalogue& catalogue, const Settle& settle) {
  FitResult result;
  result.switches = switches_for(job, routes_of(job.style).front());
  result.completed = complete(job.body, waist_level_of(result.switches), catalogue.bodies);
  if (has_error(result.completed)) return result;

  for (const int option : routes_of(job.style)) {
    const Switches switches = switches_for(job, option);
    auto posed = pose(job, catalogue, result.completed.body, switches);
    solver::Outcome outcome = settle(*posed);
    result.routes.push_back({option,
                             outcome.holds(posed->problem, Level::must),
                             total(outcome, Level::must) + total(outcome, Level::should)});
    const bool settles = outcome.holds(posed->problem, Level::should);
    if (result.posed == nullptr || beats(outcome, result.outcome)) {
      result.switches = switches;
      result.posed = std::move(posed);
      result.outcome = std::move(outcome);
    }
    if (settles) break;
  }
  interpret(*result.posed, result);
  return result;
}

}  // namespace

bool FitResult::all_hold(Level down_to) const {
  return std::none_of(findings.begin(), findings.end(), [down_to](const Finding& f) {
    return f.missed && f.strength <= down_to;
  });
}

FitResult fit(const Job& job, const Catalogue& catalogue, const solver::SolveOptions& options) {
  return try_routes(job, catalogue, [&options](const Posed& posed) {
    return solver::solve(posed.problem, options);
  });
}

std::vector<CrossedLimits> crossed_limits(const Job& job, const Catalogue& catalogue) {
  const Switches switches = switches_for(job, routes_of(job.style).front());
  const Completed completed = complete(job.body, waist_level_of(switches), catalogue.bodies);
  if (has_error(completed)) return {};
  return crossed_limits(job, catalogue, completed.body, switches);
}

void reinterpret(FitResult& result, const solver::Outcome& outcome) {
  const std::shared_ptr<const Posed> posed = result.posed;
  result.outcome = solver::evaluate(posed->problem, outcome.x);
  result.outcome.status = outcome.status;
  result.outcome.pull = outcome.pull;
  result.outcome.bound_pull = outcome.bound_pull;
  result.outcome.optimality = outcome.optimality;
  result.outcome.rank = outcome.rank;
  result.outcome.undecided = outcome.undecided;
  result.outcome.starts_tried = outcome.starts_tried;
  result.outcome.starts_agreed = outcome.starts_agreed;
  interpret(*posed, result);
}

FitResult check(const Job& job, const Catalogue& catalogue) {
  return try_routes(job, catalogue, [&job](const Posed& posed) {
    std::vector<double> x;
    for (const ValueKey key : posed.keys) {
      double value = posed.base[key];
      for (const auto& [given, amount] : job.draft) {
        if (given == key) value = amount;
      }
      x.push_back(value);
    }
    return solver::evaluate(posed.problem, x);
  });
}

std::vector<Finding> findings_at(const Posed& posed,
                                 const Values<double>& values,
                                 const Measures<double>& measures) {
  FitResult result;
  result.values = values;
  result.measures = measures;
  result.outcome.g = outputs_at(posed, values, measures);
  for (size_t i = 0; i < result.outcome.g.size(); ++i) {
    const solver::Output& output = posed.problem.outputs[i];
    const double g = result.outcome.g[i];
    result.outcome.miss.push_back(std::min(g - output.lo, 0.0) + std::max(g - output.hi, 0.0));
    const double hair = solver::kHolds * output.tolerance;
    result.outcome.standing.push_back(g < output.lo - hair    ? Standing::below
                                      : g > output.hi + hair  ? Standing::above
                                      : g <= output.lo + hair ? Standing::at_lower
                                      : g >= output.hi - hair ? Standing::at_upper
                                                              : Standing::inside);
  }
  result.outcome.pull.assign(result.outcome.g.size(), 0.0);
  std::vector<Finding> findings;
  const FrameFacts facts(posed.frame);
  for (const PosedRule& rule : posed.rules) findings.push_back(find(rule, posed, facts, result));
  sort_findings(findings);
  return findings;
}

}  // namespace easewright
