#include "solver/sensitivity.h"

#include "solver/scaled.h"
#include "solver/settle.h"

#include <cmath>

#include <Eigen/Dense>

namespace easewright::solver {
namespace {

/// A pull below this share of the largest is none.
constexpr double kPulls = 1e-9;
/// Nearer to a limit than this, in tolerances or scales, is at it.
constexpr double kAtLimit = 1e-4;
constexpr double kDifference = 1e-5;
/// Curvature below this share of the largest leaves its direction where it is.
constexpr double kFlat = 1e-12;
constexpr double kRank = 1e-9;

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Answer {
 public:
  Answer(const Problem& problem, const Outcome& outcome)
      : problem_(problem), outcome_(outcome), scaled_(problem) {
    u_ = scaled_.to_u(outcome.x);
    std::vector<double> slopes;
    finite_ = scaled_.evaluate(u_, c_, &slopes);
    active_.resize(scaled_.n(), 0);
    if (!finite_) return;
    slopes_ = Eigen::Map<const RowMajor>(slopes.data(), scaled_.m(), scaled_.n());
    find_tight();
    find_curvature();
    split();
  }

  Sensitivity to(const Member& limit) const {
    Sensitivity s;
    s.limit = limit;
    s.dx.assign(at(problem_.n()), 0.0);
    s.dg.assign(at(problem_.m()), 0.0);
    if (!finite_) return s;
    Eigen::VectorXd db = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(tight_.size()));
    Eigen::VectorXd df = Eigen::VectorXd::Zero(scaled_.n());
    for (std::size_t k = 0; k < tight_.size(); ++k) {
      if (is_moved(tight_[k], limit)) db[static_cast<Eigen::Index>(k)] = 1;
    }
    if (limit.kind == Member::Kind::output && is_spring(limit.index, limit.side)) {
      df = weight(limit.index) * slopes_.row(limit.index).transpose();
    }
    if (db.isZero() && df.isZero()) return s;
    Eigen::VectorXd along = Eigen::VectorXd::Zero(scaled_.n());
    if (db.size() > 0) along = range_ * basis_.solve(db);
    const Eigen::VectorXd du =
        along + null_ * (inverse_ * (null_.transpose() * (df - curvature_ * along)));
    const double unit = 1 / felt(problem_, limit);
    for (int k = 0; k < scaled_.n(); ++k)
      s.dx[at(scaled_.free()[at(k)])] = du[k] * scaled_.scale(k) * unit;
    const Eigen::VectorXd dc = slopes_ * du;
    for (int i = 0; i < problem_.m(); ++i)
      s.dg[at(i)] = dc[i] * problem_.outputs[at(i)].tolerance * unit;
    s.moves = !du.isZero(1e-12);
    return s;
  }

 private:
  const Output& output(int i) const { return problem_.outputs[at(i)]; }
  /// Squared outputs of an upper level hold against lower ones as in the levelled answer, so the
  /// sharp weights.
  double weight(int i) const { return kSharpWeights[at(static_cast<int>(output(i).level))]; }

  /// A squared output that pulls from this side.
  bool is_spring(int i, Side side) const {
    if (output(i).shape != Shape::squared) return false;
    if (output(i).lo == output(i).hi) return true;
    return side == Side::lower ? c_[at(i)] < scaled_.lo[at(i)] : c_[at(i)] > scaled_.hi[at(i)];
  }

  bool is_moved(const Member& tight, const Member& limit) const {
    if (tight == limit) return true;
    return tight.kind == Member::Kind::output && limit.kind == Member::Kind::output &&
           tight.index == limit.index && output(tight.index).lo == output(tight.index).hi;
  }

  void find_tight() {
    double most = 0;
    for (const double pull : outcome_.pull) most = std::max(most, std::abs(pull));
    for (int i = 0; i < problem_.m(); ++i) {
      if (output(i).shape == Shape::squared || is_missed(problem_, outcome_, i)) continue;
      const bool equality = output(i).lo == output(i).hi;
      const double pull = outcome_.pull[at(i)];
      if (!equality && std::abs(pull) <= kPulls * most) continue;
      const bool low = equality || pull > 0;
      const double off = c_[at(i)] - (low ? scaled_.lo : scaled_.hi)[at(i)];
      if (std::abs(off) > kAtLimit) continue;
      add({Member::Kind::output, i, low ? Side::lower : Side::upper}, slopes_.row(i).transpose());
    }
    for (int k = 0; k < scaled_.n(); ++k) {
      const int j = scaled_.free()[at(k)];
      const double pull = outcome_.bound_pull[at(j)];
      if (std::abs(pull) <= kPulls * most) continue;
      add({Member::Kind::bound, j, pull > 0 ? Side::lower : Side::upper},
          Eigen::VectorXd::Unit(scaled_.n(), k));
    }
  }

  /// Dependent rules are left out: the first of them stands for all.
  void add(const Member& member, const Eigen::VectorXd& slope) {
    Eigen::MatrixXd wider(scaled_.n(), active_.cols() + 1);
    wider << active_, slope;
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(wider);
    qr.setThreshold(kRank);
    if (qr.rank() < wider.cols()) return;
    active_ = wider;
    tight_.push_back(member);
  }

  void find_curvature() {
    const int n = scaled_.n();
    Eigen::VectorXd pull = Eigen::VectorXd::Zero(scaled_.m());
    curvature_ = Eigen::MatrixXd::Zero(n, n);
    for (int i = 0; i < scaled_.m(); ++i) {
      pull[i] = outcome_.pull[at(i)];
      if (!is_spring(i, Side::lower) && !is_spring(i, Side::upper)) continue;
      curvature_ += weight(i) * slopes_.row(i).transpose() * slopes_.row(i);
    }
    std::vector<double> c, slopes;
    for (int k = 0; k < n; ++k) {
      Eigen::VectorXd bent[2];
      for (int way = 0; way < 2; ++way) {
        std::vector<double> moved = u_;
        moved[at(k)] += way == 0 ? kDifference : -kDifference;
        // At the edge of the function's domain the inner half of the difference serves for both.
        bent[way] =
            scaled_.evaluate(moved, c, &slopes)
                ? Eigen::VectorXd(
                      Eigen::Map<const RowMajor>(slopes.data(), scaled_.m(), n).transpose() * pull)
                : Eigen::VectorXd(slopes_.transpose() * pull);
      }
      curvature_.col(k) -= (bent[0] - bent[1]) / (2 * kDifference);
    }
    curvature_ = (curvature_ + curvature_.transpose()).eval() / 2;
  }

  void split() {
    const int n = scaled_.n();
    const int q = static_cast<int>(tight_.size());
    Eigen::MatrixXd whole = Eigen::MatrixXd::Identity(n, n);
    if (q > 0) whole.applyOnTheLeft(active_.householderQr().householderQ());
    range_ = whole.leftCols(q);
    null_ = whole.rightCols(n - q);
    if (q > 0) basis_.compute(Eigen::MatrixXd(active_.transpose() * range_));
    inverse_ = Eigen::MatrixXd::Zero(n - q, n - q);
    if (n == q) return;
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(null_.transpose() * curvature_ *
                                                               null_);
    const double flat = kFlat * (1 + eigen.eigenvalues().cwiseAbs().maxCoeff());
    for (int k = 0; k < n - q; ++k) {
      const double value = eigen.eigenvalues()[k];
      if (value <= flat) continue;
      inverse_ += eigen.eigenvectors().col(k) * eigen.eigenvectors().col(k).transpose() / value;
    }
  }

  const Problem& problem_;
  const Outcome& outcome_;
  Scaled scaled_;
  bool finite_ = false;
  std::vector<double> u_, c_;
  RowMajor slopes_;
  std::vector<Member> tight_;
  Eigen::MatrixXd active_;  ///< slopes of the tight rules, by columns
  Eigen::MatrixXd curvature_, range_, null_, inverse_;
  Eigen::FullPivLU<Eigen::MatrixXd> basis_;
};

}  // namespace

std::vector<Sensitivity> find_sensitivity(const Problem& problem,
                                          const Outcome& outcome,
                                          const std::vector<Member>& limits) {
  const Answer answer(problem, outcome);
  std::vector<Sensitivity> all;
  for (const Member& limit : limits) all.push_back(answer.to(limit));
  return all;
}

}  // namespace easewright::solver
