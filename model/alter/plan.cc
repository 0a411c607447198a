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
    if (amounts[k] > 0) make_change(result, moves[k].move->change, amounts[k]);
  }
  return result;
}

/// Rules of the garment after moves, judged on one body. Outputs are the posed ones without habits.
class AlteredFunction final : public solver::Function {
 public:
  AlteredFunction(const Made& made, std::vector<Possible> moves, std::shared_ptr<const Posed> posed)
      : made_(made), moves_(std::move(moves)), posed_(std::move(posed)) {}

  void evaluate(const double* x, double* g, double* jacobian) const override {
    const size_t n = moves_.size(), m = static_cast<size_t>(posed_->first_habit);
    Made made = made_;
    if (jacobian == nullptr) {
      for (size_t k = 0; k < n; ++k) step(made, k, x[k]);
      read(made, g);
      return;
    }
    // The garment before each move: a move's derivative needs only it and those after it.
    std::vector<Made> stages;
    stages.reserve(n);
    for (size_t k = 0; k < n; ++k) {
      stages.push_back(made);
      step(made, k, x[k]);
    }
    read(made, g);
    std::vector<double> there(m);
    for (size_t k = 0; k < n; ++k) {
      Made& moved = stages[k];
      step(moved, k, x[k] + kNudge);
      for (size_t j = k + 1; j < n; ++j) step(moved, j, x[j]);
      read(moved, there.data());
      for (size_t i = 0; i < m; ++i) jacobian[i * n + k] = (there[i] - g[i]) / kNudge;
    }
  }

 private:
  // Forward differences: an amount can't be negative, and measures are good to 1e-12.
  static constexpr double kNudge = 1e-5;

  void step(Made& made, size_t k, double amount) const {
    if (amount > 0) make_change(made, moves_[k].move->change, amount);
  }

  void read(const Made& made, double* g) const {
    const Worn worn = wear(made, posed_->frame);
    const std::vector<double> all = outputs_at(*posed_, worn.values, worn.measures);
    std::copy_n(all.begin(), posed_->first_habit, g);
  }

  Made made_;
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
  const double felt = f.strength == Level::must ? 0.1 : kUnfelt + 1e-6;
  return f.missed && std::abs(f.miss) > felt * f.tolerance;
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
    // What was sewn together met, whatever a tape says of each part.
    const Worn own = wear(made, made.cut_for);
    for (const MeasureKey key :
         {MeasureKey::skirt_waist_mismatch, MeasureKey::bodice_side_mismatch})
      made.sewn_off[key] = -own.measures[key];
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
    believe_faults();
    // What no likely body shows lies in the garment: a stretched edge, or not sewn as drafted.
    if (!result_.belief.explained && blame_garment()) believe_faults();
  }

  void believe_faults() {
    result_.belief =
        believe(result_.in_hand.made, job_.body, result_.taped, catalogue_.bodies, in_hand_.faults);
  }

  /// Takes what the most likely body leaves of a fault for the garment's own: a gape for an edge
  /// that was stretched, by no more than a bias edge grows (5 %, common practice); anything else
  /// for a difference from its draft, of at most 3 cm.
  bool blame_garment() {
    Made& made = result_.in_hand.made;
    bool any = false;
    for (size_t i = 0; i < in_hand_.faults.size(); ++i) {
      const SeenFault& fault = in_hand_.faults[i];
      const double left = fault.amount - result_.belief.readings[i].after;
      if (std::abs(left) > fault.error)
        any = blame_stretch(fault, left, made) || blame_sewing(fault, left, made) || any;
    }
    return any;
  }

  bool blame_stretch(const SeenFault& fault, double left, Made& made) const {
    for (const auto& [stretched, edge] :
         {std::pair{&Made::neck_stretched, MeasureKey::neckline_front},
          std::pair{&Made::armhole_stretched, MeasureKey::armhole_front}}) {
      // By how much the fault reads more for a centimetre of stretch.
      Made longer = made;
      longer.*stretched += 1;
      const double gain = read(fault, longer) - read(fault, made);
      if (left <= 0 || gain < 0.5) continue;
      const double most = 0.05 * wear(made, made.cut_for).measures[edge];
      made.*stretched = std::min(made.*stretched + left / gain, most);
      return true;
    }
    return false;
  }

  bool blame_sewing(const SeenFault& fault, double left, Made& made) const {
    for (const Name& name : fault.kind->reads.names()) {
      if (name.kind != NameKind::measure) continue;
      const auto key = static_cast<MeasureKey>(name.index);
      Made other = made;
      other.sewn_off[key] += 1;
      const double gain = read(fault, other) - read(fault, made);
      if (std::abs(gain) < 0.25 || info(key).dimension != kLength) continue;
      made.sewn_off[key] = std::clamp(left / gain, -3.0, 3.0);
      return true;
    }
    return false;
  }

  double read(const SeenFault& fault, const Made& made) const {
    const Frame frame = frame_of(result_.belief.body, made.cloth, made.switches);
    const Worn worn = wear(made, frame);
    return evaluate(fault.kind->reads, frame, worn.values, worn.measures);
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

  /// The range that an output has to be brought into: its own, wider by what isn't felt. What is
  /// missed and nobody complains of is kept as it is in hand, and so is what the style only wished
  /// for: a garment is not unpicked for that.
  solver::Output wanted(int i, const PosedRule& rule, double now) const {
    solver::Output output = result_.posed->problem.outputs[static_cast<size_t>(i)];
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

  static bool is_hair(const solver::Output& output, double now) {
    return now > output.lo - output.tolerance && now < output.hi + output.tolerance;
  }

  /// With faults seen, work is done for these; without any, for all that the rules find.
  bool is_called_for(const PosedRule& rule) const {
    return in_hand_.faults.empty() || is_complained_of(rule);
  }

  /// Felt, and a must, or called for, or worse than before by a felt amount.
  bool is_left(const Finding& f) const {
    if (!is_felt(f) || f.strength > Level::should) return false;
    if (f.strength == Level::must) return std::abs(f.miss) > f.tolerance || worsened(f);
    const auto rule = std::find_if(result_.posed->rules.begin(),
                                   result_.posed->rules.end(),
                                   [&](const PosedRule& r) { return r.outputs == f.outputs; });
    return (rule != result_.posed->rules.end() && is_called_for(*rule)) || worsened(f);
  }

  bool worsened(const Finding& f) const {
    const auto before = std::find_if(result_.findings.begin(),
                                     result_.findings.end(),
                                     [&](const Finding& b) { return b.outputs == f.outputs; });
    return before == result_.findings.end() ||
           std::abs(f.miss) > std::abs(before->miss) + kUnfelt * f.tolerance;
  }

  /// Whether a fault that was seen reads what the rule is about: then all of the rule is wanted.
  bool is_complained_of(const PosedRule& rule) const {
    const auto reads = [](const Expression& e, const Name& name) {
      const std::vector<Name> names = e.names();
      return std::any_of(names.begin(), names.end(), [&](const Name& other) {
        return other.kind == name.kind && other.index == name.index;
      });
    };
    const std::vector<Name> names = rule.expression.names();
    return std::any_of(in_hand_.faults.begin(), in_hand_.faults.end(), [&](const SeenFault& f) {
      return std::any_of(names.begin(), names.end(), [&](const Name& name) {
        return (name.kind == NameKind::measure || name.kind == NameKind::value) &&
               reads(f.kind->reads, name);
      });
    });
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
        // No allowance can be let out twice over.
        const auto& held = moves[a].move->let_out_of;
        if (inverse_of(moves[a].move->change) == moves[b].move->change ||
            (held && held == moves[b].move->let_out_of))
          choice.exclusive.emplace_back(static_cast<int>(a), static_cast<int>(b));
      }
    }
    choice.problem.function =
        std::make_shared<AlteredFunction>(result_.in_hand.made, moves, result_.posed);
    return choice;
  }

  void choose() {
    keep_relevant();
    if (moves_.empty()) return;
    const solver::ChoiceProblem problem = posed_choice(moves_);
    const solver::Choice choice = solver::choose(problem, {.plans = options_.plans});
    result_.nodes = choice.nodes;
    result_.proved = choice.proved;
    for (const solver::ChoicePlan& plan : choice.plans) {
      if (!plan.used.empty()) add_plan(problem, plan);
    }
    drop_outdone();
  }

  /// The moves that bring something missed nearer, and those that mend what these spoil: no more
  /// than an exact search is quick with, the most helpful first.
  void keep_relevant() {
    constexpr size_t kMost = 16;
    if (moves_.size() <= kMost) return;
    const solver::ChoiceProblem all = posed_choice(moves_);
    const size_t n = moves_.size(), m = all.problem.outputs.size();
    std::vector<double> x(n, 0.0), now(m), there(m);
    all.problem.function->evaluate(x.data(), now.data(), nullptr);
    const auto miss = [&](const std::vector<double>& g, size_t i) {
      const solver::Output& o = all.problem.outputs[i];
      return (std::max(o.lo - g[i], 0.0) + std::max(g[i] - o.hi, 0.0)) / o.tolerance;
    };
    std::vector<std::vector<double>> change(n, std::vector<double>(m, 0.0));
    for (size_t k = 0; k < n; ++k) {
      x[k] = std::max(moves_[k].limits.least, 0.5 * moves_[k].limits.most);
      all.problem.function->evaluate(x.data(), there.data(), nullptr);
      for (size_t i = 0; i < m; ++i) change[k][i] = miss(there, i) - miss(now, i);
      x[k] = 0;
    }
    // Per minute: what a move takes off the misses there are, then off those the first would cause.
    std::vector<double> spoiled(m, 0.0);
    std::vector<bool> kept(n, false);
    const auto keep = [&](const auto& gain, bool for_its_work, size_t most) {
      std::vector<std::pair<double, size_t>> order;
      for (size_t k = 0; k < n; ++k) {
        const double work = for_its_work ? 1 + moves_[k].limits.minutes_fixed : 1;
        if (!kept[k] && gain(k) > 1e-6) order.emplace_back(-gain(k) / work, k);
      }
      std::sort(order.begin(), order.end());
      for (size_t j = 0; j < std::min(most, order.size()); ++j) kept[order[j].second] = true;
    };
    const auto helps_by = [&](size_t k) {
      double gain = 0;
      for (const double c : change[k]) gain += std::max(-c, 0.0);
      return gain;
    };
    keep(helps_by, false, 7);
    keep(helps_by, true, 5);
    for (size_t k = 0; k < n; ++k) {
      for (size_t i = 0; i < m; ++i) {
        if (kept[k]) spoiled[i] = std::max(spoiled[i], change[k][i]);
      }
    }
    // What mends a spoiled output moves it the other way, though it is not missed yet.
    std::vector<double> spoiling(m, 0.0);
    for (size_t k = 0; k < n; ++k) {
      x[k] = std::max(moves_[k].limits.least, 0.5 * moves_[k].limits.most);
      all.problem.function->evaluate(x.data(), there.data(), nullptr);
      for (size_t i = 0; i < m; ++i) {
        change[k][i] = (there[i] - now[i]) / all.problem.outputs[i].tolerance;
        if (kept[k] && spoiled[i] > 0 && miss(there, i) > miss(now, i)) spoiling[i] = change[k][i];
      }
      x[k] = 0;
    }
    const auto taken = static_cast<size_t>(std::count(kept.begin(), kept.end(), true));
    keep(
        [&](size_t k) {
          double gain = 0;
          for (size_t i = 0; i < m; ++i) {
            if (spoiling[i] != 0) gain += std::max(-change[k][i] * (spoiling[i] > 0 ? 1 : -1), 0.0);
          }
          return gain;
        },
        true,
        kMost - taken);
    std::vector<Possible> relevant;
    for (size_t k = 0; k < n; ++k) {
      if (kept[k]) relevant.push_back(moves_[k]);
    }
    moves_ = std::move(relevant);
  }

  /// A plan that takes no less work than another and leaves no less is not worth telling.
  void drop_outdone() {
    std::vector<AlterPlan>& plans = result_.plans;
    for (size_t i = 0; i < plans.size();) {
      const bool outdone = std::any_of(plans.begin(), plans.end(), [&](const AlterPlan& other) {
        return &other != &plans[i] && other.minutes <= plans[i].minutes &&
               (other.meets_all || other.left.size() < plans[i].left.size()) &&
               other.left.size() <= plans[i].left.size();
      });
      if (outdone) {
        plans.erase(plans.begin() + static_cast<std::ptrdiff_t>(i));
      } else {
        ++i;
      }
    }
  }

  /// Amounts as they are printed: of the roundings up and down those that miss least, then the
  /// least work.
  std::vector<double> rounded(const solver::ChoiceProblem& problem,
                              const solver::ChoicePlan& chosen) const {
    std::vector<double> best(moves_.size(), 0.0), trial = best;
    double best_cost = kInfinity;
    std::vector<double> g(problem.problem.outputs.size());
    const size_t free = std::min<size_t>(chosen.used.size(), 8);
    for (size_t bits = 0; bits < (size_t{1} << free); ++bits) {
      double minutes = 0;
      for (size_t j = 0; j < chosen.used.size(); ++j) {
        const auto k = static_cast<size_t>(chosen.used[j]);
        trial[k] = rounded(moves_[k], chosen.amounts[k], j < free && ((bits >> j) & 1U) != 0);
        minutes += minutes_per_inside(moves_[k]) * trial[k];
      }
      problem.problem.function->evaluate(trial.data(), g.data(), nullptr);
      double cost = 1e-6 * minutes;
      for (size_t i = 0; i < g.size(); ++i) {
        const solver::Output& o = problem.problem.outputs[i];
        const double weight = o.level == Level::must ? 1e4 : o.level == Level::should ? 1e2 : 1;
        const double missed = std::max(o.lo - g[i], 0.0) + std::max(g[i] - o.hi, 0.0);
        cost += weight * std::max(missed / o.tolerance - solver::kHolds, 0.0);
      }
      if (cost < best_cost) best_cost = cost, best = trial;
    }
    return best;
  }

  void add_plan(const solver::ChoiceProblem& problem, const solver::ChoicePlan& chosen) {
    AlterPlan plan;
    const std::vector<double> amounts = rounded(problem, chosen);
    for (const int k : chosen.used) {
      const Possible& p = moves_[static_cast<size_t>(k)];
      const double amount = amounts[static_cast<size_t>(k)];
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
      if (is_left(f)) plan.left.push_back(f);
    }
    plan.meets_all = plan.left.empty();
    result_.plans.push_back(std::move(plan));
  }

  /// An amount down or up to the next that is printed, within the move's limits.
  double rounded(const Possible& p, double amount, bool up) const {
    const double step = info(p.move->change).dimension == kAngle ? radians(0.5) : options_.round_cm;
    const double steps = amount / step;
    const double r = step * (up ? std::ceil(steps - 1e-6) : std::floor(steps + 1e-6));
    const double least = step * std::ceil(p.limits.least / step - 1e-6);
    const double most = step * std::floor(p.limits.most / step + 1e-6);
    return least > most ? amount : std::clamp(r, least, most);
  }

  /// What the best plan leaves of musts and shoulds, and what that would need.
  void find_unmet() {
    const std::vector<Finding>& findings =
        result_.plans.empty() ? result_.findings : result_.plans.front().findings;
    for (const Finding& f : findings) {
      if (!is_left(f)) continue;
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
