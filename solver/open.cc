#include "solver/open.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <ceres/ceres.h>
#include <glog/logging.h>

namespace easewright::solver {
namespace {

constexpr double kHuberRadius = 0.1;  // tolerances
constexpr std::array<double, kLevels> kWeights = {1e2, 1e1, 1, 1e-2};
constexpr int kIterations = 4;
constexpr double kFunctionTolerance = 1e-3;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// r with r^2 / 2 = w rho(d), and its slope dr/dd.
struct Residual {
  double value, slope;
};

Residual robust(double d, double weight) {
  const double away = std::abs(d);
  if (away <= kHuberRadius) {
    const double root = std::sqrt(weight / kHuberRadius);
    return {root * d, root};
  }
  const double value = std::sqrt(2 * weight * (away - kHuberRadius / 2));
  return {d > 0 ? value : -value, weight / value};
}

class AllOutputs final : public ceres::CostFunction {
 public:
  explicit AllOutputs(Scaled& scaled) : scaled_(scaled), u_(at(scaled.n())) {
    set_num_residuals(scaled.m());
    mutable_parameter_block_sizes()->push_back(scaled.n());
  }

  bool Evaluate(double const* const* parameters,
                double* residuals,
                double** jacobians) const override {
    double* jacobian = jacobians ? jacobians[0] : nullptr;
    u_.assign(parameters[0], parameters[0] + scaled_.n());
    for (std::size_t j = 0; j < u_.size(); ++j)
      u_[j] = std::clamp(u_[j], scaled_.lower[j], scaled_.upper[j]);
    if (!scaled_.evaluate(u_, c_, jacobian ? &slopes_ : nullptr)) return false;
    const int n = scaled_.n();
    for (int i = 0; i < scaled_.m(); ++i) {
      const Output& output = scaled_.problem().outputs[at(i)];
      const double c = c_[at(i)];
      const double d = c < scaled_.lo[at(i)]   ? c - scaled_.lo[at(i)]
                       : c > scaled_.hi[at(i)] ? c - scaled_.hi[at(i)]
                                               : 0;
      const double weight = kWeights[at(static_cast<int>(output.level))];
      const double root = std::sqrt(weight);
      const Residual r =
          output.shape == Shape::absolute ? robust(d, weight) : Residual{root * d, root};
      residuals[i] = r.value;
      if (!jacobian) continue;
      const bool inside = c > scaled_.lo[at(i)] && c < scaled_.hi[at(i)];
      for (int j = 0; j < n; ++j) {
        jacobian[i * n + j] = inside ? 0 : r.slope * slopes_[at(i) * at(n) + at(j)];
      }
    }
    return true;
  }

 private:
  Scaled& scaled_;
  mutable std::vector<double> u_, c_, slopes_;
};

void silence_log() {
  static const bool silent = [] {
    FLAGS_minloglevel = google::FATAL;
    return true;
  }();
  static_cast<void>(silent);
}

}  // namespace

std::vector<double> open(Scaled& scaled, const std::vector<double>& u) {
  if (scaled.n() == 0 || scaled.m() == 0) return u;
  silence_log();
  std::vector<double> moved = u;
  ceres::Problem problem;
  problem.AddResidualBlock(new AllOutputs(scaled), nullptr, moved.data());
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
  options.max_num_iterations = kIterations;
  options.function_tolerance = kFunctionTolerance;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &problem, &summary);
  if (!summary.IsSolutionUsable()) return u;
  for (std::size_t j = 0; j < moved.size(); ++j) {
    if (!std::isfinite(moved[j])) return u;
    moved[j] = std::clamp(moved[j], scaled.lower[j], scaled.upper[j]);
  }
  return moved;
}

}  // namespace easewright::solver
