#pragma once
// The conditional normal distribution behind complete().

#include "model/body/estimate.h"

#include <array>
#include <utility>
#include <vector>

namespace easewright {

/// A variable, or a sum of several, seen with an error: variable + also = value +- sd.
struct Observation {
  int variable = 0;  ///< index into Moments::variables
  double value = 0;
  double sd = 0;                                  ///< of the tape, 0 for exact
  std::vector<std::pair<int, double>> also = {};  ///< further variables and their factors
};

struct Conditional {
  std::array<double, kMaxBodyVariables> mean{};
  std::array<double, kMaxBodyVariables> sd{};  ///< grown in the tails
  double distance2 = 0;                        ///< squared Mahalanobis distance of the observations
  double growth = 1;                           ///< factor in every sd
};

/// Mean and s.d. of the `wanted` variables given the observations (at most kMaxBodyVariables, none
/// of which follows exactly from others; their order does not matter beyond rounding). Entries that
/// are not wanted stay 0.
Conditional condition(const Moments& moments,
                      const std::vector<Observation>& observations,
                      const std::vector<int>& wanted);

/// Covariance of the `wanted` variables given the observations, row major, grown in the tails like
/// the s.d.
std::vector<double> conditional_covariance(const Moments& moments,
                                           const std::vector<Observation>& observations,
                                           const std::vector<int>& wanted);

/// Minus twice the log likelihood of the observations, up to a constant that depends on their
/// number only.
double surprise(const Moments& moments, const std::vector<Observation>& observations);

/// What the others make of `one`: its value less the mean that they give it, and the s.d. of that
/// difference, its own error in it.
struct LeftOut {
  double difference = 0;
  double sd = 0;
};
LeftOut compare(const Moments& moments,
                const std::vector<Observation>& others,
                const Observation& one);

/// How each observation sits with all others.
std::vector<LeftOut> leave_one_out(const Moments& moments,
                                   const std::vector<Observation>& observations);

}  // namespace easewright
