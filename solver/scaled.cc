#include "solver/scaled.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <Eigen/Core>

namespace easewright::solver {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Infinities and NaN turn 0 * v into NaN, so one sum tells; NaN never passes a comparison by
/// chance.
bool all_finite(const std::vector<double>& values) {
  return (Eigen::Map<const Eigen::ArrayXd>(values.data(), static_cast<long>(values.size())) * 0.0)
             .sum() == 0;
}

}  // namespace

Scaled::Scaled(const Problem& problem) : problem_(problem) {
  for (int j = 0; j < problem.n(); ++j) {
    const Variable& v = problem.variables[at(j)];
    assert(v.lower <= v.upper && "a variable's bounds are crossed or not numbers");
    assert(v.scale > 0 && std::isfinite(v.scale) && "a variable's scale must be positive");
    x_.push_back(std::clamp(v.start, v.lower, v.upper));
    position_.push_back(v.lower == v.upper ? -1 : n());
    if (v.lower == v.upper) continue;
    free_.push_back(j);
    scale_.push_back(v.scale);
    lower.push_back(v.lower / v.scale);
    upper.push_back(v.upper / v.scale);
  }
  for (const Output& o : problem.outputs) {
    assert(o.lo <= o.hi && "an output's interval is crossed or not a number");
    assert(o.tolerance > 0 && std::isfinite(o.tolerance) && "a tolerance must be positive");
    per_tolerance_.push_back(1 / o.tolerance);
    lo.push_back(o.lo / o.tolerance);
    hi.push_back(o.hi / o.tolerance);
  }
}

std::vector<double> Scaled::to_u(const std::vector<double>& x) const {
  assert(static_cast<int>(x.size()) == problem_.n());
  std::vector<double> u(free_.size());
  for (int k = 0; k < n(); ++k) {
    u[at(k)] = std::clamp(x[at(free_[at(k)])] / scale_[at(k)], lower[at(k)], upper[at(k)]);
  }
  return u;
}

/// The bound itself at a bound, not its quotient times the scale, which may be a rounding past it.
double Scaled::x_at(int k, double u) const {
  const Variable& v = problem_.variables[at(free_[at(k)])];
  if (u == lower[at(k)]) return v.lower;
  if (u == upper[at(k)]) return v.upper;
  return u * scale_[at(k)];
}

std::vector<double> Scaled::to_x(const std::vector<double>& u) const {
  std::vector<double> x = x_;
  for (int k = 0; k < n(); ++k) x[at(free_[at(k)])] = x_at(k, u[at(k)]);
  return x;
}

bool Scaled::evaluate(const std::vector<double>& u,
                      std::vector<double>& c,
                      std::vector<double>* jacobian) {
  ++evaluations_;
  for (int k = 0; k < n(); ++k) x_[at(free_[at(k)])] = x_at(k, u[at(k)]);
  c.resize(at(m()));
  if (m() == 0) return true;
  if (jacobian) jacobian->resize(at(m()) * at(n()));
  // Without fixed variables the function writes straight into the Jacobian.
  const bool whole = n() == problem_.n();
  const bool columns =
      jacobian && !whole &&
      problem_.function->evaluate_columns(x_.data(), free_, c.data(), jacobian->data());
  if (jacobian && !whole && !columns) full_.resize(at(m()) * at(problem_.n()));
  double* slopes = !jacobian ? nullptr : whole ? jacobian->data() : full_.data();
  if (!columns) problem_.function->evaluate(x_.data(), c.data(), slopes);
  for (int i = 0; i < m(); ++i) c[at(i)] *= per_tolerance_[at(i)];
  if (!all_finite(c)) return false;
  if (!jacobian) return true;
  if (!whole && !columns) {
    double* out = jacobian->data();
    const double* row = full_.data();
    for (int i = 0; i < m(); ++i, row += problem_.n()) {
      for (int k = 0; k < n(); ++k) *out++ = row[free_[at(k)]];
    }
  }
  const Eigen::Map<const Eigen::ArrayXd> scale(scale_.data(), n());
  for (int i = 0; i < m(); ++i) {
    Eigen::Map<Eigen::ArrayXd> row(jacobian->data() + static_cast<long>(i) * n(), n());
    row *= per_tolerance_[at(i)] * scale;
  }
  return all_finite(*jacobian);
}

}  // namespace easewright::solver
