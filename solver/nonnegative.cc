#include "solver/nonnegative.h"

#include <algorithm>
#include <cmath>

#include <Eigen/QR>

namespace easewright::solver {
namespace {

/// A column enters when the residual still points along it by more than this share of its length.
constexpr double kEnter = 1e-10;

Eigen::VectorXd least_squares(const Eigen::MatrixXd& a,
                              const Eigen::VectorXd& b,
                              const std::vector<int>& columns) {
  Eigen::MatrixXd part(a.rows(), static_cast<Eigen::Index>(columns.size()));
  for (std::size_t k = 0; k < columns.size(); ++k)
    part.col(static_cast<Eigen::Index>(k)) = a.col(columns[k]);
  return part.colPivHouseholderQr().solve(b);
}

}  // namespace

Eigen::VectorXd nonnegative_least_squares(const Eigen::MatrixXd& a,
                                          const Eigen::VectorXd& b,
                                          const std::vector<bool>& free) {
  const int n = static_cast<int>(a.cols());
  Eigen::VectorXd x = Eigen::VectorXd::Zero(n);
  std::vector<int> in;  // columns that may be other than zero
  for (int j = 0; j < n; ++j) {
    if (free[static_cast<std::size_t>(j)]) in.push_back(j);
  }
  const double enough = kEnter * (1 + b.norm());
  for (int round = 0; round < 3 * n + 1; ++round) {
    while (!in.empty()) {
      const Eigen::VectorXd wanted = least_squares(a, b, in);
      // Towards `wanted` as far as every sign allows; what reaches zero leaves.
      double share = 1;
      for (std::size_t k = 0; k < in.size(); ++k) {
        const double w = wanted[static_cast<Eigen::Index>(k)];
        if (!free[static_cast<std::size_t>(in[k])] && w < 0)
          share = std::min(share, x[in[k]] / (x[in[k]] - w));
      }
      for (std::size_t k = 0; k < in.size(); ++k)
        x[in[k]] += share * (wanted[static_cast<Eigen::Index>(k)] - x[in[k]]);
      if (share == 1) break;
      std::vector<int> kept;
      for (const int j : in) {
        if (free[static_cast<std::size_t>(j)] || x[j] > 1e-14) {
          kept.push_back(j);
        } else {
          x[j] = 0;
        }
      }
      if (kept.size() == in.size()) break;
      in = kept;
    }
    const Eigen::VectorXd slope = a.transpose() * (b - a * x);
    int best = -1;
    for (int j = 0; j < n; ++j) {
      if (std::find(in.begin(), in.end(), j) != in.end()) continue;
      if (slope[j] > enough * a.col(j).norm() && (best < 0 || slope[j] > slope[best])) best = j;
    }
    if (best < 0) break;
    in.push_back(best);
  }
  return x;
}

}  // namespace easewright::solver
