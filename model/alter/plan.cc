#include "model/alter/plan.h"

#include "model/alter/altered.h"
#include "model/alter/blame.h"
#include "model/alter/relevant.h"
#include "solver/amounts.h"
#include "solver/choice.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;

/// A miss below this share of its tolerance isn't felt and does not call for work.
constexpr double kUnfelt = 1.0;

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
    for (size_t i = 0; i < kSeamKeys; ++i) {
      if (in_hand_.seams[i]) made.seams[i] = *in_hand_.seams[i];
      if (in_hand_.finishes[i]) made.finishes[i] = *in_hand_.finishes[i];
    }
    if (in_hand_.kind == MadeKind::skirt) wear_as_skirt(made);
    return true;
  }

  /// A skirt alone on an elastic goes up over the hips, whatever way the whole dress went on.
  void wear_as_skirt(Made& made) {
    if (!switches_.is(Switch::waist, "elastic")) return;
    switches_.set(Switch::put_on, "stepped into");
    made.switches.set(Switch::put_on, "stepped into");
  }

  void find_wearer() {
    result_.taped = complete(job_.body, waist_level_of(switches_), catalogue_.bodies);
    if (has_error(result_.taped)) return;
    believe_faults();
    // What no likely body shows lies in the garment.
    const Blame blame = blame_garment(result_.belief, in_hand_.faults, result_.in_hand.made);
    if (blame.any) believe_faults();
    for (const auto& pair : blame.against) {
      auto& against = result_.belief.against;
      if (std::find(against.begin(), against.end(), pair) == against.end()) against.push_back(pair);
    }
    result_.belief.explained = result_.belief.unexplained.empty() && result_.belief.against.empty();
  }

  void believe_faults() {
    result_.belief =
        believe(result_.in_hand.made, job_.body, result_.taped, catalogue_.bodies, in_hand_.faults);
  }

  /// Faults that are to be mended: those that the model shows by more than is felt beyond what
  /// nobody minds, and that say the same as the others.
  void find_complaints() {
    const Belief& belief = result_.belief;
    std::set<int> contradicted;
    for (const auto& [one, other] : belief.against) contradicted.insert({one, other});
    std::set<int> unclear(belief.unexplained.begin(), belief.unexplained.end());
    unclear.insert(contradicted.begin(), contradicted.end());
    for (int i = 0; i < static_cast<int>(in_hand_.faults.size()); ++i) {
      const SeenFault& fault = in_hand_.faults[static_cast<size_t>(i)];
      const double fine = fault.kind->fine, now = reading(fault, result_.before);
      const bool minded = fault.amount > fine + fault.error;
      const bool shows = now > fine + 0.5 * fault.error && contradicted.count(i) == 0;
      if (unclear.count(i) > 0 && minded) result_.unclear.push_back(i);
      // Not to be made worse either.
      complaints_.push_back(shows && minded ? fine : std::max(fine, now));
    }
  }

  double reading(const SeenFault& fault, const Worn& worn) const {
    return evaluate(fault.kind->reads, result_.posed->frame, worn.values, worn.measures);
  }

  void judge_before() {
    result_.posed = pose(job_, catalogue_, result_.belief.body, switches_);
    result_.before = wear(result_.in_hand.made, result_.posed->frame);
    find_complaints();
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
    for (size_t i = 0; i < in_hand_.faults.size(); ++i) {
      if (std::isfinite(complaints_[i])) findings.push_back(judged(i, worn));
    }
    return findings;
  }

  /// A fault as a finding. Its place among the outputs is none of the posed ones'.
  Finding judged(size_t i, const Worn& worn) const {
    const SeenFault& fault = in_hand_.faults[i];
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
    if (f.group == kFaultGroup) return true;
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
    std::vector<const FaultKind*> kinds;
    for (size_t i = 0; i < in_hand_.faults.size(); ++i) {
      const SeenFault& fault = in_hand_.faults[i];
      kinds.push_back(fault.kind);
      choice.problem.outputs.push_back(
          {fault.kind->name, -kInfinity, complaints_[i], fault.error, Level::should});
    }
    for (const solver::Output& guard : guards(result_.in_hand.made, result_.before))
      choice.problem.outputs.push_back(guard);
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
    choice.problem.function = std::make_shared<AlteredFunction>(
        result_.in_hand.made, moves, result_.posed, std::move(kinds));
    return choice;
  }

  /// All moves are weighed where that is quickly done, which it mostly is. Where not, those that
  /// help most are, and the better answer of both stands.
  void choose() {
    if (moves_.empty()) return;
    result_.weighed = static_cast<int>(moves_.size());
    const bool many = moves_.size() > kMostSearched;
    solver::Choice best;
    best.proved = false;
    if (moves_.size() <= solver::kMostMoves) best = weigh(many ? kNodesForAll : kNodes);
    if (many && !best.proved) {
      const std::vector<Possible> all = moves_;
      keep_relevant();
      solver::Choice relevant = weigh(kNodes);
      if (is_better(relevant, best)) {
        best = std::move(relevant);
      } else {
        moves_ = all;
      }
      best.proved = false;
    }
    result_.nodes = best.nodes;
    result_.proved = best.proved;
    result_.straight = best.straight;
    const solver::ChoiceProblem problem = posed_choice(moves_);
    for (const solver::ChoicePlan& plan : best.plans) {
      if (!plan.used.empty()) add_plan(problem, plan);
    }
    drop_outdone();
    if (result_.plans.size() > static_cast<size_t>(options_.plans))
      result_.plans.resize(static_cast<size_t>(options_.plans));
  }

  /// Nodes after which a search is given up: of all moves at once, and of those that help most.
  static constexpr int kNodesForAll = 60, kNodes = 5000;

  solver::Choice weigh(int nodes) const {
    // Some plans turn out to leave nothing more that is felt than a shorter one.
    return solver::choose(posed_choice(moves_), {.plans = options_.plans + 2, .most_nodes = nodes});
  }

  static bool is_better(const solver::Choice& a, const solver::Choice& b) {
    if (a.plans.empty() || b.plans.empty()) return b.plans.empty();
    const auto& one = a.plans.front();
    const auto& other = b.plans.front();
    for (size_t level = 0; level < static_cast<size_t>(Level::habit); ++level) {
      const double less = other.outcome.total[level] - one.outcome.total[level];
      if (std::abs(less) > solver::ChoiceOptions{}.slack) return less > 0;
    }
    return one.cost < other.cost;
  }

  /// Leaves the moves that help most, and says of the others why they were not weighed to the end.
  void keep_relevant() {
    const std::vector<Relevance> relevance = relevance_of(posed_choice(moves_));
    std::vector<Possible> relevant;
    for (size_t k = 0; k < moves_.size(); ++k) {
      if (relevance[k] == Relevance::searched) {
        relevant.push_back(moves_[k]);
        continue;
      }
      result_.not_weighed.emplace_back(moves_[k].move,
                                       relevance[k] == Relevance::outranked
                                           ? "helps less than those that were weighed"
                                           : "brings nothing nearer that is missed");
    }
    moves_ = std::move(relevant);
    result_.weighed = static_cast<int>(moves_.size());
  }

  /// Whether what `other` leaves is no more than what these findings leave, by what is felt.
  bool leaves_no_more(const std::vector<Finding>& other, const std::vector<Finding>& than) const {
    return std::all_of(other.begin(), other.end(), [&](const Finding& f) {
      if (!is_left(f)) return true;
      const auto same = std::find_if(
          than.begin(), than.end(), [&](const Finding& t) { return t.outputs == f.outputs; });
      const double felt = f.strength == Level::must ? 0.1 : kUnfelt;
      return same != than.end() && is_left(*same) &&
             std::abs(f.miss) <= std::abs(same->miss) + felt * f.tolerance;
    });
  }

  /// A plan that takes no less work than another and leaves no less that is felt is not worth
  /// telling.
  void drop_outdone() {
    std::vector<AlterPlan>& plans = result_.plans;
    for (size_t i = 0; i < plans.size();) {
      const bool outdone = std::any_of(plans.begin(), plans.end(), [&](const AlterPlan& other) {
        return &other != &plans[i] && other.minutes <= plans[i].minutes &&
               leaves_no_more(other.findings, plans[i].findings);
      });
      if (outdone) {
        plans.erase(plans.begin() + static_cast<std::ptrdiff_t>(i));
      } else {
        ++i;
      }
    }
  }

  /// Leaves out what nobody would feel the want of, the dearest first, single moves and pairs that
  /// only make up for each other: where a rule can't be met, the search does anything for a hair of
  /// it.
  void trim(std::vector<double>& amounts) const {
    const std::vector<Finding> all = judged_after(amounts);
    while (true) {
      std::vector<double> best;
      double most = 0;
      for (size_t j = 0; j < amounts.size(); ++j) {
        for (size_t k = j; k < amounts.size(); ++k) {
          if (!(amounts[j] > 0) || !(amounts[k] > 0)) continue;
          const double minutes = minutes_of(j, amounts) + (j == k ? 0 : minutes_of(k, amounts));
          if (minutes <= most) continue;
          std::vector<double> fewer = amounts;
          fewer[j] = fewer[k] = 0;
          if (!leaves_no_more(judged_after(fewer), all)) continue;
          most = minutes, best = std::move(fewer);
        }
      }
      if (best.empty()) return;
      amounts = std::move(best);
    }
  }

  double minutes_of(size_t k, const std::vector<double>& amounts) const {
    return moves_[k].limits.minutes_fixed + minutes_per_inside(moves_[k]) * amounts[k];
  }

  std::vector<Finding> judged_after(const std::vector<double>& amounts) const {
    return judged(wear(after(result_.in_hand.made, moves_, amounts.data()), result_.posed->frame));
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
    std::vector<double> amounts = rounded(problem, chosen);
    trim(amounts);
    for (const int k : chosen.used) {
      const Possible& p = moves_[static_cast<size_t>(k)];
      const double amount = amounts[static_cast<size_t>(k)];
      if (!(amount > 0)) continue;
      plan.steps.push_back({p.move, amount, minutes_of(static_cast<size_t>(k), amounts)});
      plan.minutes += plan.steps.back().minutes;
    }
    plan.after = after(result_.in_hand.made, moves_, amounts.data());
    plan.worn = wear(plan.after, result_.posed->frame);
    plan.findings = judged(plan.worn);
    for (const SeenFault& fault : in_hand_.faults)
      plan.faults_after.push_back(reading(fault, plan.worn));
    for (const Finding& f : plan.findings) {
      if (is_left(f)) plan.left.push_back(f);
    }
    plan.meets_all = plan.left.empty();
    if (!plan.steps.empty()) result_.plans.push_back(std::move(plan));
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
      for (const Possible& p : moves_) {
        const std::string spoilt = spoilt_by(p, f, findings);
        if (!spoilt.empty()) unmet.spoils.push_back(p.move->name + ": " + spoilt);
      }
      unmet.recut = unmet.blocked.empty() && unmet.spoils.empty();
      result_.unmet.push_back(std::move(unmet));
    }
  }

  /// Whether a move would bring a missed rule nearer by a felt amount, were it possible.
  bool helps(const Move& move, const Finding& missed) const {
    return brings_nearer(judged_with(move, std::max(move.least, 0.5 * move.most)), missed);
  }

  /// The rule that a move which helps would spoil the most; empty where it doesn't help or spoils
  /// nothing by itself.
  std::string spoilt_by(const Possible& p,
                        const Finding& missed,
                        const std::vector<Finding>& now) const {
    const std::vector<Finding> then =
        judged_with(*p.move, std::max(p.limits.least, 0.5 * p.limits.most));
    if (!brings_nearer(then, missed)) return {};
    std::string spoilt;
    double most = kUnfelt;
    for (const Finding& f : then) {
      if (f.strength > Level::should || f.outputs == missed.outputs) continue;
      const auto was = std::find_if(
          now.begin(), now.end(), [&](const Finding& n) { return n.outputs == f.outputs; });
      if (was == now.end()) continue;
      const double worse = (std::abs(f.miss) - std::abs(was->miss)) / f.tolerance;
      if (worse > most) most = worse, spoilt = f.name;
    }
    return spoilt;
  }

  bool brings_nearer(const std::vector<Finding>& findings, const Finding& missed) const {
    const auto now = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) {
      return f.name == missed.name && f.outputs == missed.outputs;
    });
    return now != findings.end() &&
           std::abs(now->miss) < std::abs(missed.miss) - 0.5 * missed.tolerance;
  }

  std::vector<Finding> judged_with(const Move& move, double amount) const {
    const Made& start = result_.plans.empty() ? result_.in_hand.made : result_.plans.front().after;
    return judged(wear(changed(start, move.change, amount), result_.posed->frame));
  }

  const Job& job_;
  const InHand& in_hand_;
  const Catalogue& catalogue_;
  const AlterCatalogue& vocabulary_;
  const AlterOptions& options_;
  AlterResult& result_;
  Switches switches_;
  std::vector<Possible> moves_;
  std::vector<double> complaints_;  ///< what each fault may read after the work at most
};

}  // namespace

bool is_felt(const Finding& f) {
  const double felt = f.strength == Level::must ? 0.1 : kUnfelt + 1e-6;
  return f.missed && std::abs(f.miss) > felt * f.tolerance;
}

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
