#include "solver/outcome.h"

#include "solver/prove.h"

#include <algorithm>
#include <cmath>

#include <Eigen/QR>

namespace easewright::solver {
namespace {

/// Below this the gradient of the Lagrangian, per largest pull, counts as zero.
constexpr double kStationary = 1e-5;
/// A value nearer to its limit than this many tolerances or scales is at it.
constexpr double kAtLimit = 1e-6;
/// Rank decisions: share of the largest pivot; share of a variable's direction left free.
constexpr double kRank = 1e-9;
constexpr double kFree = 1e-6;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Standing standing(double v, double lo, double hi, double missed, double near) {
  if (v < lo - missed) return Standing::below;
  if (v > hi + missed) return Standing::above;
  if (v <= lo + near) return Standing::at_lower;
  if (v >= hi - near) return Standing::at_upper;
  return Standing::inside;
}

/// Rows that say where x is: missed or at a limit, habits aside.
bool decides(const Scaled& scaled, const Settled& settled, int i) {
  if (scaled.problem().outputs[at(i)].level == Level::habit) return false;
  const double c = settled.c[at(i)];
  return c <= scaled.lo[at(i)] + kAtLimit || c >= scaled.hi[at(i)] - kAtLimit;
}

void find_rank(const Scaled& scaled,
               const Settled& settled,
               const std::vector<double>& jacobian,
               Outcome& outcome) {
  const int n = scaled.n();
  std::vector<int> moving;
  for (int j = 0; j < n; ++j) {
    const double u = settled.u[at(j)];
    if (u - scaled.lower[at(j)] > kAtLimit && scaled.upper[at(j)] - u > kAtLimit)
      moving.push_back(j);
  }
  outcome.rank = n - static_cast<int>(moving.size());
  std::vector<int> rows;
  for (int i = 0; i < scaled.m(); ++i) {
    if (decides(scaled, settled, i)) rows.push_back(i);
  }
  const int columns = static_cast<int>(moving.size());
  if (columns == 0) return;
  const std::vector<int>& variable = scaled.free();
  if (rows.empty()) {
    for (const int j : moving) outcome.undecided.push_back(variable[at(j)]);
    return;
  }
  Eigen::MatrixXd active(columns, static_cast<int>(rows.size()));
  for (std::size_t k = 0; k < rows.size(); ++k) {
    for (int j = 0; j < columns; ++j) {
      active(j, static_cast<int>(k)) = jacobian[at(rows[k]) * at(n) + at(moving[at(j)])];
    }
    const double norm = active.col(static_cast<int>(k)).norm();
    if (norm > 0) active.col(static_cast<int>(k)) /= norm;
  }
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(active);
  qr.setThreshold(kRank);
  const int rank = static_cast<int>(qr.rank());
  outcome.rank += rank;
  if (rank == columns) return;
  Eigen::MatrixXd null = Eigen::MatrixXd::Zero(columns, columns - rank);
  null.bottomRows(columns - rank).setIdentity();
  null.applyOnTheLeft(qr.householderQ());
  for (int j = 0; j < columns; ++j) {
    if (null.row(j).squaredNorm() > kFree) outcome.undecided.push_back(variable[at(moving[at(j)])]);
  }
}

}  // namespace

bool is_missed(const Problem& problem, const Outcome& outcome, int i) {
  return !(std::abs(outcome.miss[at(i)]) <= kHolds * problem.outputs[at(i)].tolerance);
}

bool Outcome::holds(const Problem& problem, Level down_to) const {
  for (int i = 0; i < problem.m(); ++i) {
    if (problem.outputs[at(i)].level <= down_to && is_missed(problem, *this, i)) return false;
  }
  return true;
}

bool is_stationary(double optimality) { return optimality <= kStationary; }

std::vector<Standing> bound_standings(const Problem& problem, const std::vector<double>& x) {
  std::vector<Standing> standings;
  for (int j = 0; j < problem.n(); ++j) {
    const Variable& v = problem.variables[at(j)];
    standings.push_back(standing(x[at(j)], v.lower, v.upper, 0, kAtLimit * v.scale));
  }
  return standings;
}

Outcome prove(const Scaled& scaled, const Settled& settled, const std::vector<double>& jacobian) {
  const Problem& problem = scaled.problem();
  const int m = scaled.m();
  Outcome outcome;
  outcome.x = scaled.to_x(settled.u);
  outcome.g.resize(at(m));
  outcome.miss.assign(at(m), 0.0);
  outcome.pull.assign(at(m), 0.0);
  outcome.bound_pull.assign(at(problem.n()), 0.0);
  outcome.total = level_totals(scaled, settled.c);
  for (int i = 0; i < m; ++i) {
    const Output& o = problem.outputs[at(i)];
    const double c = settled.c[at(i)];
    const double g = c * o.tolerance;
    outcome.g[at(i)] = g;
    outcome.miss[at(i)] = g < o.lo ? g - o.lo : g > o.hi ? g - o.hi : 0;
    outcome.standing.push_back(standing(g, o.lo, o.hi, kHolds * o.tolerance, kHolds * o.tolerance));
    if (!settled.pull.empty()) outcome.pull[at(i)] = settled.pull[at(i)];
  }
  outcome.bound_standing = bound_standings(problem, outcome.x);
  if (!settled.bound_pull.empty()) {
    for (int k = 0; k < scaled.n(); ++k)
      outcome.bound_pull[at(scaled.free()[at(k)])] = settled.bound_pull[at(k)];
  }
  outcome.optimality = settled.optimality;
  if (!jacobian.empty() || m == 0) find_rank(scaled, settled, jacobian, outcome);
  return outcome;
}

}  // namespace easewright::solver
