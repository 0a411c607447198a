#include "solver/solve.h"

#include "solver/open.h"
#include "solver/pass.h"
#include "solver/prove.h"
#include "solver/scaled.h"
#include "solver/settle.h"
#include "solver/starts.h"

#include <algorithm>
#include <cmath>

namespace easewright::solver {
namespace {

/// Half the width, in scales, of the box round the first start from which further starts are drawn.
constexpr double kStartBox = 2;
/// Where the walk to the middle of the intervals ends: it is a start, no answer.
constexpr double kCentreGain = 1e-4;
constexpr int kCentreSteps = 30;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool misses_above_habit(const Settled& settled) {
  for (int level = 0; level < static_cast<int>(Level::habit); ++level) {
    if (settled.totals[at(level)] > kHolds) return true;
  }
  return false;
}

/// A run whose steps became too short to gain is settled all the same where it stands at a
/// stationary point.
Status status_of(const Settled& settled) {
  if (settled.end == PassEnd::not_finite) return Status::not_finite;
  if (settled.end == PassEnd::out_of_steps) return Status::out_of_steps;
  return is_stationary(settled.optimality) ? Status::settled : Status::stalled;
}

/// Near the middle of every interval, as far as the one-sided limits allow: where limits leave
/// several valleys, the deepest is more often seen from there than from a random place.
std::vector<double> centred(Scaled& scaled, Pass& pass, std::vector<double> u) {
  Terms terms = posed_terms(scaled, kFirstWeights);
  for (int i = 0; i < scaled.m(); ++i) {
    const double half = 0.5 * (terms.hi[at(i)] - terms.lo[at(i)]);
    if (scaled.problem().outputs[at(i)].level == Level::habit || !(half > 0) || std::isinf(half))
      continue;
    terms.lo[at(i)] = terms.hi[at(i)] = 0.5 * (terms.lo[at(i)] + terms.hi[at(i)]);
    terms.shape[at(i)] = Shape::squared;
    terms.weight[at(i)] = 1 / std::pow(std::max(1.0, half), 2);
  }
  pass.run(terms, {.least_gain = kCentreGain, .most_iterations = kCentreSteps}, u);
  return u;
}

Outcome not_finite(const Problem& problem, const std::vector<double>& x, int evaluations) {
  Outcome outcome;
  outcome.x = x;
  outcome.status = Status::not_finite;
  outcome.g.assign(at(problem.m()), std::nan(""));
  outcome.miss = outcome.g;
  outcome.total.fill(std::nan(""));
  outcome.standing.assign(at(problem.m()), Standing::inside);
  outcome.bound_standing = bound_standings(problem, x);
  outcome.pull.assign(at(problem.m()), 0.0);
  outcome.bound_pull.assign(at(problem.n()), 0.0);
  outcome.evaluations = evaluations;
  return outcome;
}

}  // namespace

Outcome solve(const Problem& problem, const SolveOptions& options) {
  Scaled scaled(problem);
  Pass pass(scaled);
  std::vector<double> x;
  for (const Variable& v : problem.variables) x.push_back(v.start);
  if (options.warm_start) x = *options.warm_start;
  const std::vector<double> start = scaled.to_u(x);
  const auto opened = [&](const std::vector<double>& u) {
    return options.opener == Opener::ceres ? open(scaled, u) : u;
  };

  SettleOptions settle_options{.most_iterations = options.most_iterations,
                               .curvature = options.curvature};
  Settled best = settle(scaled, pass, opened(start), settle_options);
  int tried = 1;
  int agreed = 1;
  if (best.end != PassEnd::not_finite && misses_above_habit(best)) {
    const auto try_from = [&](const std::vector<double>& u) {
      settle_options.known = &best;
      Settled other = settle(scaled, pass, u, settle_options);
      settle_options.known = nullptr;
      if (other.end == PassEnd::not_finite) return;
      if (agrees(other.totals, best.totals)) {
        ++agreed;
        if (is_better(other.totals, best.totals)) best = std::move(other);
      } else if (is_better(other.totals, best.totals)) {
        agreed = 1;
        best = std::move(other);
      }
    };
    for (; tried < options.starts; ++tried)
      try_from(further_start(start, scaled.lower, scaled.upper, kStartBox, tried));
    if (options.starts > 1) {
      const int agreed_before = agreed;
      try_from(centred(scaled, pass, start));
      agreed = std::min(agreed, agreed_before);
    }
    best = check_gains(scaled, pass, best, settle_options);
    // Weak lower levels may still have led the strong ones astray. No level may end worse than it
    // began: from there the sharp weights go downhill at once.
    std::vector<double> c;
    if (scaled.evaluate(start, c, nullptr) && is_better(level_totals(scaled, c), best.totals)) {
      settle_options.first = kSharpWeights;
      Settled other = settle(scaled, pass, start, settle_options);
      if (other.end != PassEnd::not_finite && is_better(other.totals, best.totals))
        best = std::move(other);
    }
  }

  std::vector<double> jacobian;
  if (best.end == PassEnd::not_finite) {
    return not_finite(problem, scaled.to_x(start), scaled.evaluations());
  }
  scaled.evaluate(best.u, best.c, &jacobian);
  Outcome outcome = prove(scaled, best, jacobian);
  outcome.status = status_of(best);
  outcome.starts_tried = tried;
  outcome.starts_agreed = agreed;
  outcome.iterations = pass.iterations();
  outcome.evaluations = scaled.evaluations();
  return outcome;
}

Outcome evaluate(const Problem& problem, const std::vector<double>& x) {
  // x itself, outside its bounds too: the problem is posed with bounds that hold it.
  Problem open_ended = problem;
  for (std::size_t j = 0; j < x.size(); ++j) {
    open_ended.variables[j].lower = -kInfinity;
    open_ended.variables[j].upper = kInfinity;
  }
  Scaled scaled(open_ended);
  Settled point;
  point.u = scaled.to_u(x);
  if (!scaled.evaluate(point.u, point.c, nullptr))
    return not_finite(problem, x, scaled.evaluations());
  point.totals = level_totals(scaled, point.c);
  Outcome outcome = prove(scaled, point, {});
  outcome.x = x;
  outcome.bound_standing = bound_standings(problem, x);
  outcome.starts_tried = outcome.starts_agreed = 0;
  outcome.evaluations = scaled.evaluations();
  return outcome;
}

}  // namespace easewright::solver
