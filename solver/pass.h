#pragma once
// The exact pass: the least weighted sum of misses, by sequential quadratic programming.
//
//     min over u  sum_i w_i |d_i(u)|  +  sum_i w_i d_i(u)^2 / 2  +  slope'c(u)  +  price'u,
//                 absolute i             squared i
//
//     d_i(u) = dist(c_i(u), [lo_i, hi_i]).
//
// Each step linearises c, solves the quadratic programme of quadratic.h within |step| <= trust, and
// is taken when the true sum falls by a share of what was promised; otherwise again with every row
// shifted by its own linearisation error (second-order correction, Fletcher 1982), otherwise the
// trust region shrinks. The l1 sum is exact: with finite weights above the exchange rates its
// answer is the levelled one.
//
// The Hessian is that of the squared targets (lo = hi) plus a floor. Where that crawls, the
// Lagrangian's curvature on the null space of the working set is differenced from Jacobians and
// made positive.

#include "solver/solve.h"
#include "solver/quadratic.h"
#include "solver/scaled.h"

#include <functional>
#include <memory>
#include <vector>

#include <Eigen/Core>

namespace easewright::solver {

/// What is summed. One entry for each output; weights of 0 take no part.
struct Terms {
  std::vector<double> lo, hi;  ///< in tolerances
  std::vector<double> weight;  ///< per tolerance (absolute), per tolerance squared (squared)
  std::vector<Shape> shape;
  std::vector<double> slope;         ///< linear price on c; empty for none
  std::vector<double> price;         ///< linear price on u; empty for none
  std::vector<double> lower, upper;  ///< of u
};

/// When a run may end: at a point proved stationary, or as soon as little is promised.
enum class Stop { stationary, small_gain };

struct PassOptions {
  double trust = 8;  ///< first radius, in scales
  double most_trust = 64;
  double least_gain = 1e-8;  ///< stop when the quadratic model promises less, in the sum's own unit
  int most_iterations = 200;
  Stop stop = Stop::stationary;
  /// Stop also when the sum would stay above this with `overtakes` times what is promised, and the
  /// trust region doesn't hold the step back: it is not going to get there.
  double hopeless = kInfinity;
  double overtakes = 4;
  /// Second-order corrections of one step. A row of great weight has to be followed to many digits
  /// before a small gain below it shows, so there may be several.
  int most_corrections = 12;
  Curvature curvature = Curvature::when_slow;
  /// The run begins far from where the last one ended: the curvature found there waits until this
  /// one crawls too.
  bool from_afar = false;
};

/// `enough` and `hopeless`: asked for by the caller.
enum class PassEnd { settled, stalled, out_of_steps, not_finite, enough, hopeless };

/// Keeps H positive definite where no target bends the sum; far below the habits' weight.
inline constexpr double kCurvatureFloor = 1e-7;
/// Slow steps after which the Lagrangian's curvature is differenced.
inline constexpr int kSlowSteps = 4;

class Pass {
 public:
  explicit Pass(Scaled& scaled) : scaled_(scaled) {}

  /// Improves u in place. The working set of the last run is where this one begins. `enough`, asked
  /// after each accepted step, ends the run early.
  PassEnd run(const Terms& terms,
              const PassOptions& options,
              std::vector<double>& u,
              const std::function<bool()>& enough = nullptr);

  // Of the point where the last run ended:
  const std::vector<double>& c() const { return c_; }
  const std::vector<double>& jacobian() const { return jacobian_; }
  const std::vector<double>& pull() const { return pull_; }  ///< > 0 pushes c up
  const std::vector<double>& bound_pull() const { return bound_pull_; }
  double optimality() const {
    return optimality_;
  }  ///< |gradient of the Lagrangian|, largest entry, per largest pull
  double sum() const { return sum_; }
  int iterations() const { return iterations_; }  ///< quadratic programmes solved, over all runs
  const std::vector<RowState>& working_set() const { return states_; }
  void set_working_set(const std::vector<RowState>& states) { states_ = states; }
  /// Forgets the evaluation kept from the last run (the function or the fixed values changed).
  void forget_point() { known_ = false; }

 private:
  double sum_at(const std::vector<double>& c, const std::vector<double>& u) const;
  double fall(const std::vector<double>& c, const std::vector<double>& u) const;
  bool is_target(int i) const;
  void assemble();
  void set_rows(const std::vector<double>& c);
  void set_box(const std::vector<double>& u, double trust);
  bool solve_quadratic();
  double promised() const;
  bool is_stationary() const;
  void second_order_rows(const std::vector<double>& trial);
  double try_step(const std::vector<double>& u);
  double correct(const std::vector<double>& u, double gain, double promise, int most);
  void read_pulls();
  void difference_lagrangian(const std::vector<double>& u, const Eigen::MatrixXd& null);
  void add_curvature(const std::vector<double>& u);

  Scaled& scaled_;
  const Terms* terms_ = nullptr;
  std::unique_ptr<Quadratic> quadratic_;
  int springs_ = 0;
  std::vector<RowState> states_;
  bool known_ = false;
  std::vector<double> known_u_, c_, jacobian_, trial_c_, trial_u_, difference_c_, difference_j_;
  std::vector<double> best_u_, best_c_, plain_gradient_;
  std::vector<double> hessian_, gradient_, full_gradient_, row_lo_, row_hi_, stiffness_, norm_,
      box_lower_, box_upper_;
  Eigen::MatrixXd lagrangian_;  ///< its second derivatives, where they have been differenced
  std::vector<double> curvature_weight_;  ///< of the terms for which they were
  int age_ = 0;                           ///< steps that they have served
  int slow_ = 0;                          ///< slow steps of this run
  std::vector<int> live_;
  std::vector<double> pull_, bound_pull_;
  mutable Eigen::VectorXd product_;
  bool assembled_before_ = false;  ///< the quadratic programme has seen H and A already
  bool diagonal_ = true;
  bool curved_ = false;
  double optimality_ = 0;
  double sum_ = 0;
  int iterations_ = 0;
};

}  // namespace easewright::solver
