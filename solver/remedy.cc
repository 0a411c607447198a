#include "solver/remedy.h"

#include "solver/pass.h"
#include "solver/probe.h"
#include "solver/scaled.h"

#include <algorithm>
#include <cmath>

namespace easewright::solver {
namespace {

/// Weight of what has to hold, against a price of 1: no member gives more than this many times what
/// it is worth.
constexpr double kRest = 1e4;
constexpr PassOptions kPricing{.least_gain = 0.1 * kHolds,
                               .most_iterations = 60,
                               .stop = Stop::small_gain,
                               .most_corrections = 5,
                               .curvature = Curvature::never};
/// Pull of the habits, which choose among points of one price.
constexpr double kHabit = 1e-6;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool is_freed(const std::vector<Member>& freed, const Member& m) {
  return std::any_of(freed.begin(), freed.end(), [&](const Member& f) { return same_rule(f, m); });
}

double miss(double v, double lo, double hi) { return v < lo ? v - lo : v > hi ? v - hi : 0; }

class Pricing {
 public:
  Pricing(const Problem& problem,
          const Outcome& outcome,
          int missed,
          Level down_to,
          Elsewhere elsewhere)
      : problem_(problem), scaled_(problem), pass_(scaled_), missed_(missed), down_to_(down_to) {
    answer_ = scaled_.to_u(outcome.x);
    std::vector<double> c;
    finite_ = scaled_.evaluate(answer_, c, nullptr);
    lo_ = scaled_.lo;
    hi_ = scaled_.hi;
    if (!finite_ || elsewhere == Elsewhere::as_posed) return;
    for (int i = 0; i < problem.m(); ++i) {
      if (i == missed) continue;
      lo_[at(i)] = std::min(lo_[at(i)], c[at(i)]);
      hi_[at(i)] = std::max(hi_[at(i)], c[at(i)]);
    }
  }

  /// `most`: in tolerances and scales; what asks more is given up on.
  std::optional<Remedy> price(const std::vector<Member>& freed, double most) {
    if (!finite_) return std::nullopt;
    PassOptions options = kPricing;
    options.hopeless = most;
    const Terms t = terms(freed);
    std::vector<double> u = answer_;
    if (pass_.run(t, options, u) == PassEnd::not_finite) return std::nullopt;
    for (int i = 0; i < scaled_.m(); ++i) {
      const bool rest = t.weight[at(i)] == kRest;
      if (rest && !(std::abs(miss(pass_.c()[at(i)], t.lo[at(i)], t.hi[at(i)])) <= kAsked))
        return std::nullopt;
    }
    Remedy remedy = read(freed, u);
    if (remedy.asks > most) return std::nullopt;
    return remedy;
  }

 private:
  Terms terms(const std::vector<Member>& freed) const {
    Terms t;
    t.lo = lo_;
    t.hi = hi_;
    t.lower = scaled_.lower;
    t.upper = scaled_.upper;
    t.shape.assign(at(scaled_.m()), Shape::absolute);
    t.weight.assign(at(scaled_.m()), 0.0);
    for (int i = 0; i < scaled_.m(); ++i) {
      const Output& o = problem_.outputs[at(i)];
      if (o.level == Level::habit && o.shape == Shape::squared) {
        t.shape[at(i)] = Shape::squared;
        t.weight[at(i)] = kHabit;
      } else if (is_freed(freed, {Member::Kind::output, i, Side::lower})) {
        t.weight[at(i)] = 1;
        t.lo[at(i)] = scaled_.lo[at(i)];
        t.hi[at(i)] = scaled_.hi[at(i)];
      } else if (o.level <= down_to_) {
        t.weight[at(i)] = kRest;
      }
    }
    // A bound that gives: the variable beyond it, at a price of 1 a scale.
    for (const Member& m : freed) {
      if (m.kind != Member::Kind::bound) continue;
      const std::size_t k = at(scaled_.position(m.index));
      if (t.price.empty()) t.price.assign(at(scaled_.n()), 0.0);
      if (m.side == Side::lower) {
        t.upper[k] = scaled_.lower[k];
        t.lower[k] = -kInfinity;
        t.price[k] = -1;
      } else {
        t.lower[k] = scaled_.upper[k];
        t.upper[k] = kInfinity;
        t.price[k] = 1;
      }
    }
    return t;
  }

  Remedy read(const std::vector<Member>& freed, const std::vector<double>& u) const {
    Remedy remedy;
    remedy.x = scaled_.to_x(u);
    for (const Member& m : freed) {
      Change change{m, 0, 0};
      if (m.kind == Member::Kind::output) {
        const double d =
            miss(pass_.c()[at(m.index)], scaled_.lo[at(m.index)], scaled_.hi[at(m.index)]);
        if (d != 0) change.member.side = d < 0 ? Side::lower : Side::upper;
        change.felt = std::abs(d);
      } else {
        const std::size_t k = at(scaled_.position(m.index));
        change.felt = m.side == Side::lower ? scaled_.lower[k] - u[k] : u[k] - scaled_.upper[k];
      }
      change.by = change.felt * felt(problem_, m);
      remedy.asks += change.felt;
      remedy.changes.push_back(change);
    }
    return remedy;
  }

  const Problem& problem_;
  Scaled scaled_;
  Pass pass_;
  int missed_;
  Level down_to_;
  bool finite_ = false;
  std::vector<double> answer_, lo_, hi_;
};

/// The pair that asks least, from the members in order.
std::optional<Remedy> best_pair(const std::vector<Member>& members,
                                const RemedyOptions& options,
                                Pricing& pricing) {
  double most = options.most_asked;
  std::optional<Remedy> best;
  int tried = 0;
  for (std::size_t a = 0; a < members.size(); ++a) {
    for (std::size_t b = a + 1; b < members.size() && tried < options.most_pairs; ++b, ++tried) {
      std::optional<Remedy> pair = pricing.price({members[a], members[b]}, most);
      if (!pair || pair->asks >= most) continue;
      most = pair->asks;
      best = std::move(pair);
    }
  }
  return best;
}

}  // namespace

std::optional<Remedy> price(const Problem& problem,
                            const Outcome& outcome,
                            const std::vector<Member>& freed,
                            int missed,
                            Level down_to,
                            Elsewhere elsewhere) {
  return Pricing(problem, outcome, missed, down_to, elsewhere).price(freed, kInfinity);
}

std::vector<Remedy> find_remedies(const Problem& problem,
                                  const Outcome& outcome,
                                  const Conflict& conflict,
                                  const RemedyOptions& options) {
  std::vector<Remedy> remedies;
  if (conflict.members.empty() || conflict.missed < 0) return remedies;
  const Level level = problem.outputs[at(conflict.missed)].level;
  Pricing pricing(problem, outcome, conflict.missed, level, options.elsewhere);
  std::vector<Member> others;
  bool other_settles = false;
  for (const Member& m : conflict.members) {
    if (options.may_give && !options.may_give(m)) continue;
    const bool self = m.kind == Member::Kind::output && m.index == conflict.missed;
    if (!self) others.push_back(m);
    if (std::optional<Remedy> remedy = pricing.price({m}, options.most_asked)) {
      other_settles = other_settles || !self;
      remedies.push_back(std::move(*remedy));
    }
  }
  std::stable_sort(remedies.begin(), remedies.end(), [](const Remedy& a, const Remedy& b) {
    return a.asks < b.asks;
  });
  if (!other_settles) {
    if (std::optional<Remedy> pair = best_pair(others, options, pricing))
      remedies.push_back(std::move(*pair));
  }
  return remedies;
}

}  // namespace easewright::solver
