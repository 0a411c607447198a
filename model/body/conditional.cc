#include "model/body/conditional.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace easewright {
namespace {

constexpr int kMost = kMaxBodyVariables;
// Small enough for the stack: no allocation in groups of 100,000 bodies.
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, kMost, kMost>;
using Vector = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kMost, 1>;

// Keeps the factor positive when two exact observations are almost one, against 1 for the variance
// itself.
constexpr double kJitter = 1e-9;

double correlation(const Moments& m, int i, int j) {
  return m.correlation[static_cast<size_t>(i) * m.variables.size() + static_cast<size_t>(j)];
}

/// Covariance of two observed sums in units of their variables' s.d. of `sd`; of an observation
/// with itself its variance.
double covariance(const Moments& m,
                  const std::vector<double>& sd,
                  const Observation& a,
                  const Observation& b) {
  const auto with = [&](int i, const Observation& other) {
    const auto s = [&sd](int k) { return sd[static_cast<size_t>(k)]; };
    double sum = s(other.variable) * correlation(m, i, other.variable);
    for (const auto& [j, factor] : other.also) sum += factor * s(j) * correlation(m, i, j);
    return s(i) * sum;
  };
  double sum = with(a.variable, b);
  for (const auto& [i, factor] : a.also) sum += factor * with(i, b);
  return sum;
}

/// S.d. of what is observed, its error apart.
double sd_of(const Moments& m, const std::vector<double>& sd, const Observation& o) {
  if (o.also.empty()) return sd[static_cast<size_t>(o.variable)];
  return std::sqrt(covariance(m, sd, o, o));
}

double mean_of(const std::vector<double>& mean, const Observation& o) {
  double sum = mean[static_cast<size_t>(o.variable)];
  for (const auto& [i, factor] : o.also) sum += factor * mean[static_cast<size_t>(i)];
  return sum;
}

/// Correlation of two observed sums, errors apart.
double correlation(const Moments& m, const Observation& a, const Observation& b) {
  if (a.also.empty() && b.also.empty()) return correlation(m, a.variable, b.variable);
  return covariance(m, m.sd, a, b) / (sd_of(m, m.sd, a) * sd_of(m, m.sd, b));
}

Observation exactly(int variable) { return {.variable = variable, .value = 0, .sd = 0}; }

// Observations in units of s.d. from the mean, and the factor of their covariance, tape's error
// included.
struct Standardised {
  Vector z;
  Eigen::LLT<Matrix> factor;
  double log_determinant = 0;

  Standardised(const Moments& m, const std::vector<Observation>& observations) {
    assert(observations.size() <= static_cast<size_t>(kMost));
    const auto n = static_cast<Eigen::Index>(observations.size());
    z.resize(n);
    Matrix covariance(n, n);
    for (Eigen::Index i = 0; i < n; ++i) {
      const Observation& a = observations[static_cast<size_t>(i)];
      const double unit = sd_of(m, m.sd, a);
      const double tape = a.sd / unit;
      z(i) = (a.value - mean_of(m.mean, a)) / unit;
      for (Eigen::Index j = 0; j < i; ++j)
        covariance(i, j) = covariance(j, i) =
            correlation(m, a, observations[static_cast<size_t>(j)]);
      covariance(i, i) = 1 + tape * tape + kJitter;
    }
    factor.compute(covariance);
    assert(factor.info() == Eigen::Success && "correlations are checked when the tables are read");
    for (Eigen::Index i = 0; i < n; ++i) log_determinant += 2 * std::log(factor.matrixLLT()(i, i));
  }

  double distance2() const {
    Vector white = z;
    factor.matrixL().solveInPlace(white);
    return white.squaredNorm();
  }
};

double tail_growth(double distance2, size_t observed, double farthest) {
  const auto n = static_cast<double>(observed);
  const double whole = (distance2 - n) / (kTailFreedom + n);
  const double alone = (farthest * farthest - 4) / (kTailFreedom + 4);
  return std::sqrt(1 + std::max({0.0, whole, alone}));
}

// Farthest from the mean of the people surveyed, in their s.d.; what is vague is not far.
double farthest_of(const Moments& m, const std::vector<Observation>& observations) {
  double farthest = 0;
  for (const Observation& o : observations) {
    const double sd = std::hypot(sd_of(m, m.surveyed_sd, o), o.sd);
    farthest = std::max(farthest, std::abs(o.value - mean_of(m.surveyed_mean, o)) / sd);
  }
  return farthest;
}

}  // namespace

Conditional condition(const Moments& moments,
                      const std::vector<Observation>& observations,
                      const std::vector<int>& wanted) {
  Conditional result;
  const auto n = static_cast<Eigen::Index>(observations.size());
  const auto targets = static_cast<Eigen::Index>(wanted.size());
  if (n == 0) {
    for (const int target : wanted) {
      result.mean[static_cast<size_t>(target)] = moments.mean[static_cast<size_t>(target)];
      result.sd[static_cast<size_t>(target)] = moments.sd[static_cast<size_t>(target)];
    }
    return result;
  }
  const Standardised observed(moments, observations);
  Matrix cross(n, targets);
  for (Eigen::Index t = 0; t < targets; ++t)
    for (Eigen::Index i = 0; i < n; ++i)
      cross(i, t) = correlation(
          moments, observations[static_cast<size_t>(i)], exactly(wanted[static_cast<size_t>(t)]));
  Vector white = observed.z;
  observed.factor.matrixL().solveInPlace(white);
  observed.factor.matrixL().solveInPlace(cross);

  result.distance2 = white.squaredNorm();
  result.growth =
      tail_growth(result.distance2, observations.size(), farthest_of(moments, observations));
  for (Eigen::Index t = 0; t < targets; ++t) {
    const auto at = static_cast<size_t>(wanted[static_cast<size_t>(t)]);
    const double explained = cross.col(t).squaredNorm();
    result.mean[at] = moments.mean[at] + moments.sd[at] * cross.col(t).dot(white);
    result.sd[at] = moments.sd[at] * std::sqrt(std::max(0.0, 1 - explained)) * result.growth;
  }
  return result;
}

std::vector<double> conditional_covariance(const Moments& moments,
                                           const std::vector<Observation>& observations,
                                           const std::vector<int>& wanted) {
  const auto n = static_cast<Eigen::Index>(observations.size());
  const auto targets = static_cast<Eigen::Index>(wanted.size());
  const auto variable = [&wanted](Eigen::Index t) { return wanted[static_cast<size_t>(t)]; };
  Matrix explained = Matrix::Zero(targets, targets);
  double growth = 1;
  if (n > 0) {
    const Standardised observed(moments, observations);
    Matrix cross(n, targets);
    for (Eigen::Index t = 0; t < targets; ++t)
      for (Eigen::Index i = 0; i < n; ++i)
        cross(i, t) =
            correlation(moments, observations[static_cast<size_t>(i)], exactly(variable(t)));
    observed.factor.matrixL().solveInPlace(cross);
    explained.noalias() = cross.transpose() * cross;
    growth =
        tail_growth(observed.distance2(), observations.size(), farthest_of(moments, observations));
  }
  std::vector<double> result(static_cast<size_t>(targets * targets));
  for (Eigen::Index a = 0; a < targets; ++a) {
    for (Eigen::Index b = 0; b < targets; ++b) {
      const double unit = moments.sd[static_cast<size_t>(variable(a))] *
                          moments.sd[static_cast<size_t>(variable(b))];
      result[static_cast<size_t>(a * targets + b)] =
          growth * growth * unit *
          (correlation(moments, variable(a), variable(b)) - explained(a, b));
    }
  }
  return result;
}

double surprise(const Moments& moments, const std::vector<Observation>& observations) {
  if (observations.empty()) return 0;
  const Standardised observed(moments, observations);
  double scale = 0;  // of the density in cm rather than in s.d.
  for (const Observation& o : observations) scale += 2 * std::log(sd_of(moments, moments.sd, o));
  return observed.distance2() + observed.log_determinant + scale;
}

LeftOut compare(const Moments& moments,
                const std::vector<Observation>& others,
                const Observation& one) {
  const double unit = sd_of(moments, moments.sd, one);
  const double off = one.value - mean_of(moments.mean, one);
  if (others.empty()) return {off, std::hypot(unit, one.sd)};
  const Standardised observed(moments, others);
  Vector cross(static_cast<Eigen::Index>(others.size()));
  for (Eigen::Index i = 0; i < cross.size(); ++i)
    cross(i) = correlation(moments, others[static_cast<size_t>(i)], one);
  Vector white = observed.z;
  observed.factor.matrixL().solveInPlace(white);
  observed.factor.matrixL().solveInPlace(cross);
  const double growth =
      tail_growth(white.squaredNorm(), others.size(), farthest_of(moments, others));
  const double own = unit * growth * std::sqrt(std::max(0.0, 1 - cross.squaredNorm()));
  return {off - unit * cross.dot(white), std::hypot(own, one.sd)};
}

std::vector<LeftOut> leave_one_out(const Moments& moments,
                                   const std::vector<Observation>& observations) {
  std::vector<LeftOut> result(observations.size());
  if (observations.empty()) return result;
  const Standardised observed(moments, observations);
  const auto n = static_cast<Eigen::Index>(observations.size());
  // With K the inverse covariance: residual i without i is (K z)_i / K_ii, its variance 1 / K_ii.
  Matrix inverse = Matrix::Identity(n, n);
  observed.factor.solveInPlace(inverse);
  const Vector pulled = inverse * observed.z;
  const double distance2 = observed.z.dot(pulled);
  const double farthest = farthest_of(moments, observations);
  for (Eigen::Index i = 0; i < n; ++i) {
    const double unit = sd_of(moments, moments.sd, observations[static_cast<size_t>(i)]);
    const double own = pulled(i) * pulled(i) / inverse(i, i);
    LeftOut& out = result[static_cast<size_t>(i)];
    out.difference = unit * pulled(i) / inverse(i, i);
    out.sd = unit / std::sqrt(inverse(i, i)) *
             tail_growth(distance2 - own, observations.size() - 1, farthest);
  }
  return result;
}

}  // namespace easewright
