#pragma once
// A problem in the units in which its size is felt: u = x / scale, c = g / tolerance.
//
// Variables whose bounds meet are fixed and left out of u. Everything inside the solver works on u
// and c.

#include "solver/problem.h"

#include <vector>

namespace easewright::solver {

class Scaled {
 public:
  /// The problem must outlive this. Asserts what problem.h asks of it.
  explicit Scaled(const Problem& problem);

  int n() const { return static_cast<int>(free_.size()); }
  int m() const { return problem_.m(); }
  const Problem& problem() const { return problem_; }
  const std::vector<int>& free() const { return free_; }  ///< variable of each u

  int position(int variable) const {
    return position_[static_cast<std::size_t>(variable)];
  }  ///< of its u; -1: fixed
  double scale(int k) const { return scale_[static_cast<std::size_t>(k)]; }

  std::vector<double> lower, upper;  ///< of u
  std::vector<double> lo, hi;        ///< of c

  /// u may lie outside its bounds everywhere but here: nearest to x within the bounds; fixed
  /// variables are ignored.
  std::vector<double> to_u(const std::vector<double>& x) const;
  std::vector<double> to_x(const std::vector<double>& u) const;

  /// c(u), and its Jacobian (m x n, row major) where one is wanted. False when a value is not
  /// finite.
  bool evaluate(const std::vector<double>& u,
                std::vector<double>& c,
                std::vector<double>* jacobian);
  /// Calls of the function so far.
  int evaluations() const { return evaluations_; }

 private:
  double x_at(int k, double u) const;

  const Problem& problem_;
  std::vector<int> free_, position_;
  std::vector<double> scale_, per_tolerance_;
  std::vector<double> x_, full_;
  int evaluations_ = 0;
};

}  // namespace easewright::solver
