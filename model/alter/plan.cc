#include "model/alter/plan.h"

#include "solver/choice.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;

/// A move that can be done on the garment at hand.
struct Possible {
  const Move* move = nullptr;
  MoveLimits limits;
};

/// A miss below this share of its tolerance isn't felt and does not call for work.
constexpr double kUnfelt = 1.0;

/// Minutes for each cm or radian.
double minutes_per_inside(const Possible& p) {
  const bool angle = info(p.move->change).dimension == kAngle;
  return angle ? degrees(p.limits.minutes_per_unit) : p.limits.minutes_per_unit;
}

/// The garment after the moves by these amounts, in the order of work.
Made after(const Made& made, const std::vector<Possible>& moves, const double* amounts) {
  Made result = made;
  for (size_t k = 0; k < moves.size(); ++k) {
    if (amounts[k] > 0) result = changed(result, moves[k].move->change, amounts[k]);
  }
  return result;
}

/// Rules of the garment after moves, judged on one body. Outputs are the posed ones without habits.
class AlteredFunction final : public solver::Function {
 public:
  AlteredFunction(const Made& made, std::vector<Possible> moves, std::shared_ptr<const Posed> posed)
      : moves_(std::move(moves)), posed_(std::move(posed)) {
    stages_.push_back(made);
  }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    const size_t n = moves_.size(), m = static_cast<size_t>(posed_->first_habit);
    // The garment before each move: a move's derivative needs only it and those after it.
    std::vector<Made> stages;
    stages.reserve(n + 1);
    stages.push_back(stages_.front());
    for (size_t k = 0; k < n; ++k) stages.push_back(step(stages.back(), k, x[k]));
    read(stages.back(), g);
    if (jacobian == nullptr) return;
    std::vector<double> there(m);
    for (size_t k = 0; k < n; ++k) {
      Made moved = step(stages[k], k, x[k] + kNudge);
      for (size_t j = k + 1; j < n; ++j) moved = step(moved, j, x[j]);
      read(moved, there.data());
      for (size_t i = 0; i < m; ++i) jacobian[i * n + k] = (there[i] - g[i]) / kNudge;
    }
  }

 private:
  // Forward differences: an amount can't be negative, and measures are good to 1e-12.
  static constexpr double kNudge = 1e-5;

  Made step(const Made& made, size_t k, double amount) const {
    return amount > 0 ? changed(made, moves_[k].move->change, amount) : made;
  }

  void read(const Made& made, double* g) const {
    const Worn worn = wear(made, posed_->frame);
    const std::vector<double> all = outputs_at(*posed_, worn.values, worn.measures);
    std::copy_n(all.begin(), posed_->first_habit, g);
  }

  std::vector<Made> stages_;
  std::vector<Possible> moves_;
  std::shared_ptr<const Posed> posed_;
};

/// Whether a garment of this kind has what the rule is about: a skirt alone has no bodice.
bool concerns(const PosedRule& rule, MadeKind kind) {
  if (kind != MadeKind::skirt) return true;
  const auto of_skirt = [](const std::optional<Expression>& e) {
    if (!e) return true;
    const auto& names = e->names();
    return std::all_of(names.begin(), names.end(), [](const Name& name) {
      if (name.kind == NameKind::value)
        return name.index > static_cast<int>(ValueKey::casing_allowance);
      if (name.kind == NameKind::measure) {
        const auto key = static_cast<MeasureKey>(name.index);
        return key >= MeasureKey::skirt_hip && key != MeasureKey::skirt_waist_mismatch;
      }
      return true;
    });
  };
  return of_skirt(rule.expression) && of_skirt(rule.lo) && of_skirt(rule.hi);
}

/// True where a rule's miss is felt: more than its tolerance, or any at all of a must.
bool is_felt(const Finding& f) {
  return f.missed && (f.strength == Level::must || std::abs(f.miss) > kUnfelt * f.tolerance);
}

class Planner {
 public:
  Planner(const Job& job,
          const InHand& in_hand,
          const Catalogue& catalogue,
          const AlterCatalogue& vocabulary,
          const AlterOptions& options,
          AlterResult& result)
      : job_(job),
        in_hand_(in_hand),
        catalogue_(catalogue),
        vocabulary_(vocabulary),
        options_(options),
        result_(result) {}

  void run() {
    if (!find_garment()) return;
    find_wearer();
    if (has_error(result_.taped)) return;
    judge_before();
    find_moves();
    choose();
    find_unmet();
  }

 private:
  /// The garment as made: a fit of the body that it was made for, corrected by what was read on it.
  bool find_garment() {
    Job made_job = job_;
    if (in_hand_.made_for) made_job.body = *in_hand_.made_for;
    for (const Wish& wish : in_hand_.made_wishes) made_job.wishes.push_back(wish);
    const FitResult drafted = fit(made_job, catalogue_);
    result_.made_for = drafted.completed;
    if (drafted.posed == nullptr) return false;
    switches_ = drafted.switches;
    result_.in_hand =
        made_from_flat(drafted.posed->frame, drafted.values, in_hand_.kind, in_hand_.flat);
    Made& made = result_.in_hand.made;
    made.label = job_.label;
    made.holes_show = in_hand_.holes_show;
    for (int i = 0; i < kSeamKeys; ++i) {
      const auto& given = in_hand_.seams[static_cast<size_t>(i)];
      if (given) made.seams[static_cast<size_t>(i)] = *given;
    }
    return true;
  }

  void find_wearer() {
    result_.taped = complete(job_.body, waist_level_of(switches_), catalogue_.bodies);
    if (has_error(result_.taped)) return;
    result_.belief =
        believe(result_.in_hand.made, result_.taped, catalogue_.bodies, in_hand_.faults);
  }

  void judge_before() {
    result_.posed = pose(job_, catalogue_, result_.belief.body, switches_);
    result_.before = wear(result_.in_hand.made, result_.posed->frame);
    result_.findings = judged(result_.before);
  }

  std::vector<Finding> judged(const Worn& worn) const {
    std::vector<Finding> findings = findings_at(*result_.posed, worn.values, worn.measures);
    std::erase_if(findings, [&](const Finding& f) {
      const auto rule = std::find_if(result_.posed->rules.begin(),
                                     result_.posed->rules.end(),
                                     [&](const PosedRule& r) { return r.outputs == f.outputs; });
      return rule != result_.posed->rules.end() && !concerns(*rule, in_hand_.kind);
    });
    return findings;
  }

  void find_moves() {
    for (const Move& move : vocabulary_.moves) {
      const auto limits = limits_of(move, result_.in_hand.made);
      if (limits) {
        moves_.push_back({&move, *limits});
      } else {
        result_.impossible.emplace_back(&move, why_impossible(move, result_.in_hand.made));
      }
    }
    std::stable_sort(moves_.begin(), moves_.end(), [](const Possible& a, const Possible& b) {
      return a.move->order < b.move->order;
    });
    result_.possible = static_cast<int>(moves_.size());
  }

  /// The range that an output has to be brought into: its own, wider by what isn't felt. What the
  /// style only wished for is kept as it is in hand, where it isn't as wished.
  solver::Output wanted(int i, const PosedRule& rule, double now) const {
    solver::Output output = result_.posed->problem.outputs[static_cast<size_t>(i)];
    output.level = rule.strength;
    if (output.level == Level::must) return output;
    const bool asked = std::any_of(job_.wishes.begin(), job_.wishes.end(), [&](const Wish& wish) {
      return wish.id == rule.wish_id;
    });
    if (output.level == Level::wish && !asked) {
      output.lo = std::min(output.lo, now);
      output.hi = std::max(output.hi, now);
    }
    output.lo -= kUnfelt * output.tolerance;
    output.hi += kUnfelt * output.tolerance;
    return output;
  }

  solver::ChoiceProblem posed_choice(const std::vector<Possible>& moves) const {
    solver::ChoiceProblem choice;
    const std::vector<double> now =
        outputs_at(*result_.posed, result_.before.values, result_.before.measures);
    std::vector<const PosedRule*> owner(now.size(), nullptr);
    for (const PosedRule& rule : result_.posed->rules) {
      for (const int i : rule.outputs) owner[static_cast<size_t>(i)] = &rule;
    }
    for (int i = 0; i < result_.posed->first_habit; ++i) {
      const PosedRule& rule = *owner[static_cast<size_t>(i)];
      solver::Output output = wanted(i, rule, now[static_cast<size_t>(i)]);
      if (!concerns(rule, in_hand_.kind)) output.lo = -kInfinity, output.hi = kInfinity;
      choice.problem.outputs.push_back(output);
    }
    for (const Possible& p : moves) {
      const bool angle = info(p.move->change).dimension == kAngle;
      choice.problem.variables.push_back(
          {p.move->name, 0, p.limits.most, angle ? radians(3) : 1.0, 0});
      choice.moves.push_back({p.limits.minutes_fixed, minutes_per_inside(p), p.limits.least});
    }
    for (size_t a = 0; a < moves.size(); ++a) {
      for (size_t b = a + 1; b < moves.size(); ++b) {
        if (inverse_of(moves[a].move->change) == moves[b].move->change)
          choice.exclusive.emplace_back(static_cast<int>(a), static_cast<int>(b));
      }
    }
    choice.problem.function =
        std::make_shared<AlteredFunction>(result_.in_hand.made, moves, result_.posed);
    return choice;
  }

  void choose() {
    if (moves_.empty()) return;
    const solver::Choice choice = solver::choose(posed_choice(moves_), {.plans = options_.plans});
    result_.nodes = choice.nodes;
    for (const solver::ChoicePlan& plan : choice.plans) {
      if (plan.used.empty()) continue;
      add_plan(plan);
    }
  }

  void add_plan(const solver::ChoicePlan& chosen) {
    AlterPlan plan;
    std::vector<double> amounts(moves_.size(), 0.0);
    for (const int k : chosen.used) {
      const Possible& p = moves_[static_cast<size_t>(k)];
      const double amount = rounded(p, chosen.amounts[static_cast<size_t>(k)]);
      amounts[static_cast<size_t>(k)] = amount;
      plan.steps.push_back(
          {p.move, amount, p.limits.minutes_fixed + minutes_per_inside(p) * amount});
      plan.minutes += plan.steps.back().minutes;
    }
    plan.after = after(result_.in_hand.made, moves_, amounts.data());
    plan.worn = wear(plan.after, result_.posed->frame);
    plan.findings = judged(plan.worn);
    for (const SeenFault& fault : in_hand_.faults) {
      plan.faults_after.push_back(
          evaluate(fault.kind->reads, result_.posed->frame, plan.worn.values, plan.worn.measures));
    }
    for (const Finding& f : plan.findings) {
      if (is_felt(f) && f.strength <= Level::should) plan.left.push_back(f);
    }
    plan.meets_all = plan.left.empty();
    result_.plans.push_back(std::move(plan));
  }

  /// Amounts as they are printed, within the move's limits.
  double rounded(const Possible& p, double amount) const {
    const double step = info(p.move->change).dimension == kAngle ? radians(0.5) : options_.round_cm;
    double r = step * std::round(amount / step);
    if (r > p.limits.most) r = step * std::floor(p.limits.most / step + 1e-9);
    return r < p.limits.least ? amount : r;
  }

  /// What the best plan leaves of musts and shoulds, and what that would need.
  void find_unmet() {
    const std::vector<Finding>& findings =
        result_.plans.empty() ? result_.findings : result_.plans.front().findings;
    for (const Finding& f : findings) {
      if (!is_felt(f) || f.strength > Level::should) continue;
      Unmet unmet;
      unmet.finding = f;
      for (const auto& [move, why] : result_.impossible) {
        if (helps(*move, f)) unmet.blocked.push_back(move->name + ": " + why);
      }
      unmet.recut = unmet.blocked.empty();
      result_.unmet.push_back(std::move(unmet));
    }
  }

  /// Whether a move would bring a missed rule nearer by a felt amount, were it possible.
  bool helps(const Move& move, const Finding& missed) const {
    const Made& start = result_.plans.empty() ? result_.in_hand.made : result_.plans.front().after;
    const double amount = std::max(move.least, 0.5 * move.most);
    const Worn worn = wear(changed(start, move.change, amount), result_.posed->frame);
    const std::vector<Finding> findings = judged(worn);
    const auto now = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) {
      return f.name == missed.name && f.outputs == missed.outputs;
    });
    return now != findings.end() &&
           std::abs(now->miss) < std::abs(missed.miss) - 0.5 * missed.tolerance;
  }

  const Job& job_;
  const InHand& in_hand_;
  const Catalogue& catalogue_;
  const AlterCatalogue& vocabulary_;
  const AlterOptions& options_;
  AlterResult& result_;
  Switches switches_;
  std::vector<Possible> moves_;
};

}  // namespace

AlterResult alter(const Job& job,
                  const InHand& in_hand,
                  const Catalogue& catalogue,
                  const AlterCatalogue& vocabulary,
                  const AlterOptions& options) {
  AlterResult result;
  Planner(job, in_hand, catalogue, vocabulary, options, result).run();
  return result;
}

}  // namespace easewright
