#pragma once
// The small quadratic programme under every step of the exact pass.
//
//     min over d   1/2 d'H d + g'd + sum_i w_i dist(a_i'd, [lo_i, hi_i])
//                            + sum_i 1/2 k_i dist(a_i'd, [lo_i, hi_i])^2,      lower <= d <= upper,
//
// H positive definite. A row has either a weight w_i (absolute: it breaks once it would have to
// pull with more than w_i) or a stiffness k_i (squared: it yields like a spring). The box may hold
// the trust region as well as the variables' bounds; it never breaks, so it has to hold a point.
//
// Method: the dual active set method of Goldfarb and Idnani (Mathematical Programming 27, 1983)
// with capped multipliers. A row is off (inside its interval, no pull), on (at a limit, a pull
// between 0 and w_i), or full (past a limit, pulling with w_i). Each step takes the row that is
// most wrong and raises its pull until the row is at its limit or the pull at its cap, while the
// rows that are on stay at their limits; a pull that reaches 0 or its cap on the way leaves the
// working set. The dual objective rises with every step, so it ends; the caps make every problem
// feasible. A spring takes one more coordinate, its own yield, at the moment its row comes on.
//
// With H = LL', J = L^-T Q and the QR factors Q R of L^-1 A_W' are carried from step to step: a row
// comes on by one Householder reflection, and leaves by plane rotations.

#include <cstddef>
#include <vector>

namespace easewright::solver {

/// Where a row stands. full_lower: below its lower limit and pulled up by its whole weight.
enum class RowState : signed char { off, on_lower, on_upper, full_lower, full_upper };

/// The data, all owned by the caller. Row i of A has `stride` doubles between it and the next.
struct QuadraticData {
  int n = 0;
  int rows = 0;
  const double* hessian = nullptr;  ///< n x n, lower triangle read; n values when `diagonal`
  bool diagonal = false;
  const double* gradient = nullptr;
  const double* a = nullptr;
  int stride = 0;
  const double* lo = nullptr;
  const double* hi = nullptr;
  const double* weight = nullptr;     ///< absolute rows: > 0; not read where stiffness > 0
  const double* stiffness = nullptr;  ///< squared rows: > 0, else 0
  const double* norm = nullptr;       ///< |a_i|
  const int* live = nullptr;          ///< the rows that take part, rising
  int live_count = 0;
  const double* lower = nullptr;
  const double* upper = nullptr;
  /// H, A, the weights and the rows that take part are those of the last call: its factor serves.
  bool same_matrices = false;
};

/// Solver and workspace: nothing is allocated after the first call of a size. Keeps the working set
/// from one call to the next, so that a similar problem starts next to its answer.
class Quadratic {
 public:
  /// `springs`: the most squared rows that any call will have.
  Quadratic(int n, int rows, int springs);

  /// False when the step limit was met or H is not positive definite; step() is then zero.
  bool solve(const QuadraticData& data);

  /// Starts the next call from nothing.
  void forget();

  const std::vector<double>& step() const { return d_; }
  /// Signed pull of each row, > 0 where it pushes a_i'd up:  H d + g = sum pull_i a_i + box pulls.
  const std::vector<double>& pull() const { return pull_; }
  /// Signed pull of each variable's box.
  const std::vector<double>& box_pull() const { return box_pull_; }
  /// Rows first, then the box of each variable.
  const std::vector<RowState>& states() const { return state_; }
  void set_states(const std::vector<RowState>& states) {
    state_ = states;
    factored_ = false;
  }
  int changes() const { return changes_; }

  /// A basis of the directions that leave every on row and box at its limit, n x k, by columns.
  /// Valid after solve(). Springs that are on do not restrict.
  void null_space(std::vector<double>& basis, int& k) const;

 private:
  struct Range {
    double least, most;
  };
  enum class Event { at_limit, own_end, other_end, none };

  bool factor_hessian();
  void start_warm();
  bool drop_out_of_range();
  void solve_on_working_set();
  bool improve();
  int most_wrong(double& direction, double& target);
  void project(int row);
  bool dependent() const;
  void add(int row);
  void remove(int position);
  void give_spring(int row);
  bool raise(int row, double direction, double target);

  bool is_box(int row) const { return row >= rows_; }
  bool is_spring(int row) const { return !is_box(row) && data_->stiffness[row] > 0; }
  double lo(int row) const { return is_box(row) ? data_->lower[row - rows_] : data_->lo[row]; }
  double hi(int row) const { return is_box(row) ? data_->upper[row - rows_] : data_->hi[row]; }
  double cap(int row) const;
  double value(int row) const;
  double& pull_of(int row) {
    return is_box(row) ? box_pull_[static_cast<std::size_t>(row - rows_)]
                       : pull_[static_cast<std::size_t>(row)];
  }
  Range range(int row, RowState side) const;
  double* column(int k) { return j_.data() + static_cast<long>(k) * size_; }
  const double* column(int k) const { return j_.data() + static_cast<long>(k) * size_; }
  double& r(int i, int k) {
    return r_[static_cast<std::size_t>(k) * static_cast<std::size_t>(size_) +
              static_cast<std::size_t>(i)];
  }

  const QuadraticData* data_ = nullptr;
  int n_, rows_;
  int size_;       ///< leading dimension: n and all springs
  int dimension_;  ///< n and the springs in use
  int changes_ = 0;
  bool factored_ = false;  ///< J, R and the pulls belong to the working set
  std::vector<double> j_, r_, factor_, d_, pull_, box_pull_;
  std::vector<double> projected_, direction_, answer_, reflector_, target_, force_;
  std::vector<int> working_;  ///< rows that are on, in the factor's order
  std::vector<int> spring_;   ///< coordinate of each row's spring, or -1
  std::vector<RowState> state_;
};

}  // namespace easewright::solver
