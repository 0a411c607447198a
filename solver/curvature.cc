// The part of the pass that bends H where Gauss-Newton crawls: see pass.h.

#include "solver/pass.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <Eigen/QR>

namespace easewright::solver {
namespace {

/// Steps that differenced curvature serves before it is differenced again.
constexpr int kFresh = 6;
/// Ridge, per largest entry of H, that keeping the curvature across the rows is worth.
constexpr double kMostRidge = 1e3;
/// In scales.
constexpr double kDifference = 1e-6;

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

/// Second derivatives of the Lagrangian at u with the last pulls, as far as the columns of `null`
/// tell them, by differences of Jacobians: B q = -sum_i pull_i (grad c_i(u + e q) - grad c_i(u)) /
/// e for each column q; B's block outside stays 0.
void Pass::difference_lagrangian(const std::vector<double>& u, const Eigen::MatrixXd& null) {
  const int n = scaled_.n();
  const int m = scaled_.m();
  const Eigen::Map<const Eigen::VectorXd> pull(pull_.data(), m);
  const Eigen::Map<const RowMajor> here(jacobian_.data(), m, n);
  const Eigen::VectorXd gradient_here = here.transpose() * pull;
  Eigen::MatrixXd bent = Eigen::MatrixXd::Zero(n, null.cols());
  std::vector<double> moved = u;
  for (int column = 0; column < null.cols(); ++column) {
    for (const double way : {1.0, -1.0}) {
      for (int j = 0; j < n; ++j) moved[at(j)] = u[at(j)] + way * kDifference * null(j, column);
      if (!scaled_.evaluate(moved, difference_c_, &difference_j_)) continue;
      const Eigen::Map<const RowMajor> there(difference_j_.data(), m, n);
      bent.col(column) = (there.transpose() * pull - gradient_here) / (-way * kDifference);
      break;
    }
  }
  const Eigen::MatrixXd inner = null.transpose() * bent;
  lagrangian_ = bent * null.transpose();
  lagrangian_ += lagrangian_.transpose().eval();
  lagrangian_ -= null * ((inner + inner.transpose()) / 2) * null.transpose();
  age_ = 0;
}

/// Adds the curvature of the Lagrangian on the null space of the working set: C q = -sum_i pull_i
/// (grad c_i(u + e q) - grad c_i(u)) / e for a basis q, and what makes the whole positive definite.
void Pass::add_curvature(const std::vector<double>& u) {
  const int n = scaled_.n();
  const int m = scaled_.m();
  // Rows and true bounds at their limits; the trust region's own box does not count.
  const std::vector<RowState>& states = quadratic_->states();
  const auto is_on = [&](int row) {
    return states[at(row)] == RowState::on_lower || states[at(row)] == RowState::on_upper;
  };
  Eigen::MatrixXd active(n, n + static_cast<int>(live_.size()));
  int columns = 0;
  for (int j = 0; j < n; ++j) {
    const bool at_bound = u[at(j)] <= terms_->lower[at(j)] || u[at(j)] >= terms_->upper[at(j)];
    if (is_on(m + j) && at_bound) active.col(columns++) = Eigen::VectorXd::Unit(n, j);
  }
  for (const int i : live_) {
    if (!is_on(i) || stiffness_[at(i)] > 0 || norm_[at(i)] == 0) continue;
    active.col(columns++) =
        Eigen::Map<const Eigen::VectorXd>(jacobian_.data() + static_cast<long>(i) * n, n) /
        norm_[at(i)];
  }
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr;
  qr.setThreshold(1e-9);
  if (columns > 0) qr.compute(active.leftCols(columns));
  const int rank = columns == 0 ? 0 : static_cast<int>(qr.rank());
  const int k = n - rank;
  if (k == 0) return;
  Eigen::MatrixXd q = Eigen::MatrixXd::Identity(n, n);
  if (columns > 0) q.applyOnTheLeft(qr.householderQ());
  const Eigen::MatrixXd null = q.rightCols(k);

  if (lagrangian_.rows() != n || (age_ >= kFresh && slow_ >= kSlowSteps))
    difference_lagrangian(u, null);
  ++age_;
  const Eigen::MatrixXd range = q.leftCols(rank);
  const Eigen::MatrixXd bent = lagrangian_ * null;
  Eigen::Map<Eigen::MatrixXd> stored(hessian_.data(), n, n);
  const Eigen::MatrixXd h = stored.selfadjointView<Eigen::Lower>();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(null.transpose() * (h * null + bent));
  const double floor = std::max(kCurvatureFloor, 1e-8 * eigen.eigenvalues().cwiseAbs().maxCoeff());
  const Eigen::VectorXd values = eigen.eigenvalues().cwiseAbs().cwiseMax(floor);
  const Eigen::MatrixXd along = null * eigen.eigenvectors();
  const Eigen::MatrixXd reduced = along * values.asDiagonal() * along.transpose();
  if (rank == 0) {
    stored = reduced;
    diagonal_ = false;
    return;
  }
  // The whole is positive when the range's block exceeds what the cross terms take (Schur's
  // complement). Where that asks for a ridge out of all proportion the cross terms are left out:
  // the rows settle the range space by themselves.
  const Eigen::MatrixXd far = range.transpose() * h * range;
  const Eigen::MatrixXd cross = range.transpose() * (h * along + bent * eigen.eigenvectors());
  const Eigen::MatrixXd taken = cross * values.cwiseInverse().asDiagonal() * cross.transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> schur(far - taken, Eigen::EigenvaluesOnly);
  const double least = 1e-6 * (1 + far.cwiseAbs().maxCoeff());
  const double ridge = std::max(0.0, least - schur.eigenvalues()[0]);
  const bool keeps_cross = ridge <= kMostRidge * (1 + h.cwiseAbs().maxCoeff());
  Eigen::MatrixXd far_ridged = far;
  if (keeps_cross) far_ridged.diagonal().array() += ridge;
  stored = reduced + range * far_ridged * range.transpose();
  if (keeps_cross) {
    const Eigen::MatrixXd mixed = range * cross * along.transpose();
    stored += mixed + mixed.transpose();
  }
  stored = (stored + stored.transpose()).eval() / 2;
  diagonal_ = false;
}

}  // namespace easewright::solver
