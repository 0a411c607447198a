#include "model/rounding.h"

#include <algorithm>
#include <cmath>

namespace easewright {

double reading_step(LengthUnit unit, Dimension dimension) {
  if (dimension == kAngle) return radians(0.5);
  return unit == LengthUnit::inch ? kCmPerInch / 8 : 0.1;
}

bool is_derived_mate(ValueKey key) {
  return key == ValueKey::bodice_back_waist || key == ValueKey::skirt_back_width;
}

FitResult as_rounded(const FitResult& result, LengthUnit unit) {
  FitResult rounded = result;
  const Posed& posed = *result.posed;
  solver::Problem problem = posed.problem;
  for (size_t j = 0; j < posed.keys.size(); ++j) {
    if (is_derived_mate(posed.keys[j])) continue;
    solver::Variable& v = problem.variables[j];
    const double step = reading_step(unit, info(posed.keys[j]).dimension);
    const double value =
        std::clamp(step * std::round(result.outcome.x[j] / step), v.lower, v.upper);
    v.lower = v.upper = v.start = value;
  }
  solver::SolveOptions options;
  options.starts = 1;
  options.opener = solver::Opener::none;
  std::vector<double> start;
  for (size_t j = 0; j < posed.keys.size(); ++j) {
    start.push_back(is_derived_mate(posed.keys[j]) ? result.outcome.x[j]
                                                   : problem.variables[j].start);
  }
  options.warm_start = &start;
  reinterpret(rounded, solver::solve(problem, options));
  return rounded;
}

std::vector<Finding> lost_by_rounding(const FitResult& exact, const FitResult& rounded) {
  std::vector<Finding> lost;
  for (const Finding& f : rounded.findings) {
    if (!f.missed || f.strength > solver::Level::wish) continue;
    if (std::abs(f.miss) <= kFeltByRounding * f.tolerance) continue;
    const bool was_missed =
        std::any_of(exact.findings.begin(), exact.findings.end(), [&](const Finding& e) {
          return e.name == f.name && e.missed;
        });
    if (!was_missed) lost.push_back(f);
  }
  return lost;
}

}  // namespace easewright
