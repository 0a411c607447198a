#pragma once
// What a solve returns: the answer and its proof.

#include <array>
#include <string>
#include <vector>

#include "solver/problem.h"

namespace easewright::solver {

enum class Status {
  settled,      ///< stationary: the optimality residual is below its limit
  stalled,      ///< the step or the predicted gain vanished first; the answer is feasible work, not proved
  out_of_steps, ///< the iteration limit came first
  not_finite,   ///< the function returned a NaN or an infinity at the start
};

/// Where an output or a variable stands against its interval.
enum class Standing { below, at_lower, inside, at_upper, above };

struct Outcome {
  Status status = Status::settled;
  std::vector<double> x;       ///< n
  std::vector<double> g;       ///< m
  std::vector<double> miss;    ///< m, signed, in the output's own unit: < 0 below lo, > 0 above hi, else 0
  std::vector<Standing> standing;        ///< m
  std::vector<Standing> bound_standing;  ///< n
  /// m, multiplier of each output, per tolerance (signed: > 0 pushes g up). A missed absolute output pulls with the whole
  /// weight of its level in the pass that settled it (settle.h: 1e4, 1e2, 1 or, where levels trade, 1e8, 1e4, 1).
  std::vector<double> pull;
  std::vector<double> bound_pull;  ///< n, multiplier of each bound, per scale
  std::array<double, kLevels> total{};   ///< sum of |d| or d^2/2 at each level
  double optimality = 0;       ///< |gradient of the Lagrangian|, scaled
  int rank = 0;                ///< rank of the active Jacobian (bounds included; habits and fixed variables left out)
  std::vector<int> undecided;  ///< variables that the active outputs and bounds leave free (only habits place them)
  int starts_tried = 1;
  int starts_agreed = 1;       ///< how many ended within 0.5 % of the best at each level above habit
  int iterations = 0;
  int evaluations = 0;

  /// True when no output of this level or above is missed by more than kHolds tolerances.
  bool holds(const Problem& problem, Level down_to) const;
};

/// A rule that is said to hold holds to this share of its tolerance.
inline constexpr double kHolds = 1e-3;

/// True when output i is missed by more than kHolds of its tolerance.
bool is_missed(const Problem& problem, const Outcome& outcome, int i);

}  // namespace easewright::solver
