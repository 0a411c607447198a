#include "solver/pass.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Core>

namespace easewright::solver {
namespace {

/// A step is taken when the sum falls by this share of what was promised.
constexpr double kTaken = 1e-4;
/// Above the first share the trust region may grow, below the second it shrinks.
constexpr double kGood = 0.75;
constexpr double kPoor = 0.25;
/// A step that gains less than this factor on the last is slow.
constexpr double kSlow = 0.1;
/// A step that moves nothing by more, in scales, is no step.
constexpr double kLeastStep = 1e-11;
/// A variable this near to its bound, in scales, is held by it.
constexpr double kAtBound = 1e-8;
/// The gradient of the Lagrangian, per largest pull, that counts as none.
constexpr double kStationary = 1e-6;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Signed distance of v from [lo, hi].
double miss(double v, double lo, double hi) { return v < lo ? v - lo : v > hi ? v - hi : 0; }

double largest(const std::vector<double>& v) {
  double most = 0;
  for (const double a : v) most = std::max(most, std::abs(a));
  return most;
}

}  // namespace

/// A squared output with lo = hi is a plain square and lives in H; all other outputs are rows.
bool Pass::is_target(int i) const {
  return terms_->shape[at(i)] == Shape::squared && terms_->lo[at(i)] == terms_->hi[at(i)];
}

double Pass::sum_at(const std::vector<double>& c, const std::vector<double>& u) const {
  const Terms& t = *terms_;
  double sum = 0;
  for (int i = 0; i < scaled_.m(); ++i) {
    if (t.weight[at(i)] == 0) continue;
    const double d = miss(c[at(i)], t.lo[at(i)], t.hi[at(i)]);
    sum += t.weight[at(i)] * (t.shape[at(i)] == Shape::absolute ? std::abs(d) : d * d / 2);
  }
  for (std::size_t i = 0; i < t.slope.size(); ++i) sum += t.slope[i] * c[i];
  for (std::size_t j = 0; j < t.price.size(); ++j) sum += t.price[j] * u[j];
  return sum;
}

/// How far the sum falls from the point kept to another, added up term by term to save digits.
double Pass::fall(const std::vector<double>& c, const std::vector<double>& u) const {
  const Terms& t = *terms_;
  double sum = 0;
  for (int i = 0; i < scaled_.m(); ++i) {
    if (t.weight[at(i)] == 0) continue;
    const double before = std::abs(miss(c_[at(i)], t.lo[at(i)], t.hi[at(i)]));
    const double after = std::abs(miss(c[at(i)], t.lo[at(i)], t.hi[at(i)]));
    const double less = before - after;
    sum +=
        t.weight[at(i)] * (t.shape[at(i)] == Shape::absolute ? less : less * (before + after) / 2);
  }
  for (std::size_t i = 0; i < t.slope.size(); ++i) sum += t.slope[i] * (c_[i] - c[i]);
  for (std::size_t j = 0; j < t.price.size(); ++j) sum += t.price[j] * (known_u_[j] - u[j]);
  return sum;
}

void Pass::assemble() {
  assembled_before_ = false;
  const Terms& t = *terms_;
  const int n = scaled_.n();
  const int m = scaled_.m();
  hessian_.assign(at(n) * at(n), 0.0);
  gradient_.assign(at(n), 0.0);
  stiffness_.assign(at(m), 0.0);
  norm_.resize(at(m));
  live_.clear();
  diagonal_ = true;
  for (int i = 0; i < m; ++i) {
    const double* a = jacobian_.data() + static_cast<long>(i) * n;
    const double w = t.weight[at(i)];
    if (!t.slope.empty() && t.slope[at(i)] != 0) {
      for (int j = 0; j < n; ++j) gradient_[at(j)] += t.slope[at(i)] * a[j];
    }
    if (w == 0) continue;
    if (is_target(i)) {
      const double pull = w * (c_[at(i)] - t.lo[at(i)]);
      for (int j = 0; j < n; ++j) {
        if (a[j] == 0) continue;
        gradient_[at(j)] += pull * a[j];
        double* h = hessian_.data() + static_cast<long>(j) * n;
        h[j] += w * a[j] * a[j];
        for (int k = j + 1; k < n; ++k) {
          if (a[k] == 0) continue;
          h[k] += w * a[j] * a[k];
          diagonal_ = false;
        }
      }
    } else if (std::isfinite(t.lo[at(i)]) || std::isfinite(t.hi[at(i)])) {
      live_.push_back(i);
      norm_[at(i)] = Eigen::Map<const Eigen::VectorXd>(a, n).norm();
      if (t.shape[at(i)] == Shape::squared) stiffness_[at(i)] = w;
    }
  }
  for (std::size_t j = 0; j < t.price.size(); ++j) gradient_[j] += t.price[j];
  for (int j = 0; j < n; ++j) hessian_[at(j) * at(n) + at(j)] += kCurvatureFloor;
}

void Pass::set_rows(const std::vector<double>& c) {
  row_lo_.resize(c.size());
  row_hi_.resize(c.size());
  for (const int i : live_) {
    row_lo_[at(i)] = terms_->lo[at(i)] - c[at(i)];
    row_hi_[at(i)] = terms_->hi[at(i)] - c[at(i)];
  }
}

void Pass::set_box(const std::vector<double>& u, double trust) {
  box_lower_.resize(u.size());
  box_upper_.resize(u.size());
  for (std::size_t j = 0; j < u.size(); ++j) {
    box_lower_[j] = std::max(terms_->lower[j] - u[j], -trust);
    box_upper_[j] = std::min(terms_->upper[j] - u[j], trust);
  }
}

bool Pass::solve_quadratic() {
  const int n = scaled_.n();
  const int m = scaled_.m();
  std::vector<double>& h = full_gradient_;  // the diagonal, when it is all there is
  QuadraticData data;
  data.n = n;
  data.rows = m;
  data.diagonal = diagonal_;
  if (diagonal_) {
    h.resize(at(n));
    for (int j = 0; j < n; ++j) h[at(j)] = hessian_[at(j) * at(n) + at(j)];
  }
  data.hessian = diagonal_ ? h.data() : hessian_.data();
  data.gradient = gradient_.data();
  data.a = jacobian_.data();
  data.stride = n;
  data.lo = row_lo_.data();
  data.hi = row_hi_.data();
  data.weight = terms_->weight.data();
  data.stiffness = stiffness_.data();
  data.norm = norm_.data();
  data.live = live_.data();
  data.live_count = static_cast<int>(live_.size());
  data.lower = box_lower_.data();
  data.upper = box_upper_.data();
  data.same_matrices = assembled_before_;
  assembled_before_ = true;
  ++iterations_;
  if (quadratic_->solve(data)) return true;
  quadratic_->forget();
  return quadratic_->solve(data);
}

/// Fall of the quadratic model over the step.
double Pass::promised() const {
  const Terms& t = *terms_;
  const int n = scaled_.n();
  const std::vector<double>& d = quadratic_->step();
  double sum = 0;
  for (int j = 0; j < n; ++j) {
    const double* h = hessian_.data() + static_cast<long>(j) * n;
    double below = h[j] * d[at(j)] / 2;
    if (!diagonal_) {
      for (int k = j + 1; k < n; ++k) below += h[k] * d[at(k)];
    }
    sum -= d[at(j)] * (gradient_[at(j)] + below);
  }
  const Eigen::Map<const Eigen::VectorXd> step(d.data(), n);
  for (const int i : live_) {
    const double v =
        Eigen::Map<const Eigen::VectorXd>(jacobian_.data() + static_cast<long>(i) * n, n).dot(step);
    const double before = std::abs(miss(c_[at(i)], t.lo[at(i)], t.hi[at(i)]));
    const double after = std::abs(miss(c_[at(i)] + v, t.lo[at(i)], t.hi[at(i)]));
    const double less = before - after;
    sum += t.weight[at(i)] * (stiffness_[at(i)] > 0 ? less * (before + after) / 2 : less);
  }
  return sum;
}

/// The quadratic programme's own step leaves H d for the gradient of the Lagrangian at the point
/// itself.
bool Pass::is_stationary() const {
  const int n = scaled_.n();
  const Eigen::Map<const Eigen::VectorXd> d(quadratic_->step().data(), n);
  double most = 1;
  for (const double pull : quadratic_->pull()) most = std::max(most, std::abs(pull));
  if (diagonal_) {
    for (int j = 0; j < n; ++j) {
      if (std::abs(hessian_[at(j) * at(n) + at(j)] * d[j]) > kStationary * most) return false;
    }
    return true;
  }
  const Eigen::Map<const Eigen::MatrixXd> h(hessian_.data(), n, n);
  product_.noalias() = h.selfadjointView<Eigen::Lower>() * d;
  return product_.lpNorm<Eigen::Infinity>() <= kStationary * most;
}

/// Rows that agree with the trial point itself instead of with the linearisation.
void Pass::second_order_rows(const std::vector<double>& trial) {
  const Terms& t = *terms_;
  const int n = scaled_.n();
  const Eigen::Map<const Eigen::VectorXd> step(quadratic_->step().data(), n);
  for (int i = 0; i < scaled_.m(); ++i) {
    if (t.weight[at(i)] == 0) continue;
    const Eigen::Map<const Eigen::VectorXd> a(jacobian_.data() + static_cast<long>(i) * n, n);
    const double shifted = trial[at(i)] - a.dot(step);
    if (is_target(i)) {
      Eigen::Map<Eigen::VectorXd>(gradient_.data(), n) +=
          t.weight[at(i)] * (shifted - c_[at(i)]) * a;
    } else {
      row_lo_[at(i)] = t.lo[at(i)] - shifted;
      row_hi_[at(i)] = t.hi[at(i)] - shifted;
    }
  }
}

void Pass::read_pulls() {
  const Terms& t = *terms_;
  const int n = scaled_.n();
  pull_ = quadratic_->pull();
  bound_pull_ = quadratic_->box_pull();
  // The trust region's box pulls too; only true bounds balance anything.
  for (int j = 0; j < n; ++j) {
    const double room = bound_pull_[at(j)] > 0 ? known_u_[at(j)] - t.lower[at(j)]
                                               : t.upper[at(j)] - known_u_[at(j)];
    const bool at_bound = room <= kAtBound;
    if (!at_bound) bound_pull_[at(j)] = 0;
  }
  Eigen::VectorXd residual = Eigen::VectorXd::Zero(n);
  double most = 1;
  for (int i = 0; i < scaled_.m(); ++i) {
    if (is_target(i)) pull_[at(i)] = -t.weight[at(i)] * (c_[at(i)] - t.lo[at(i)]);
    if (!t.slope.empty()) pull_[at(i)] -= t.slope[at(i)];
    if (pull_[at(i)] == 0) continue;
    most = std::max(most, std::abs(pull_[at(i)]));
    residual -= pull_[at(i)] *
                Eigen::Map<const Eigen::VectorXd>(jacobian_.data() + static_cast<long>(i) * n, n);
  }
  residual -= Eigen::Map<const Eigen::VectorXd>(bound_pull_.data(), n);
  if (!t.price.empty()) residual += Eigen::Map<const Eigen::VectorXd>(t.price.data(), n);
  optimality_ = n == 0 ? 0 : residual.lpNorm<Eigen::Infinity>() / most;
}

/// Evaluates the quadratic programme's step from u: trial_u_, trial_c_, and how far the sum falls.
double Pass::try_step(const std::vector<double>& u) {
  trial_u_.resize(u.size());
  for (std::size_t j = 0; j < u.size(); ++j) {
    trial_u_[j] = std::clamp(u[j] + quadratic_->step()[j], terms_->lower[j], terms_->upper[j]);
  }
  return scaled_.evaluate(trial_u_, trial_c_, nullptr) ? fall(trial_c_, trial_u_) : -kInfinity;
}

/// Follows curved rows: solves again with each row shifted to agree with the last trial. Keeps the
/// best trial.
double Pass::correct(const std::vector<double>& u, double gain, double promise, int most) {
  plain_gradient_ = gradient_;
  best_u_ = trial_u_;
  best_c_ = trial_c_;
  double best = gain;
  bool worse = false;
  for (int k = 0; k < most && gain > -kInfinity && best < kGood * promise; ++k) {
    gradient_ = plain_gradient_;
    second_order_rows(trial_c_);
    if (!solve_quadratic()) break;
    const double last = gain;
    gain = try_step(u);
    if (std::abs(gain - last) <= 1e-3 * std::abs(gain))
      break;  // the rows are followed as far as they can be
    if (gain <= best) {
      if (worse) break;  // once is forgiven: the first correction of a long step often overshoots
      worse = true;
      continue;
    }
    worse = false;
    best = gain;
    best_u_ = trial_u_;
    best_c_ = trial_c_;
  }
  gradient_ = plain_gradient_;
  trial_u_ = best_u_;
  trial_c_ = best_c_;
  return best;
}

PassEnd Pass::run(const Terms& terms,
                  const PassOptions& options,
                  std::vector<double>& u,
                  const std::function<bool()>& enough) {
  terms_ = &terms;
  const int n = scaled_.n();
  const int m = scaled_.m();
  int springs = 0;
  for (int i = 0; i < m; ++i) {
    if (terms.weight[at(i)] > 0 && terms.shape[at(i)] == Shape::squared && !is_target(i)) ++springs;
  }
  if (!quadratic_ || springs > springs_) {
    springs_ = springs;
    quadratic_ = std::make_unique<Quadratic>(n, m, springs);
  }
  for (int j = 0; j < n; ++j)
    u[at(j)] = std::clamp(u[at(j)], terms.lower[at(j)], terms.upper[at(j)]);
  if (!known_ || known_u_ != u) {
    known_ = scaled_.evaluate(u, c_, &jacobian_);
    known_u_ = u;
    if (!known_) return PassEnd::not_finite;
  }
  if (states_.size() == at(m + n)) {
    quadratic_->set_states(states_);
  } else {
    quadratic_->forget();
  }

  double trust = options.trust;
  double last_promise = kInfinity;
  slow_ = 0;
  // A second run with the same weights most often ends in the same basin: the curvature found there
  // serves.
  if (curvature_weight_ != terms.weight) lagrangian_.resize(0, 0);
  curved_ = lagrangian_.rows() == n && n > 0 && !options.from_afar;
  age_ = 0;
  PassEnd end = PassEnd::out_of_steps;
  pull_.assign(at(m), 0.0);
  bound_pull_.assign(at(n), 0.0);
  for (int iteration = 0; iteration < options.most_iterations; ++iteration) {
    assemble();
    if (curved_) add_curvature(u);
    bool taken = false;
    while (!taken) {
      set_rows(c_);
      set_box(u, trust);
      if (!solve_quadratic()) {
        end = PassEnd::stalled;
        break;
      }
      const double promise = promised();
      const double length = largest(quadratic_->step());
      const double noise = 1e-14 * std::abs(sum_at(c_, u));
      const bool little = promise <= options.least_gain + noise;
      if ((little && (options.stop == Stop::small_gain || promise <= noise || is_stationary())) ||
          length <= kLeastStep) {
        read_pulls();
        end = PassEnd::settled;
        break;
      }
      if (sum_at(c_, u) - options.overtakes * promise > options.hopeless && length < 0.99 * trust) {
        read_pulls();
        end = PassEnd::hopeless;
        break;
      }
      if (promise > kSlow * last_promise) ++slow_;
      last_promise = promise;
      double gain = try_step(u);
      const bool at_edge = length > 0.99 * trust;
      if (gain < (at_edge ? kGood : kTaken) * promise) {
        gain = correct(u, gain, promise, options.most_corrections);
      }
      if (gain >= kTaken * promise) {
        taken = true;
        const double ratio = gain / promise;
        if (ratio > kGood && at_edge) {
          trust = std::min(options.most_trust, 2.5 * trust);
        } else if (ratio < kPoor) {
          trust = 0.5 * length;
        }
      } else {
        ++slow_;
        trust = 0.3 * std::min(trust, length);
        if (trust < kLeastStep) {
          end = PassEnd::stalled;
          read_pulls();
          break;
        }
      }
    }
    if (!taken) break;
    if (!scaled_.evaluate(trial_u_, trial_c_, &difference_j_)) {
      end = PassEnd::stalled;  // values but no slopes out there: stay at the last whole point
      break;
    }
    u = trial_u_;
    known_u_ = u;
    c_.swap(trial_c_);
    jacobian_.swap(difference_j_);
    read_pulls();
    if (enough && enough()) {
      end = PassEnd::enough;
      break;
    }
    if (slow_ >= kSlowSteps && options.curvature == Curvature::when_slow) {
      curved_ = true;
      curvature_weight_ = terms.weight;
    }
  }
  states_ = quadratic_->states();
  if (known_) sum_ = sum_at(c_, u);
  return end;
}

}  // namespace easewright::solver
