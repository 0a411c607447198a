#include "model/group/serve.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;

/// As in plan.cc: a miss below this share of its tolerance isn't felt.
constexpr double kUnfelt = 1.0;
/// A must weighs as so many shoulds; a wish of the job's own as a part of one.
constexpr double kMust = 10, kWish = 0.1;
/// A step has to pay so many minutes, and so much of what its line promised.
constexpr double kWorth = 1, kPromise = 0.25;
constexpr int kMostSteps = 40;

/// What of an output counts as a miss.
struct Watched {
  double lo = -kInfinity, hi = kInfinity;  ///< nothing is missed in here
  double per_unit = 0;                     ///< weight over tolerance
  double miss(double g) const { return per_unit * (std::max(lo - g, 0.0) + std::max(g - hi, 0.0)); }
};

bool is_asked(const Job& job, const PosedRule& rule) {
  return std::any_of(job.wishes.begin(), job.wishes.end(), [&](const Wish& wish) {
    return wish.id == rule.wish_id;
  });
}

/// Ranges as in plan.cc, no fault seen: musts as they are but for a hair, shoulds and asked wishes
/// wider by what isn't felt; what the style alone wished for is left as it is.
std::vector<Watched> watch(const SizeDraft& draft,
                           const Job& job,
                           const Posed& wearer,
                           const std::vector<double>& now) {
  std::vector<Watched> watched(now.size());
  const auto set = [&](size_t i, const solver::Output& output, Level strength) {
    Watched& w = watched[i];
    w.lo = output.lo, w.hi = output.hi;
    const double tolerance = output.tolerance;
    if (strength == Level::must) {
      if (now[i] > w.lo - tolerance && now[i] < w.hi + tolerance) {
        w.lo = std::min(w.lo, now[i]);
        w.hi = std::max(w.hi, now[i]);
      }
      w.per_unit = kMust / tolerance;
    } else {
      w.lo -= kUnfelt * tolerance;
      w.hi += kUnfelt * tolerance;
      w.per_unit = (strength == Level::wish ? kWish : 1.0) / tolerance;
    }
  };
  for (const PosedRule& rule : wearer.rules) {
    if (rule.strength > Level::wish || (rule.strength == Level::wish && !is_asked(job, rule)))
      continue;
    for (const int i : rule.outputs) {
      set(static_cast<size_t>(i), wearer.problem.outputs[static_cast<size_t>(i)], rule.strength);
    }
  }
  const Worn worn = wear(draft.made, wearer.frame);
  const auto guard = guards(draft.made, worn);
  const auto first = static_cast<size_t>(wearer.first_habit);
  for (size_t k = 0; k < guard.size(); ++k) set(first + k, guard[k], Level::must);
  return watched;
}

std::vector<double> outputs_of(const Made& made, const Posed& wearer) {
  const Worn worn = wear(made, wearer.frame);
  std::vector<double> g = outputs_at(wearer, worn.values, worn.measures);
  g.resize(static_cast<size_t>(wearer.first_habit));
  const auto kept = guarded(made, worn);
  g.insert(g.end(), kept.begin(), kept.end());
  return g;
}

/// What comes first: what brings most for its minutes, or what brings most after them.
enum class Order { by_the_minute, by_the_gain };

/// Amounts of the moves with what they do.
struct Mended {
  std::vector<double> x, g;
  double miss = 0, minutes = 0, cost = 0;
};

class Mending {
 public:
  Mending(const SizeDraft& draft, const Job& job, const Posed& wearer, const ServeOptions& options)
      : draft_(draft), wearer_(wearer), options_(options), n_(draft.moves.size()) {
    now_.x.assign(n_, 0.0);
    now_.g = outputs_of(draft.made, wearer);
    watched_ = watch(draft, job, wearer, now_.g);
    now_.miss = missed(now_.g);
    now_.cost = options.minutes_per_miss * now_.miss;
  }

  Serving run() {
    Serving serving;
    serving.before = now_.miss;
    if (now_.miss > 0) mend();
    serving.after = now_.miss;
    serving.minutes = now_.minutes;
    serving.cost = now_.cost;
    for (size_t k = 0; k < n_; ++k) {
      if (!(now_.x[k] > 0)) continue;
      serving.steps.push_back({draft_.moves[k].move, now_.x[k], minutes_of(k, now_.x[k]), {}});
    }
    find_left(serving);
    return serving;
  }

 private:
  void mend() {
    const Mended start = now_;
    Mended best = start;
    find_slopes();
    const std::vector<std::vector<double>> slopes = slopes_;
    for (const Order order : {Order::by_the_minute, Order::by_the_gain}) {
      now_ = start;
      slopes_ = slopes;
      descend(order, false);
      leave_out();
      round();
      if (now_.cost < best.cost) best = now_;
    }
    now_ = std::move(best);
  }

  Mended at(std::vector<double> x) const {
    Mended mended;
    mended.g = outputs_of(after(draft_.made, draft_.moves, x.data()), wearer_);
    mended.miss = missed(mended.g);
    for (size_t k = 0; k < n_; ++k) mended.minutes += minutes_of(k, x[k]);
    mended.cost = mended.minutes + options_.minutes_per_miss * mended.miss;
    mended.x = std::move(x);
    return mended;
  }

  double missed(const std::vector<double>& g) const {
    double sum = 0;
    for (size_t i = 0; i < g.size(); ++i) sum += watched_[i].miss(g[i]);
    return sum;
  }

  double minutes_of(size_t k, double amount) const {
    if (!(amount > 0)) return 0;
    const Possible& p = draft_.moves[k];
    return p.limits.minutes_fixed + minutes_per_inside(p) * amount;
  }

  /// What each move does to the outputs, per unit of its amount, beside those in use.
  void find_slopes() {
    slopes_.assign(n_, {});
    for (size_t k = 0; k < n_; ++k) {
      const MoveLimits& limits = draft_.moves[k].limits;
      const double by = std::max(limits.least, 0.5 * limits.most);
      std::vector<double> x = now_.x;
      // A move in use is seen from where it stands.
      x[k] = x[k] > 0 ? std::max(x[k] - 0.5 * by, 0.5 * x[k]) : by;
      slopes_[k] = slope(at(x), k);
    }
  }

  std::vector<double> slope(const Mended& there, size_t k) const {
    std::vector<double> s = there.g;
    for (size_t i = 0; i < s.size(); ++i) s[i] = (s[i] - now_.g[i]) / (there.x[k] - now_.x[k]);
    return s;
  }

  bool is_barred(size_t k) const {
    const Move& move = *draft_.moves[k].move;
    for (size_t j = 0; j < n_; ++j) {
      if (j == k || !(now_.x[j] > 0)) continue;
      const Move& other = *draft_.moves[j].move;
      if (inverse_of(move.change) == other.change || inverse_of(other.change) == move.change ||
          (move.let_out_of && move.let_out_of == other.let_out_of))
        return true;
    }
    return false;
  }

  struct Try {
    size_t k = 0;
    double amount = 0;  ///< of the move, in place of the present one
    double pays = 0;    ///< what it takes off the cost
    double score = 0;
  };

  /// The amount of the move that its line likes best, and what that brings; nothing where it does
  /// not pay.
  std::optional<Try> best_of(size_t k, Order order) const {
    const MoveLimits& limits = draft_.moves[k].limits;
    std::vector<double> amounts = {limits.least, limits.most};
    for (size_t i = 0; i < now_.g.size(); ++i) {
      const Watched& w = watched_[i];
      const double s = slopes_[k][i];
      if (w.per_unit == 0 || std::abs(s) < 1e-9) continue;
      // Where an output that misses comes into its range, or one that holds leaves it.
      for (const double edge : {w.lo, w.hi}) {
        if (!std::isfinite(edge)) continue;
        const double amount = now_.x[k] + (edge - now_.g[i]) / s;
        if (amount > limits.least && amount < limits.most) amounts.push_back(amount);
      }
    }
    std::optional<Try> best;
    for (const double amount : amounts) {
      const double by = amount - now_.x[k];
      if (std::abs(by) < 1e-9) continue;
      double then = 0;
      for (size_t i = 0; i < now_.g.size(); ++i)
        then += watched_[i].miss(now_.g[i] + by * slopes_[k][i]);
      const double gain = options_.minutes_per_miss * (now_.miss - then);
      const double dearer = minutes_of(k, amount) - minutes_of(k, now_.x[k]);
      const double pays = gain - dearer;
      if (pays < kWorth) continue;
      const double score = order == Order::by_the_gain ? pays : pays / std::max(dearer, 1.0);
      if (!best || score > best->score) best = Try{k, amount, pays, score};
    }
    return best;
  }

  /// One step after the other until none pays.
  void descend(Order order, bool in_use_alone) {
    bool fresh = false;
    for (int step = 0; step < kMostSteps && now_.miss > 0; ++step) {
      std::vector<Try> tries;
      for (size_t k = 0; k < n_; ++k) {
        if ((in_use_alone && !(now_.x[k] > 0)) || is_barred(k)) continue;
        if (const auto t = best_of(k, order)) tries.push_back(*t);
      }
      std::stable_sort(
          tries.begin(), tries.end(), [](const Try& a, const Try& b) { return a.score > b.score; });
      if (take_first(tries)) {
        fresh = false;
      } else if (fresh || in_use_alone) {
        return;
      } else {
        find_slopes();
        fresh = true;
      }
      if (now_.minutes > options_.most_minutes) return;
    }
  }

  /// Takes the first that keeps its promise on the cloth.
  bool take_first(const std::vector<Try>& tries) {
    for (const Try& t : tries) {
      std::vector<double> x = now_.x;
      x[t.k] = t.amount;
      Mended then = at(std::move(x));
      slopes_[t.k] = slope(then, t.k);
      if (now_.cost - then.cost < std::max(0.5 * kWorth, kPromise * t.pays)) continue;
      now_ = std::move(then);
      return true;
    }
    return false;
  }

  /// Leaves out moves that don't pay beside the later ones, the dearest first; the others may
  /// stretch.
  void leave_out() {
    while (true) {
      std::vector<std::pair<double, size_t>> used;
      for (size_t k = 0; k < n_; ++k)
        if (now_.x[k] > 0) used.emplace_back(-minutes_of(k, now_.x[k]), k);
      std::sort(used.begin(), used.end());
      const bool any = std::any_of(
          used.begin(), used.end(), [this](const auto& u) { return leave_out(u.second); });
      if (!any) return;
    }
  }

  bool leave_out(size_t k) {
    Mended with = now_;
    with.x[k] = 0;
    Mended without = at(with.x);
    with.x = now_.x;
    now_ = std::move(without);
    descend(Order::by_the_gain, true);
    if (now_.cost < with.cost - 0.5 * kWorth) return true;
    now_ = std::move(with);
    return false;
  }

  /// Amounts as they are printed: of the roundings up and down the cheaper one, move by move.
  void round() {
    for (size_t k = 0; k < n_; ++k) {
      if (!(now_.x[k] > 0)) continue;
      const Possible& p = draft_.moves[k];
      const double step =
          info(p.move->change).dimension == kAngle ? radians(0.5) : options_.round_cm;
      const double least = std::ceil(p.limits.least / step - 1e-6);
      const double most = std::floor(p.limits.most / step + 1e-6);
      if (least > most) continue;
      std::optional<Mended> best;
      for (const double steps :
           {std::floor(now_.x[k] / step + 1e-6), std::ceil(now_.x[k] / step - 1e-6)}) {
        std::vector<double> x = now_.x;
        x[k] = step * std::clamp(steps, least, most);
        Mended then = at(std::move(x));
        if (!best || then.cost < best->cost) best = std::move(then);
      }
      now_ = std::move(*best);
    }
  }

  void find_left(Serving& serving) const {
    const Made made = after(draft_.made, draft_.moves, now_.x.data());
    const Worn worn = wear(made, wearer_.frame);
    for (Finding& f : findings_at(wearer_, worn.values, worn.measures)) {
      if (f.strength > Level::should || !is_felt(f)) continue;
      // A must that is missed by a hair as it stands is let be.
      const bool missed = std::any_of(f.outputs.begin(), f.outputs.end(), [this](int i) {
        return watched_[static_cast<size_t>(i)].miss(now_.g[static_cast<size_t>(i)]) > 0;
      });
      if (missed) serving.left.push_back(std::move(f));
    }
  }

  const SizeDraft& draft_;
  const Posed& wearer_;
  const ServeOptions& options_;
  size_t n_;
  std::vector<Watched> watched_;
  Mended now_;
  std::vector<std::vector<double>> slopes_;
};

}  // namespace

SizeDraft size_draft(const Job& job,
                     const FitResult& drafted,
                     const MadeHow& how,
                     const AlterCatalogue& vocabulary) {
  SizeDraft draft;
  draft.switches = drafted.switches;
  const MadeKind kind =
      drafted.switches.is(Switch::skirt, "none") ? MadeKind::top : MadeKind::dress;
  draft.made = made_from(drafted.posed->frame, drafted.values, kind);
  draft.made.label = job.label;
  draft.made.holes_show = how.holes_show;
  for (size_t i = 0; i < kSeamKeys; ++i) {
    if (how.seams[i]) draft.made.seams[i] = *how.seams[i];
    if (how.finishes[i]) draft.made.finishes[i] = *how.finishes[i];
  }
  for (const Move& move : vocabulary.moves) {
    if (const auto limits = limits_of(move, draft.made)) draft.moves.push_back({&move, *limits});
  }
  std::stable_sort(
      draft.moves.begin(), draft.moves.end(), [](const Possible& a, const Possible& b) {
        return a.move->order < b.move->order;
      });
  return draft;
}

std::shared_ptr<const Posed> pose_wearer(const Job& job,
                                         const Body& body,
                                         const Switches& switches,
                                         const Catalogue& catalogue) {
  Switches worn = switches;
  // Rules ask whose body it is, not whose it was drafted for.
  worn.at[static_cast<size_t>(Switch::build)] = static_cast<int>(body.build);
  const Completed completed = complete(body, waist_level_of(worn), catalogue.bodies);
  return has_error(completed) ? nullptr : pose(job, catalogue, completed.body, worn);
}

double felt_on(const SizeDraft& draft, const Job& job, const Posed& wearer) {
  const std::vector<double> g = outputs_of(draft.made, wearer);
  const std::vector<Watched> watched = watch(draft, job, wearer, g);
  double sum = 0;
  for (size_t i = 0; i < g.size(); ++i) sum += watched[i].miss(g[i]);
  return sum;
}

Serving serve(const SizeDraft& draft,
              const Job& job,
              const std::shared_ptr<const Posed>& wearer,
              const ServeOptions& options) {
  return Mending(draft, job, *wearer, options).run();
}

}  // namespace easewright
