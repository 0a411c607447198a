#include "model/uncertainty.h"

#include "model/alter/made.h"
#include "model/pose.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;

/// What is differentiated by the body: all measures, then for every rule its expression less each
/// limit.
struct Margins {
  std::array<double, kMeasureKeys> measures{};
  std::vector<double> over_lo, under_hi;  ///< infinite where open
};

/// The garment is cut: a body that is otherwise than it was taped wears the same cloth.
Margins margins_of(const Posed& posed, const Frame& frame, const Made& made) {
  Margins result;
  const Worn worn = wear(made, frame);
  const Values<double>& values = worn.values;
  const Measures<double>& measures = worn.measures;
  const FrameFacts facts(frame);
  result.measures = measures.at;
  result.over_lo.reserve(posed.rules.size());
  result.under_hi.reserve(posed.rules.size());
  for (const PosedRule& rule : posed.rules) {
    const double value = evaluate(rule.expression, facts, values, measures);
    result.over_lo.push_back(rule.lo ? value - evaluate(*rule.lo, facts, values, measures)
                                     : kInfinity);
    result.under_hi.push_back(rule.hi ? evaluate(*rule.hi, facts, values, measures) - value
                                      : kInfinity);
  }
  return result;
}

/// d/d(body) of the margins, one column a key that has an error.
struct BodySlopes {
  Margins at;
  std::vector<size_t> keys;
  std::vector<Margins> slope;
};

double slope_between(double up, double down, double step) {
  return std::isfinite(up) && std::isfinite(down) ? (up - down) / (2 * step) : 0;
}

BodySlopes slopes_of(const Posed& posed, const Values<double>& values) {
  BodySlopes result;
  const Frame& frame = posed.frame;
  const Made made = made_from(frame, values);
  result.at = margins_of(posed, frame, made);
  for (size_t k = 0; k < kBodyKeys; ++k) {
    const double sd = frame.body.values[k].sd;
    if (!(sd > 0)) continue;
    // The error itself: where a measure has a corner (the larger of two girths, a clamp) its slope
    // over the error's own width is what counts, not the slope at a point.
    const double step = sd;
    const auto moved = [&](double by) {
      CompleteBody body = frame.body;
      body.values[k].value += by;
      return margins_of(posed, frame_of(body, frame.cloth, frame.switches), made);
    };
    const Margins up = moved(step), down = moved(-step);
    Margins slope;
    for (size_t i = 0; i < kMeasureKeys; ++i)
      slope.measures[i] = slope_between(up.measures[i], down.measures[i], step);
    for (size_t i = 0; i < posed.rules.size(); ++i) {
      slope.over_lo.push_back(slope_between(up.over_lo[i], down.over_lo[i], step));
      slope.under_hi.push_back(slope_between(up.under_hi[i], down.under_hi[i], step));
    }
    result.keys.push_back(k);
    result.slope.push_back(std::move(slope));
  }
  return result;
}

/// Variance of what has these slopes. Most things hang on a few measures of the body.
template <typename Slope>
double variance(const BodySlopes& slopes,
                const std::vector<double>& covariance,
                const Slope& slope) {
  struct Felt {
    size_t key;
    double slope;
  };
  std::array<Felt, kBodyKeys> felt{};
  size_t count = 0;
  for (size_t a = 0; a < slopes.keys.size(); ++a) {
    if (const double s = slope(slopes.slope[a]); s != 0) felt[count++] = {slopes.keys[a], s};
  }
  double sum = 0;
  for (size_t a = 0; a < count; ++a) {
    const double* row = covariance.data() + felt[a].key * kBodyKeys;
    for (size_t b = 0; b < count; ++b) sum += felt[a].slope * row[felt[b].key] * felt[b].slope;
  }
  return std::max(sum, 0.0);
}

struct Doubt {
  double sd = 0;
  double probability = 1;
};

Doubt doubt_of(const BodySlopes& slopes,
               const std::vector<double>& covariance,
               const PosedRule& rule,
               size_t i) {
  Doubt doubt;
  const double room = granted(rule);
  const auto side = [&](const std::vector<double> Margins::*margin) {
    const double at = (slopes.at.*margin)[i];
    if (!std::isfinite(at)) return 0.0;
    const double sd =
        std::sqrt(variance(slopes, covariance, [&](const Margins& s) { return (s.*margin)[i]; }));
    doubt.sd = std::max(doubt.sd, sd);
    if (sd < 1e-9) return at < -room ? 1.0 : 0.0;
    return normal_distribution(-(at + room) / sd);
  };
  doubt.probability = std::clamp(1 - side(&Margins::over_lo) - side(&Margins::under_hi), 0.0, 1.0);
  return doubt;
}

bool is_binding(const PosedRule& rule) { return rule.strength <= Level::should; }

double total_doubt(const Posed& posed,
                   const BodySlopes& slopes,
                   const std::vector<double>& covariance) {
  double sum = 0;
  for (size_t i = 0; i < posed.rules.size(); ++i) {
    if (!is_binding(posed.rules[i])) continue;
    const double p = doubt_of(slopes, covariance, posed.rules[i], i).probability;
    sum += p * (1 - p);
  }
  return sum;
}

/// The covariance once measure k has been taped with this s.d. besides (Gaussian conditioning).
std::vector<double> taped(const std::vector<double>& covariance, size_t k, double sd) {
  std::vector<double> result = covariance;
  const double total = covariance[k * kBodyKeys + k] + sd * sd;
  for (size_t a = 0; a < kBodyKeys; ++a) {
    for (size_t b = 0; b < kBodyKeys; ++b) {
      result[a * kBodyKeys + b] -=
          covariance[a * kBodyKeys + k] * covariance[k * kBodyKeys + b] / total;
    }
  }
  return result;
}

std::vector<TapeAdvice> advise(const Posed& posed,
                               const BodySlopes& slopes,
                               const std::vector<double>& covariance) {
  const double before = total_doubt(posed, slopes, covariance);
  std::vector<TapeAdvice> advice;
  for (const size_t k : slopes.keys) {
    const auto key = static_cast<BodyKey>(k);
    if (!(info(key).default_sd > 0) || key == BodyKey::age) continue;
    const bool estimated = posed.frame.body.at(key).origin != Origin::measured;
    // Taping what was estimated brings a home tape's error; taping again with care halves it.
    const double sd = estimated ? info(key).default_sd : 0.5 * posed.frame.body.at(key).sd;
    const double removed = before - total_doubt(posed, slopes, taped(covariance, k, sd));
    if (removed > 1e-3) advice.push_back({key, removed});
  }
  std::stable_sort(advice.begin(), advice.end(), [](const TapeAdvice& a, const TapeAdvice& b) {
    return a.doubt_removed > b.doubt_removed;
  });
  if (advice.size() > 2) advice.resize(2);
  return advice;
}

Sureness sureness_of(double probability) {
  if (probability >= 0.9) return Sureness::sure;
  if (probability >= 0.7) return Sureness::likely;
  return probability >= 0.3 ? Sureness::toss_up : Sureness::unlikely;
}

/// Moves the limits of musts and shoulds inwards by z s.d. of their margins; a range that would
/// close asks for its middle.
solver::Problem tightened(const Posed& posed, const Uncertainty& doubts, double z) {
  solver::Problem problem = posed.problem;
  for (const RuleSureness& r : doubts.rules) {
    const PosedRule& rule = posed.rules[static_cast<size_t>(r.rule)];
    if (!is_binding(rule)) continue;
    for (const int i : rule.outputs) {
      solver::Output& output = problem.outputs[static_cast<size_t>(i)];
      if (output.lo == output.hi) continue;  // an equality can't be made surer
      const double by = std::min(
          z * r.sd,
          std::isfinite(output.hi - output.lo) ? 0.5 * (output.hi - output.lo) : kInfinity);
      output.lo += by;
      output.hi -= by;
      if (output.lo > output.hi) output.lo = output.hi = 0.5 * (output.lo + output.hi);
    }
  }
  return problem;
}

}  // namespace

std::string_view to_string(Sureness sureness) {
  switch (sureness) {
    case Sureness::sure:
      return "sure";
    case Sureness::likely:
      return "likely";
    case Sureness::toss_up:
      return "a toss-up";
    case Sureness::unlikely:
      return "unlikely";
  }
  return "";
}

double granted(const PosedRule& rule) {
  const bool exact = rule.lo && rule.hi && rule.lo->text() == rule.hi->text();
  return (exact ? 1.0 : solver::kHolds) * rule.tolerance;
}

double normal_distribution(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

double normal_quantile(double p) {
  // Newton on the distribution, from a start that is monotone in p; converges for every p in (0,
  // 1).
  double z = 0;
  for (int i = 0; i < 60; ++i) {
    const double density = std::exp(-0.5 * z * z) / std::sqrt(2 * kPi);
    const double step =
        std::clamp((normal_distribution(z) - p) / std::max(density, 1e-300), -1.0, 1.0);
    z -= step;
    if (std::abs(step) < 1e-14) break;
  }
  return z;
}

Uncertainty uncertainty(const Job& job,
                        const Catalogue& catalogue,
                        const FitResult& result,
                        DoubtsOf of) {
  const Posed& posed = *result.posed;
  const std::vector<double> covariance =
      error_covariance(job.body, posed.frame.body, catalogue.bodies);
  const BodySlopes slopes = slopes_of(posed, result.values);
  Uncertainty found;
  for (size_t i = 0; i < kMeasureKeys && of == DoubtsOf::all; ++i) {
    found.measure_sd[i] =
        std::sqrt(variance(slopes, covariance, [i](const Margins& s) { return s.measures[i]; }));
  }
  for (size_t i = 0; i < posed.rules.size(); ++i) {
    const Doubt doubt = doubt_of(slopes, covariance, posed.rules[i], i);
    found.rules.push_back(
        {static_cast<int>(i), doubt.probability, doubt.sd, sureness_of(doubt.probability)});
  }
  if (of == DoubtsOf::all) found.advice = advise(posed, slopes, covariance);
  return found;
}

FitResult fit_surely(const Job& job,
                     const Catalogue& catalogue,
                     double probability,
                     const solver::SolveOptions& options) {
  FitResult result = fit(job, catalogue, options);
  if (result.posed == nullptr) return result;
  const double z = normal_quantile(probability);
  for (int round = 0; round < 2; ++round) {
    const Uncertainty doubts = uncertainty(job, catalogue, result);
    const solver::Problem problem = tightened(*result.posed, doubts, z);
    solver::SolveOptions from = options;
    const std::vector<double> start = result.outcome.x;
    from.warm_start = &start;
    const solver::Outcome outcome = solver::solve(problem, from);
    if (outcome.status == solver::Status::not_finite) break;
    reinterpret(result, outcome);
  }
  return result;
}

}  // namespace easewright
