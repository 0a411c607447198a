#include "model/alter/plan.h"

#include "model/alter/altered.h"
#include "model/alter/asked.h"
#include "model/alter/blame.h"
#include "model/alter/openings.h"
#include "model/alter/relevant.h"
#include "solver/amounts.h"
#include "solver/choice.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;

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
    const bool planned = !result_.plans.empty();
    result_.unmet = find_unmet(*asked_,
                               planned ? result_.plans.front().after : result_.in_hand.made,
                               result_.posed->frame,
                               moves_,
                               result_.impossible);
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

  void judge_before() {
    result_.posed = pose(job_, catalogue_, result_.belief.body, switches_);
    asked_.emplace(job_, in_hand_.faults, result_.belief, result_.in_hand.made, result_.posed);
    result_.before = asked_->worn_before();
    result_.findings = asked_->before();
    result_.unclear = asked_->unclear();
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

  /// All moves are weighed as far as a search can hold them; of more, those that help most.
  void choose() {
    if (moves_.empty()) return;
    result_.weighed = static_cast<int>(moves_.size());
    if (moves_.size() > solver::kMostMoves) keep_relevant();
    const solver::ChoiceProblem problem = asked_->choice_among(moves_);
    // Some plans turn out to leave nothing more that is felt than a shorter one.
    const solver::Choice choice = solver::choose(
        problem,
        {.plans = options_.plans + 2, .curvature = solver::Curvature::never, .most_nodes = kNodes});
    result_.nodes = choice.nodes;
    result_.proved = choice.proved && result_.not_weighed.empty();
    result_.exact = choice.exact && result_.proved;
    for (const solver::ChoicePlan& plan : choice.plans) {
      if (!plan.used.empty()) add_plan(problem, plan);
    }
    drop_outdone();
    if (result_.plans.size() > static_cast<size_t>(options_.plans))
      result_.plans.resize(static_cast<size_t>(options_.plans));
  }

  /// Nodes after which a search is given up: where nothing can be made to fit, every order of a
  /// dozen moves leaves much the same.
  static constexpr int kNodes = 100;

  /// Leaves the moves that help most, and says of the others why they were not weighed to the end.
  void keep_relevant() {
    const std::vector<Relevance> relevance = relevance_of(asked_->choice_among(moves_));
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

  /// A plan that takes no less work than another and leaves no less that is felt is not worth
  /// telling.
  void drop_outdone() {
    std::vector<AlterPlan>& plans = result_.plans;
    for (size_t i = 0; i < plans.size();) {
      const bool outdone = std::any_of(plans.begin(), plans.end(), [&](const AlterPlan& other) {
        return &other != &plans[i] && other.minutes <= plans[i].minutes &&
               asked_->leaves_no_more(other.findings, plans[i].findings);
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
          std::vector<double> fewer = amounts;
          fewer[j] = fewer[k] = 0;
          const double minutes = minutes_of(amounts) - minutes_of(fewer);
          if (minutes <= most) continue;
          if (!asked_->leaves_no_more(judged_after(fewer), all)) continue;
          most = minutes, best = std::move(fewer);
        }
      }
      if (best.empty()) return;
      amounts = std::move(best);
    }
  }

  double minutes_of(const std::vector<double>& amounts) const {
    double minutes = 0;
    for (const PlanStep& step : steps_of(amounts)) minutes += step.minutes;
    return minutes;
  }

  /// In the order of work: what an earlier step has opened is not opened again.
  std::vector<PlanStep> steps_of(const std::vector<double>& amounts) const {
    const OpeningMinutes shared = shared_minutes(moves_);
    std::set<Opening> open;
    std::vector<PlanStep> steps;
    for (size_t k = 0; k < moves_.size(); ++k) {
      if (!(amounts[k] > 0)) continue;
      const Possible& p = moves_[k];
      PlanStep step{p.move, amounts[k], p.limits.minutes_fixed, {}};
      step.minutes += minutes_per_inside(p) * amounts[k];
      for (int i = 0; i < kOpenings; ++i) {
        const auto opening = static_cast<Opening>(i);
        if (!opens(p, opening) || open.insert(opening).second) continue;
        step.minutes -= shared[static_cast<size_t>(i)];
        step.open_already.push_back(opening);
      }
      steps.push_back(std::move(step));
    }
    return steps;
  }

  std::vector<Finding> judged_after(const std::vector<double>& amounts) const {
    return asked_->judged(
        wear(after(result_.in_hand.made, moves_, amounts.data()), result_.posed->frame));
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
    plan.steps = steps_of(amounts);
    for (const PlanStep& step : plan.steps) plan.minutes += step.minutes;
    plan.after = after(result_.in_hand.made, moves_, amounts.data());
    plan.worn = wear(plan.after, result_.posed->frame);
    plan.findings = asked_->judged(plan.worn);
    for (const SeenFault& fault : in_hand_.faults)
      plan.faults_after.push_back(asked_->reading(fault, plan.worn));
    for (const Finding& f : plan.findings) {
      if (asked_->is_left(f)) plan.left.push_back(f);
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

  const Job& job_;
  const InHand& in_hand_;
  const Catalogue& catalogue_;
  const AlterCatalogue& vocabulary_;
  const AlterOptions& options_;
  AlterResult& result_;
  Switches switches_;
  std::optional<Asked> asked_;
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
