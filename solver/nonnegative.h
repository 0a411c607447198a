#pragma once
// Non-negative least squares:  min |A x - b|,  x_j >= 0 for the columns that are not free.
//
// Lawson & Hanson, Solving Least Squares Problems (1974), chapter 23.

#include <vector>

#include <Eigen/Core>

namespace easewright::solver {

/// x. `free[j]` lets x_j take either sign.
Eigen::VectorXd nonnegative_least_squares(const Eigen::MatrixXd& a,
                                          const Eigen::VectorXd& b,
                                          const std::vector<bool>& free);

}  // namespace easewright::solver
