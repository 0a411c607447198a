#include "solver/quadratic.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace easewright::solver {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();

/// A row counts as wrong beyond this, in its own unit (tolerances) and relative to its limit.
constexpr double kWrong = 1e-11;
/// A row whose part outside the span of the working set is smaller than this share is dependent.
constexpr double kIndependent = 1e-9;
/// A multiplier may leave its range by this share before a warm working set drops its row.
constexpr double kInRange = 1e-11;

using Vector = Eigen::Map<Eigen::VectorXd>;
using ConstVector = Eigen::Map<const Eigen::VectorXd>;
using Strided = Eigen::Map<Eigen::MatrixXd, 0, Eigen::OuterStride<>>;
using ConstStrided = Eigen::Map<const Eigen::MatrixXd, 0, Eigen::OuterStride<>>;

bool is_on(RowState s) { return s == RowState::on_lower || s == RowState::on_upper; }
bool is_full(RowState s) { return s == RowState::full_lower || s == RowState::full_upper; }

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

Quadratic::Quadratic(int n, int rows, int springs)
    : n_(n),
      rows_(rows),
      size_(n + springs),
      dimension_(n),
      j_(at(size_) * at(size_)),
      r_(at(size_) * at(size_)),
      factor_(at(n) * at(n)),
      d_(at(n)),
      pull_(at(rows)),
      box_pull_(at(n)),
      projected_(at(size_)),
      direction_(at(size_)),
      answer_(at(size_)),
      reflector_(at(size_)),
      target_(at(size_)),
      force_(at(n)),
      spring_(at(rows), -1),
      state_(at(rows + n), RowState::off) {
  working_.reserve(at(size_));
}

void Quadratic::forget() {
  std::fill(state_.begin(), state_.end(), RowState::off);
  factored_ = false;
}

double Quadratic::cap(int row) const {
  return is_box(row) || is_spring(row) ? kInf : data_->weight[row];
}

double Quadratic::value(int row) const {
  if (is_box(row)) return d_[at(row - rows_)];
  return ConstVector(data_->a + static_cast<long>(row) * data_->stride, n_)
      .dot(ConstVector(d_.data(), n_));
}

Quadratic::Range Quadratic::range(int row, RowState side) const {
  const double most = cap(row);
  if (lo(row) == hi(row)) return {-most, most};
  return side == RowState::on_lower || side == RowState::full_lower ? Range{0, most}
                                                                    : Range{-most, 0};
}

bool Quadratic::factor_hessian() {
  std::fill(j_.begin(), j_.end(), 0.0);
  dimension_ = n_;
  if (data_->diagonal) {
    for (int k = 0; k < n_; ++k) {
      if (!(data_->hessian[k] > 0)) return false;
      column(k)[k] = 1 / std::sqrt(data_->hessian[k]);
    }
    return true;
  }
  Eigen::Map<Eigen::MatrixXd> factor(factor_.data(), n_, n_);
  factor = Eigen::Map<const Eigen::MatrixXd>(data_->hessian, n_, n_);
  Eigen::Ref<Eigen::MatrixXd> in_place(factor);
  Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> cholesky(in_place);
  if (cholesky.info() != Eigen::Success) return false;
  Strided j(j_.data(), n_, n_, Eigen::OuterStride<>(size_));
  j.setIdentity();
  factor.triangularView<Eigen::Lower>().transpose().solveInPlace(j);
  return j.allFinite();
}

/// projected_ = J'a for the row, its spring's coordinate included.
void Quadratic::project(int row) {
  if (is_box(row)) {
    for (int k = 0; k < dimension_; ++k) projected_[at(k)] = column(k)[row - rows_];
    return;
  }
  const ConstStrided j(j_.data(), n_, dimension_, Eigen::OuterStride<>(size_));
  Vector projected(projected_.data(), dimension_);
  projected.noalias() =
      j.transpose() * ConstVector(data_->a + static_cast<long>(row) * data_->stride, n_);
  const int spring = spring_[at(row)];
  if (spring >= 0) {
    for (int k = 0; k < dimension_; ++k) projected_[at(k)] += column(k)[spring];
  }
}

void Quadratic::give_spring(int row) {
  if (spring_[at(row)] >= 0) return;
  const int k = dimension_++;
  assert(dimension_ <= size_ && "more squared rows than the workspace was made for");
  spring_[at(row)] = k;
  column(k)[k] = 1 / std::sqrt(data_->stiffness[row]);
}

bool Quadratic::dependent() const {
  const int q = static_cast<int>(working_.size());
  const ConstVector all(projected_.data(), dimension_);
  return all.tail(dimension_ - q).squaredNorm() <= kIndependent * kIndependent * all.squaredNorm();
}

/// Brings the projected row on. One Householder reflection turns the free part of J'a into its
/// first coordinate; direction_ holds J2 d2 already, which leaves one rank-one update of J2.
void Quadratic::add(int row) {
  const int q = static_cast<int>(working_.size());
  const int free = dimension_ - q;
  const ConstVector tail(projected_.data() + q, free);
  const double length = tail.norm();
  const double head = projected_[at(q)];
  const double signed_length = head >= 0 ? length : -length;
  const double factor = 1 / (length * (length + std::abs(head)));
  Vector ju(direction_.data(), dimension_);
  ju += signed_length * ConstVector(column(q), dimension_);
  for (int k = 0; k < free; ++k) {
    const double u = projected_[at(q + k)] + (k == 0 ? signed_length : 0);
    if (u != 0) Vector(column(q + k), dimension_) -= (factor * u) * ju;
  }
  for (int k = 0; k < q; ++k) r(k, q) = projected_[at(k)];
  r(q, q) = -signed_length;
  working_.push_back(row);
}

void Quadratic::remove(int position) {
  const int q = static_cast<int>(working_.size());
  working_.erase(working_.begin() + position);
  for (int k = position; k + 1 < q; ++k) {
    std::copy_n(&r(0, k + 1), k + 2, &r(0, k));
  }
  for (int k = position; k + 1 < q; ++k) {
    const double length = std::hypot(r(k, k), r(k + 1, k));
    if (length == 0) continue;
    const double c = r(k, k) / length;
    const double s = r(k + 1, k) / length;
    for (int col = k; col + 1 < q; ++col) {
      const double above = r(k, col);
      const double below = r(k + 1, col);
      r(k, col) = c * above + s * below;
      r(k + 1, col) = c * below - s * above;
    }
    double* left = column(k);
    double* right = column(k + 1);
    for (int i = 0; i < dimension_; ++i) {
      const double a = left[i];
      const double b = right[i];
      left[i] = c * a + s * b;
      right[i] = c * b - s * a;
    }
  }
}

/// Builds the factor for the rows that were on last time; boxes first, while J is sparse.
void Quadratic::start_warm() {
  working_.clear();
  std::fill(spring_.begin(), spring_.end(), -1);
  std::fill(pull_.begin(), pull_.end(), 0.0);
  std::fill(box_pull_.begin(), box_pull_.end(), 0.0);
  int next = 0;
  for (int row = 0; row < rows_; ++row) {
    const bool live = next < data_->live_count && data_->live[next] == row;
    if (live) ++next;
    RowState& state = state_[at(row)];
    if (!live || (is_spring(row) && is_full(state))) state = RowState::off;
  }
  const auto bring = [&](int row) {
    RowState& state = state_[at(row)];
    if (state == RowState::off) return;
    const bool low = state == RowState::on_lower || state == RowState::full_lower;
    if (!std::isfinite(low ? lo(row) : hi(row))) {
      state = RowState::off;
    } else if (is_full(state)) {
      pull_of(row) = low ? cap(row) : -cap(row);
    } else {
      if (is_spring(row)) give_spring(row);
      const int q = static_cast<int>(working_.size());
      project(row);
      if (q == dimension_ || dependent()) {
        state = RowState::off;
        return;
      }
      Vector direction(direction_.data(), dimension_);
      direction.setZero();
      for (int k = q; k < dimension_; ++k) {
        if (projected_[at(k)] != 0) {
          direction += projected_[at(k)] * ConstVector(column(k), dimension_);
        }
      }
      add(row);
    }
  };
  for (int row = rows_; row < rows_ + n_; ++row) bring(row);
  for (int k = 0; k < data_->live_count; ++k) bring(data_->live[k]);
}

/// d and the pulls for the working set as it stands:  d = J alpha, alpha_1 = R^-T b, alpha_2 =
/// -J2'(g - f).
void Quadratic::solve_on_working_set() {
  const int q = static_cast<int>(working_.size());
  Vector force(force_.data(), n_);
  force = ConstVector(data_->gradient, n_);
  for (int k = 0; k < data_->live_count; ++k) {
    const int row = data_->live[k];
    if (!is_full(state_[at(row)])) continue;
    force -= pull_[at(row)] * ConstVector(data_->a + static_cast<long>(row) * data_->stride, n_);
  }
  const ConstStrided j(j_.data(), n_, dimension_, Eigen::OuterStride<>(size_));
  const ConstStrided r(r_.data(), q, q, Eigen::OuterStride<>(size_));
  Vector y(direction_.data(), dimension_);
  y.noalias() = j.transpose() * force;
  Vector alpha(answer_.data(), dimension_);
  for (int k = 0; k < q; ++k) {
    const int row = working_[at(k)];
    alpha[k] = state_[at(row)] == RowState::on_lower ? lo(row) : hi(row);
  }
  auto on = alpha.head(q);
  r.triangularView<Eigen::Upper>().transpose().solveInPlace(on);
  alpha.tail(dimension_ - q) = -y.tail(dimension_ - q);
  Vector(d_.data(), n_).noalias() = j * alpha;
  Vector pulls(reflector_.data(), q);
  pulls = on + y.head(q);
  r.triangularView<Eigen::Upper>().solveInPlace(pulls);
  for (int k = 0; k < q; ++k) pull_of(working_[at(k)]) = pulls[k];
}

/// Takes rows whose pull is outside its range out of a warm working set; false when there was none.
bool Quadratic::drop_out_of_range() {
  bool dropped = false;
  for (int k = static_cast<int>(working_.size()) - 1; k >= 0; --k) {
    const int row = working_[at(k)];
    const double pull = pull_of(row);
    const Range allowed = range(row, state_[at(row)]);
    const double room = kInRange * (1 + std::abs(pull));
    if (pull >= allowed.least - room && pull <= allowed.most + room) {
      pull_of(row) = std::clamp(pull, allowed.least, allowed.most);
      continue;
    }
    const double end = pull < allowed.least ? allowed.least : allowed.most;
    pull_of(row) = end;
    state_[at(row)] = end == 0  ? RowState::off
                      : end > 0 ? RowState::full_lower
                                : RowState::full_upper;
    remove(k);
    dropped = true;
  }
  return dropped;
}

/// The row that is furthest wrong, by distance, or -1. Sets which way its pull has to go, and to
/// which limit.
int Quadratic::most_wrong(double& direction, double& target) {
  int worst = -1;
  double most = 0;
  const auto consider = [&](int row, double wrong, double norm, double way, double limit) {
    if (wrong <= kWrong * (1 + std::abs(limit))) return;
    const double distance = wrong / std::max(norm, 1e-150);
    if (distance <= most) return;
    most = distance;
    worst = row;
    direction = way;
    target = limit;
  };
  for (int k = 0; k < n_; ++k) {
    const int row = rows_ + k;
    if (state_[at(row)] != RowState::off) continue;
    const double v = d_[at(k)];
    if (v < data_->lower[k]) consider(row, data_->lower[k] - v, 1, 1, data_->lower[k]);
    if (v > data_->upper[k]) consider(row, v - data_->upper[k], 1, -1, data_->upper[k]);
  }
  for (int k = 0; k < data_->live_count; ++k) {
    const int row = data_->live[k];
    const RowState state = state_[at(row)];
    if (is_on(state)) continue;
    const double v = value(row);
    const double norm = data_->norm[row];
    const double low = data_->lo[row];
    const double high = data_->hi[row];
    if (state == RowState::off) {
      if (v < low) consider(row, low - v, norm, 1, low);
      if (v > high) consider(row, v - high, norm, -1, high);
    } else if (state == RowState::full_lower) {
      if (v > low) consider(row, v - low, norm, -1, low);
    } else if (v < high) {
      consider(row, high - v, norm, 1, high);
    }
  }
  return worst;
}

/// Moves the pull of one row until it is at its limit or its pull at an end. False when nothing
/// stops it, which only an inconsistent box can cause.
bool Quadratic::raise(int row, double direction, double target) {
  if (is_spring(row)) give_spring(row);
  double& pull = pull_of(row);
  const RowState side = target == lo(row) && (lo(row) < hi(row) || direction > 0)
                            ? RowState::on_lower
                            : RowState::on_upper;
  const Range own = range(row, side);
  double reached = value(row) + (is_spring(row) ? pull / data_->stiffness[row] : 0);
  for (;;) {
    ++changes_;
    const int q = static_cast<int>(working_.size());
    const int free = dimension_ - q;
    project(row);
    const ConstVector tail(projected_.data() + q, free);
    const double curvature = tail.squaredNorm();
    Vector rate(answer_.data(), q);
    rate = ConstVector(projected_.data(), q);
    const ConstStrided r(r_.data(), q, q, Eigen::OuterStride<>(size_));
    r.triangularView<Eigen::Upper>().solveInPlace(rate);

    Event event = Event::none;
    double length = kInf;
    const bool movable = free > 0 && !dependent();
    if (movable) {
      length = std::max(0.0, (target - reached) / (direction * curvature));
      event = Event::at_limit;
    }
    const double to_end = direction > 0 ? own.most - pull : pull - own.least;
    if (to_end < length) {
      length = to_end;
      event = Event::own_end;
    }
    int leaving = -1;
    double leaving_end = 0;
    for (int k = 0; k < q; ++k) {
      const double slope = -direction * rate[k];
      if (slope == 0) continue;
      const int other = working_[at(k)];
      const Range allowed = range(other, state_[at(other)]);
      const double end = slope > 0 ? allowed.most : allowed.least;
      const double to_leave = std::max(0.0, (end - pull_of(other)) / slope);
      if (to_leave < length) {
        length = to_leave;
        event = Event::other_end;
        leaving = k;
        leaving_end = end;
      }
    }
    if (event == Event::none) return false;

    pull += direction * length;
    for (int k = 0; k < q; ++k) pull_of(working_[at(k)]) -= direction * length * rate[k];
    if (movable) {
      Vector move(direction_.data(), dimension_);
      const ConstStrided j2(column(q), dimension_, free, Eigen::OuterStride<>(size_));
      move.noalias() = j2 * tail;
      Vector(d_.data(), n_) += (direction * length) * move.head(n_);
      reached += direction * length * curvature;
    }
    if (event == Event::at_limit) {
      state_[at(row)] = side;
      add(row);
      return true;
    }
    if (event == Event::own_end) {
      const double end = direction > 0 ? own.most : own.least;
      pull = end;
      state_[at(row)] = end == 0  ? RowState::off
                        : end > 0 ? RowState::full_lower
                                  : RowState::full_upper;
      return true;
    }
    const int other = working_[at(leaving)];
    pull_of(other) = leaving_end;
    state_[at(other)] = leaving_end == 0  ? RowState::off
                        : leaving_end > 0 ? RowState::full_lower
                                          : RowState::full_upper;
    remove(leaving);
  }
}

/// Brings wrong rows in until none is left.
bool Quadratic::improve() {
  const int most_rows = 50 + 10 * (data_->live_count + n_);
  for (int k = 0; k < most_rows; ++k) {
    double direction = 0;
    double target = 0;
    const int row = most_wrong(direction, target);
    if (row < 0) return true;
    if (!raise(row, direction, target)) return false;
    if (changes_ > 20 * most_rows) return false;
  }
  return false;
}

bool Quadratic::solve(const QuadraticData& data) {
  assert(data.n == n_ && data.rows == rows_);
  data_ = &data;
  changes_ = 0;
  if (!data.same_matrices || !factored_) {
    factored_ = factor_hessian();
    if (!factored_) {
      std::fill(d_.begin(), d_.end(), 0.0);
      return false;
    }
    start_warm();
  }
  solve_on_working_set();
  while (drop_out_of_range()) solve_on_working_set();
  bool solved = improve();
  // The step was built up by increments; its working set gives it afresh, free of their round-off.
  for (int pass = 0; solved && changes_ > 0 && pass < 3; ++pass) {
    solve_on_working_set();
    const int before = changes_;
    solved = improve();
    if (changes_ == before) break;
  }
  if (!solved) std::fill(d_.begin(), d_.end(), 0.0);
  return solved;
}

void Quadratic::null_space(std::vector<double>& basis, int& k) const {
  const int q = static_cast<int>(working_.size());
  k = dimension_ - q;
  basis.resize(at(n_) * at(k));
  for (int c = 0; c < k; ++c) std::copy_n(column(q + c), n_, basis.data() + at(n_) * at(c));
}

}  // namespace easewright::solver
