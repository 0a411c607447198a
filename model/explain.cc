#include "model/explain.h"

#include "model/rules/expression_evaluate.h"
#include "solver/remedy.h"

#include <algorithm>
#include <cmath>

#include <tbb/parallel_for.h>

namespace easewright {
namespace {

using solver::Level;
using solver::Member;
using solver::Side;

/// Place in Posed::rules of the rule that an output belongs to; -1 for a habit.
int rule_of_output(const Posed& posed, int output) {
  for (size_t i = 0; i < posed.rules.size(); ++i) {
    const auto& outputs = posed.rules[i].outputs;
    if (std::find(outputs.begin(), outputs.end(), output) != outputs.end())
      return static_cast<int>(i);
  }
  return -1;
}

const PosedRule* rule_of(const Posed& posed, const Member& member) {
  if (member.kind == Member::Kind::bound) return nullptr;
  const int i = rule_of_output(posed, member.index);
  return i < 0 ? nullptr : &posed.rules[static_cast<size_t>(i)];
}

/// Deletion keeps what is easiest to change: a wish, then a value's limit, then what is only
/// comfort.
double changeable(const Posed& posed, const Member& member) {
  if (member.kind == Member::Kind::bound) return 3;
  const PosedRule* rule = rule_of(posed, member);
  if (rule == nullptr) return 0;
  if (!rule->wish_id.empty()) return 4;
  return rule->strength == Level::must ? 0 : rule->strength == Level::should ? 1 : 2;
}

/// A limit of 0 is nature's (no share of an angle, no length is less than nothing); any other is
/// the style's.
bool user_can_change(const Posed& posed, const Member& member) {
  if (member.kind == Member::Kind::bound) return solver::limit_of(posed.problem, member) != 0;
  const PosedRule* rule = rule_of(posed, member);
  return rule != nullptr && !rule->wish_id.empty();
}

/// Rounds a limit away from where it stood, so that what is typed is never short of what is needed.
double rounded_out(double value, Side side, double step) {
  const double steps = value / step;
  return step * (side == Side::lower ? std::floor(steps + 1e-6) : std::ceil(steps - 1e-6));
}

double step_of(Dimension dimension, const ExplainOptions& options) {
  if (dimension == kAngle) return radians(0.5);
  return dimension == kRatio ? 0.01 : options.round_cm;
}

std::optional<CureStep> step_of_change(const Posed& posed,
                                       const solver::Change& change,
                                       const ExplainOptions& options) {
  const Member& member = change.member;
  CureStep step;
  step.side = member.side;
  step.from = solver::limit_of(posed.problem, member);
  const double outwards = member.side == Side::lower ? -1 : 1;
  if (member.kind == Member::Kind::bound) {
    const ValueInfo& value = info(posed.keys[static_cast<size_t>(member.index)]);
    step.kind = CureStep::Kind::limit;
    step.id = std::string(value.id);
    step.dimension = value.dimension;
  } else {
    const PosedRule* rule = rule_of(posed, member);
    if (rule == nullptr || rule->wish_id.empty()) return std::nullopt;
    step.kind = CureStep::Kind::wish;
    step.id = rule->wish_id;
    step.dimension = rule->expression.dimension();
  }
  // A solve is right to a thousandth of a tolerance: the cure gives that much more before it is
  // rounded.
  const double grace = solver::kHolds * solver::felt(posed.problem, member);
  step.to = rounded_out(
      step.from + outwards * (change.by + grace), member.side, step_of(step.dimension, options));
  // A limit or a wish of something that is there is not cured by less than nothing.
  if (step.from > 0 && step.to < 0) return std::nullopt;
  return step;
}

/// Options of the style that are off and may help a conflict of these groups: a dart, a stay,
/// another way in.
struct Off {
  Switch which;
  const char* option;
  ValueKey story;
  std::vector<std::string_view> groups;
};

const std::vector<Off>& options_that_help() {
  static const std::vector<Off> options = {
      {Switch::side_dart,
       "sewn",
       ValueKey::shaping_side,
       {"bust shaping", "neckline", "armhole", "waist and casing"}},
      {Switch::stay, "taped", ValueKey::neckline_taken, {"neckline"}},
      {Switch::put_on, "side opening", ValueKey::count, {"dressing"}},
      {Switch::put_on, "over the head", ValueKey::count, {"dressing"}},
      {Switch::waist_edge, "overlocked", ValueKey::count, {"waist and casing"}},
      {Switch::belt, "none", ValueKey::count, {"belt"}},
  };
  return options;
}

const Finding* finding_named(const FitResult& result, const std::string& name) {
  for (const Finding& f : result.findings) {
    if (f.name == name) return &f;
  }
  return nullptr;
}

/// A rule as strong may lose so much of its tolerance: rounding of what is typed.
constexpr double kMayLose = 0.05;

/// True when `rule` holds in the new fit, no level down to its own is missed by more in all, and no
/// rule as strong by more for itself.
bool settles(const FitResult& before, const FitResult& after, const PosedRule& rule) {
  if (after.posed == nullptr) return false;
  const Finding* finding = finding_named(after, rule.name);
  if (finding != nullptr && finding->missed) return false;
  for (int level = 0; level <= static_cast<int>(rule.strength); ++level) {
    const auto l = static_cast<size_t>(level);
    if (after.outcome.total[l] > before.outcome.total[l] + 0.01) return false;
  }
  return std::none_of(after.findings.begin(), after.findings.end(), [&](const Finding& f) {
    if (!f.missed || f.strength > rule.strength) return false;
    const Finding* then = finding_named(before, f.name);
    const double was = then != nullptr ? std::abs(then->miss) / then->tolerance : 0;
    return std::abs(f.miss) / f.tolerance > was + kMayLose;
  });
}

class Explainer {
 public:
  Explainer(const Job& job,
            const Catalogue& catalogue,
            const FitResult& result,
            const ExplainOptions& options)
      : job_(job),
        catalogue_(catalogue),
        result_(result),
        posed_(*result.posed),
        options_(options) {}

  Explanation explain(int missed_output) const {
    Explanation e;
    e.rule = rule_of_output(posed_, missed_output);
    solver::ConflictOptions conflict_options;
    conflict_options.changeable = [this](const Member& m) { return changeable(posed_, m); };
    const solver::Conflict conflict =
        solver::find_conflict(posed_.problem, result_.outcome, missed_output, conflict_options);
    for (const Member& member : conflict.members) {
      Participant p = participant_of(result_, member);
      if (p.rule >= 0 &&
          std::find(conflict.widened.begin(), conflict.widened.end(), member.index) !=
              conflict.widened.end()) {
        p.as_got = true;
        p.at = evaluate(posed_.rules[static_cast<size_t>(p.rule)].expression,
                        posed_.frame,
                        result_.values,
                        result_.measures);
      }
      e.members.push_back(p);
    }
    e.proved = conflict.proved;
    e.solves = conflict.solves;
    cure_by_change(conflict, e);
    if (only_gives_up(e)) cure_by_trial(conflict, e);
    if (options_.try_options) cure_by_option(e);
    return e;
  }

 private:
  const PosedRule& rule(const Explanation& e) const {
    return posed_.rules[static_cast<size_t>(e.rule)];
  }

  bool is_full(const Explanation& e) const {
    return static_cast<int>(e.cures.size()) >= options_.most_cures;
  }

  /// No cure, or none but to take the missed wish as it came out.
  bool only_gives_up(const Explanation& e) const {
    return std::all_of(e.cures.begin(), e.cures.end(), [&](const Cure& cure) {
      return cure.steps.size() == 1 && cure.steps[0].id == rule(e).wish_id;
    });
  }

  void cure_by_change(const solver::Conflict& conflict, Explanation& e) const {
    if (conflict.members.empty()) return;
    solver::RemedyOptions remedy_options;
    remedy_options.most_pairs = 12;
    remedy_options.may_give = [this](const Member& m) { return user_can_change(posed_, m); };
    for (const solver::Remedy& remedy :
         solver::find_remedies(posed_.problem, result_.outcome, conflict, remedy_options)) {
      if (is_full(e)) return;
      Cure cure;
      cure.asks = remedy.asks;
      for (const solver::Change& change : remedy.changes) {
        if (const auto step = step_of_change(posed_, change, options_)) cure.steps.push_back(*step);
      }
      if (cure.steps.size() == remedy.changes.size()) try_cure(std::move(cure), e);
    }
  }

  /// Where the rest can't all hold beside the missed one at any price, the solver names no remedy;
  /// yet a wish that gives may settle this miss by settling another. Fitted at growing steps, then
  /// halved.
  void cure_by_trial(const solver::Conflict& conflict, Explanation& e) const {
    for (const Member& member : conflict.members) {
      if (is_full(e)) return;
      const bool wish = member.kind == Member::Kind::output && user_can_change(posed_, member);
      if (!wish || rule_of_output(posed_, member.index) == e.rule) continue;
      const double felt = solver::felt(posed_.problem, member);
      const auto tried = [&](double tolerances) -> std::optional<Cure> {
        const auto step =
            step_of_change(posed_, {.member = member, .by = tolerances * felt}, options_);
        if (!step) return std::nullopt;
        Cure cure;
        cure.steps.push_back(*step);
        cure.asks = tolerances;
        if (!settles(result_, fit_near(cure.steps), rule(e))) return std::nullopt;
        return cure;
      };
      constexpr double kMostAsked = 16;  // tolerances
      double without = 0, with = 1;
      std::optional<Cure> found;
      while (with <= kMostAsked && !(found = tried(with))) {
        without = with;
        with *= 4;
      }
      if (!found) continue;
      while ((with - without) * felt > 0.5 * step_of(found->steps[0].dimension, options_)) {
        const double middle = 0.5 * (without + with);
        std::optional<Cure> nearer = tried(middle);
        if (nearer) found = std::move(nearer);
        (found->asks == middle ? with : without) = middle;
      }
      try_cure(std::move(*found), e);
    }
    std::stable_sort(e.cures.begin(), e.cures.end(), [](const Cure& a, const Cure& b) {
      return a.asks < b.asks;
    });
  }

  /// Rounding and another basin can leave a hair: one more step of rounding is tried before the
  /// cure is dropped; and where a wish says exactly how much, stronger rules may want a figure that
  /// no rounded one meets, so that a range is tried at last.
  void try_cure(Cure cure, Explanation& e) const {
    for (const bool between : {false, true}) {
      Cure trial = cure;
      for (CureStep& step : trial.steps) {
        if (between && !says_exactly(step)) return;
        step.between = between;
      }
      for (int attempt = 0; attempt < 2; ++attempt) {
        if (settles(result_, fit_near(trial.steps), rule(e))) {
          trial.after = fit_with(trial.steps);
          if (settles(result_, trial.after, rule(e))) {
            e.cures.push_back(std::move(trial));
            return;
          }
        }
        for (CureStep& step : trial.steps)
          step.to += (step.side == Side::lower ? -1 : 1) * step_of(step.dimension, options_);
      }
    }
  }

  bool says_exactly(const CureStep& step) const {
    return step.kind == CureStep::Kind::wish &&
           std::any_of(posed_.rules.begin(), posed_.rules.end(), [&](const PosedRule& r) {
             return r.wish_id == step.id && r.lo && r.hi && r.lo->text() == r.hi->text();
           });
  }

  bool concerns(const Explanation& e, const Off& off) const {
    return std::any_of(e.members.begin(), e.members.end(), [&](const Participant& p) {
      if (p.rule < 0) return false;
      const Rule* member = posed_.rules[static_cast<size_t>(p.rule)].rule;
      return member != nullptr &&
             std::find(off.groups.begin(), off.groups.end(), member->group) != off.groups.end();
    });
  }

  void cure_by_option(Explanation& e) const {
    for (const Off& off : options_that_help()) {
      if (is_full(e) || result_.switches.is(off.which, off.option) || !concerns(e, off)) continue;
      Cure cure;
      CureStep step;
      step.kind = CureStep::Kind::option;
      step.which = off.which;
      step.option = off.option;
      cure.steps.push_back(step);
      cure.after = fit_with(cure.steps);
      if (!settles(result_, cure.after, rule(e))) continue;
      if (off.story != ValueKey::count && cure.after.has_value[static_cast<size_t>(off.story)]) {
        cure.steps[0].added = off.story;
        cure.steps[0].added_amount = cure.after.values[off.story];
      }
      e.cures.push_back(std::move(cure));
    }
  }

  /// The job with the steps taken, fitted as anyone would who types them.
  FitResult fit_with(const std::vector<CureStep>& steps) const {
    return fit(with_cure(job_, result_, steps), catalogue_);
  }

  /// The same from the answer that stands and put on in the same way: quick, and as a rule right.
  /// Wishes and limits only: an option changes which values there are.
  FitResult fit_near(const std::vector<CureStep>& steps) const {
    Job changed = with_cure(job_, result_, steps);
    changed.style.put_on = {result_.switches.at[static_cast<size_t>(Switch::put_on)]};
    return fit(changed, catalogue_, {.starts = 1, .warm_start = &result_.outcome.x});
  }

  const Job& job_;
  const Catalogue& catalogue_;
  const FitResult& result_;
  const Posed& posed_;
  ExplainOptions options_;
};

/// The wish as it stands in the problem, its limits as plain numbers.
Wish wish_in(const Posed& posed, const FitResult& result, const std::string& id) {
  Wish wish;
  wish.id = id;
  for (const PosedRule& rule : posed.rules) {
    if (rule.wish_id != id) continue;
    wish.tolerance = rule.tolerance;
    wish.strength = rule.strength;
    const auto number = [&](const std::optional<Expression>& e) -> std::optional<Expression> {
      if (!e) return std::nullopt;
      return Expression(evaluate(*e, posed.frame, result.values, result.measures),
                        rule.expression.dimension());
    };
    wish.lo = number(rule.lo);
    wish.hi = number(rule.hi);
    const bool is = wish.lo && wish.hi && rule.lo->text() == rule.hi->text();
    if (is) wish.hi = wish.lo;
  }
  wish.where = "cure";
  return wish;
}

double number(const Expression& e) { return e.evaluate(Facts<double>{}); }

}  // namespace

Participant participant_of(const FitResult& result, const Member& member) {
  const Posed& posed = *result.posed;
  Participant p;
  p.side = member.side;
  if (member.kind == Member::Kind::bound) {
    p.kind = Participant::Kind::limit;
    p.value = posed.keys[static_cast<size_t>(member.index)];
    p.at = solver::limit_of(posed.problem, member);
    return p;
  }
  p.rule = rule_of_output(posed, member.index);
  if (p.rule < 0) return p;
  const PosedRule& rule = posed.rules[static_cast<size_t>(p.rule)];
  p.kind = rule.wish_id.empty() ? Participant::Kind::rule : Participant::Kind::wish;
  const auto& limit = member.side == Side::lower ? rule.lo : rule.hi;
  p.at = evaluate(limit ? *limit : rule.expression, posed.frame, result.values, result.measures);
  return p;
}

Job with_cure(const Job& job, const FitResult& result, const std::vector<CureStep>& steps) {
  const Posed& posed = *result.posed;
  Job changed = job;
  for (const CureStep& step : steps) {
    const Expression to(step.to, step.dimension);
    switch (step.kind) {
      case CureStep::Kind::option:
        changed.style.switches.set(step.which, step.option);
        if (step.which == Switch::put_on) changed.style.put_on.clear();
        break;
      case CureStep::Kind::wish: {
        Wish wish = wish_in(posed, result, step.id);
        const bool is = !step.between && wish.lo && wish.hi && number(*wish.lo) == number(*wish.hi);
        // 'is 24' becomes 'is 19.8', or '19.8 to 24'; a range gives on its own side.
        if (is || step.side == Side::lower) wish.lo = to;
        if (is || step.side == Side::upper) wish.hi = to;
        changed.wishes.push_back(wish);
        break;
      }
      case CureStep::Kind::limit: {
        ValueOverride own;
        for (int i = 0; i < kValueKeys; ++i) {
          if (info(static_cast<ValueKey>(i)).id == step.id) own.key = static_cast<ValueKey>(i);
        }
        // The last override of a value wins whole, so it starts from the one that stands.
        for (const ValueOverride& o : changed.style.overrides) {
          if (o.key == own.key) own = o;
        }
        (step.side == Side::lower ? own.least : own.most) = to;
        changed.style.overrides.push_back(own);
        break;
      }
    }
  }
  return changed;
}

std::vector<Explanation> explain(const Job& job,
                                 const Catalogue& catalogue,
                                 const FitResult& result,
                                 const ExplainOptions& options) {
  if (result.posed == nullptr) return {};
  std::vector<int> missed;
  for (const Finding& f : result.findings) {
    if (!f.missed || f.strength > Level::wish) continue;
    // Of two outputs (both limits vary) the one that is further out is explained.
    int worst = f.outputs.front();
    for (const int i : f.outputs) {
      if (std::abs(result.outcome.miss[static_cast<size_t>(i)]) >
          std::abs(result.outcome.miss[static_cast<size_t>(worst)]))
        worst = i;
    }
    missed.push_back(worst);
  }
  // No explanation needs another, so that they are found side by side.
  std::vector<Explanation> explanations(missed.size());
  const auto find = [&](size_t i) {
    explanations[i] = Explainer(job, catalogue, result, options).explain(missed[i]);
  };
  tbb::parallel_for(size_t{0}, missed.size(), find, tbb::simple_partitioner());
  return explanations;
}

}  // namespace easewright
