#include "solver/settle.h"

#include <algorithm>
#include <cmath>

namespace easewright::solver {
namespace {

/// Share by which totals of one basin may differ.
constexpr double kSameTotal = 0.005;
/// What a walk near a known answer gains in all, per gain promised by its last step.
constexpr double kOvertakes = 1.5;
/// Weight of what lies below a level that is settled on its own.
constexpr double kBelow = 1e-8;
/// Levels are lifted over heavy ones below by this at most: digits are finite.
constexpr double kMostLift = 1e4;
/// What check_gains follows, in tolerances: a gain that the eye of kHolds would see.
constexpr double kGain = 0.7 * kHolds;

std::size_t at(int i) { return static_cast<std::size_t>(i); }
std::size_t at(Level level) { return static_cast<std::size_t>(level); }

double miss(double v, double lo, double hi) { return v < lo ? v - lo : v > hi ? v - hi : 0; }

const Output& output(const Scaled& scaled, int i) { return scaled.problem().outputs[at(i)]; }

/// `heavier`: factor of each output's weight, or empty. Upper levels keep their distance from the
/// heaviest below.
void set_weights(const Scaled& scaled,
                 const LevelWeights& weights,
                 const std::vector<double>& heavier,
                 Terms& terms) {
  LevelWeights lifted = weights;
  if (!heavier.empty()) {
    std::array<double, kLevels> heaviest;
    heaviest.fill(1);
    for (int i = 0; i < scaled.m(); ++i) {
      double& most = heaviest[at(output(scaled, i).level)];
      most = std::max(most, heavier[at(i)]);
    }
    double below = 1;
    for (int l = kLevels - 1; l >= 0; --l) {
      lifted[at(l)] *= below;
      below = std::min(kMostLift, below * heaviest[at(l)]);
    }
  }
  for (int i = 0; i < scaled.m(); ++i) {
    terms.weight[at(i)] =
        lifted[at(output(scaled, i).level)] * (heavier.empty() ? 1 : heavier[at(i)]);
  }
}

/// Weights by which a level is settled on its own: those above hold, and keep their order; those
/// below hardly pull.
LevelWeights own_weights(int level, double above) {
  LevelWeights weights;
  weights.fill(kBelow);
  weights[at(level)] = 1;
  for (int l = level - 1; l >= 0; --l, above *= 100) weights[at(l)] = above;
  return weights;
}

Settled take(const Scaled& scaled, const Pass& pass, PassEnd end, const std::vector<double>& u) {
  Settled s;
  s.end = end;
  s.u = u;
  if (end == PassEnd::not_finite) return s;
  s.c = pass.c();
  s.pull = pass.pull();
  s.bound_pull = pass.bound_pull();
  s.optimality = pass.optimality();
  s.totals = level_totals(scaled, s.c);
  return s;
}

/// Levels that hold squared outputs which still take part and have outputs below them.
std::vector<int> levels_to_freeze(const Scaled& scaled) {
  std::array<bool, kLevels> squared{};
  int lowest = -1;
  for (int i = 0; i < scaled.m(); ++i) {
    const int level = static_cast<int>(output(scaled, i).level);
    lowest = std::max(lowest, level);
    if (output(scaled, i).shape == Shape::squared) squared[at(level)] = true;
  }
  std::vector<int> levels;
  for (int level = 0; level < lowest; ++level) {
    if (squared[at(level)]) levels.push_back(level);
  }
  return levels;
}

/// From here on a squared output of the level may be no further out than it is at c. Out there a
/// tolerance more costs d of the level's total, against 1 for an absolute output, so it has to
/// weigh more than that much more.
void freeze(const Scaled& scaled,
            int level,
            const std::vector<double>& c,
            std::vector<double>& heavier,
            Terms& terms) {
  for (int i = 0; i < scaled.m(); ++i) {
    if (static_cast<int>(output(scaled, i).level) != level) continue;
    if (output(scaled, i).shape != Shape::squared) continue;
    heavier[at(i)] = std::max(1.0, 2 * std::abs(miss(c[at(i)], terms.lo[at(i)], terms.hi[at(i)])));
    terms.shape[at(i)] = Shape::absolute;
    terms.lo[at(i)] = std::min(terms.lo[at(i)], c[at(i)]);
    terms.hi[at(i)] = std::max(terms.hi[at(i)], c[at(i)]);
  }
}

/// Settles each level that has to be, and freezes it in `terms` and `heavier`.
PassEnd settle_squares(const Scaled& scaled,
                       Pass& pass,
                       const SettleOptions& options,
                       std::vector<double>& heavier,
                       Terms& terms,
                       std::vector<double>& u) {
  for (const int level : levels_to_freeze(scaled)) {
    set_weights(scaled, own_weights(level, 1e4), heavier, terms);
    const PassEnd end = pass.run(
        terms, {.trust = 0.5, .least_gain = 1e-12, .most_iterations = options.most_iterations}, u);
    if (end == PassEnd::not_finite) return end;
    freeze(scaled, level, pass.c(), heavier, terms);
  }
  return PassEnd::settled;
}

/// The sum that the pass brings down, of totals whose squares aren't frozen.
double weighted(const LevelTotals& totals, const LevelWeights& weights) {
  double sum = 0;
  for (int l = 0; l < kLevels; ++l) sum += weights[at(l)] * totals[at(l)];
  return sum;
}

bool upper_levels_hold(const LevelTotals& totals) {
  return totals[at(Level::must)] <= 0.01 * kHolds && totals[at(Level::should)] <= 0.01 * kHolds;
}

/// Pulls come from the weights of the pass that is kept, so a kept first answer stays as it was.
bool is_sharper(const LevelTotals& sharp, const LevelTotals& first) {
  for (int l = 0; l < kLevels - 1; ++l) {
    if (sharp[at(l)] < first[at(l)] - kHolds) return true;
    if (sharp[at(l)] > first[at(l)] + kHolds) return false;
  }
  return false;
}

/// Whether a misses less than b at the level, and no more above it.
bool gains(const LevelTotals& a, const LevelTotals& b, int level) {
  for (int l = 0; l < level; ++l) {
    if (a[at(l)] > b[at(l)] + 0.1 * kHolds) return false;
  }
  return a[at(level)] < b[at(level)] - kGain;
}

}  // namespace

Terms posed_terms(const Scaled& scaled, const LevelWeights& weights) {
  Terms terms;
  terms.lo = scaled.lo;
  terms.hi = scaled.hi;
  terms.lower = scaled.lower;
  terms.upper = scaled.upper;
  terms.weight.resize(at(scaled.m()));
  for (const Output& o : scaled.problem().outputs) terms.shape.push_back(o.shape);
  set_weights(scaled, weights, {}, terms);
  return terms;
}

LevelTotals level_totals(const Scaled& scaled, const std::vector<double>& c) {
  LevelTotals totals{};
  for (int i = 0; i < scaled.m(); ++i) {
    const double d = miss(c[at(i)], scaled.lo[at(i)], scaled.hi[at(i)]);
    totals[at(output(scaled, i).level)] +=
        output(scaled, i).shape == Shape::absolute ? std::abs(d) : d * d / 2;
  }
  return totals;
}

bool is_better(const LevelTotals& a, const LevelTotals& b) {
  for (int l = 0; l < kLevels; ++l) {
    const bool habit = l == static_cast<int>(Level::habit);
    const double room = habit ? 0.01 * std::max(a[at(l)], b[at(l)]) : kHolds;
    if (a[at(l)] < b[at(l)] - room) return true;
    if (a[at(l)] > b[at(l)] + room) return false;
  }
  return false;
}

bool agrees(const LevelTotals& a, const LevelTotals& b) {
  for (int l = 0; l < static_cast<int>(Level::habit); ++l) {
    const double room = std::max(kHolds, kSameTotal * std::max(a[at(l)], b[at(l)]));
    if (std::abs(a[at(l)] - b[at(l)]) > room) return false;
  }
  return true;
}

Settled settle(Scaled& scaled,
               Pass& pass,
               const std::vector<double>& start,
               const SettleOptions& options) {
  std::vector<double> u = start;
  Terms terms = posed_terms(scaled, options.first);
  PassOptions pass_options{.most_iterations = options.most_iterations};
  PassEnd end = PassEnd::settled;
  if (options.known) {
    pass_options.from_afar = true;
    end = pass.run(terms, pass_options, u, [&] {
      return agrees(level_totals(scaled, pass.c()), options.known->totals);
    });
    pass_options.from_afar = false;
    if (end == PassEnd::enough) {
      PassOptions nearly = pass_options;
      nearly.hopeless = weighted(options.known->totals, options.first) - kHolds;
      nearly.overtakes = kOvertakes;
      end = pass.run(terms, nearly, u);
      if (end == PassEnd::hopeless) return *options.known;
    }
  } else {
    end = pass.run(terms, pass_options, u);
  }
  if (end == PassEnd::not_finite) return take(scaled, pass, end, u);

  std::vector<double> heavier;
  if (!levels_to_freeze(scaled).empty()) {
    heavier.assign(at(scaled.m()), 1.0);
    settle_squares(scaled, pass, options, heavier, terms, u);
    set_weights(scaled, options.first, heavier, terms);
    pass_options.trust = 0.5;
    end = pass.run(terms, pass_options, u);
  }
  const Settled first = take(scaled, pass, end, u);
  if (upper_levels_hold(first.totals)) return first;
  set_weights(scaled, kSharpWeights, heavier, terms);
  pass_options.trust = 0.5;
  end = pass.run(terms, pass_options, u);
  const Settled sharp = take(scaled, pass, end, u);
  return is_sharper(sharp.totals, first.totals) ? sharp : first;
}

Settled check_gains(Scaled& scaled, Pass& pass, const Settled& from, const SettleOptions& options) {
  for (int level = 0; level < static_cast<int>(Level::habit); ++level) {
    if (from.totals[at(level)] <= kHolds) continue;
    Terms terms = posed_terms(scaled, kFirstWeights);
    for (int l = 0; l < level; ++l) {
      for (int i = 0; i < scaled.m(); ++i) {
        if (static_cast<int>(output(scaled, i).level) != l) continue;
        terms.shape[at(i)] = Shape::absolute;
        terms.lo[at(i)] = std::min(terms.lo[at(i)], from.c[at(i)]);
        terms.hi[at(i)] = std::max(terms.hi[at(i)], from.c[at(i)]);
      }
    }
    set_weights(scaled, own_weights(level, 1e5), {}, terms);
    std::vector<double> u = from.u;
    pass.run(
        terms,
        {.trust = 0.5, .least_gain = kHolds / 20, .most_iterations = 20, .stop = Stop::small_gain},
        u);
    const LevelTotals gained = level_totals(scaled, pass.c());
    if (gained[at(level)] >= from.totals[at(level)] - kGain) continue;
    // The usual weights may lead back: many habits for a little of a wish.
    LevelWeights faint = kFirstWeights;
    faint.back() *= 0.01;
    for (const LevelWeights& weights : {kFirstWeights, faint}) {
      const Settled better =
          settle(scaled, pass, u, {.first = weights, .most_iterations = options.most_iterations});
      if (gains(better.totals, from.totals, level)) return better;
    }
  }
  return from;
}

}  // namespace easewright::solver
