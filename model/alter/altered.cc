#include "model/alter/altered.h"

#include <algorithm>
#include <numeric>

namespace easewright {
namespace {

using K = ValueKey;
using solver::Level;

// Forward differences: an amount can't be negative, and measures are good to 1e-12.
constexpr double kNudge = 1e-5;

/// cm; cutter's notes, point 6.
constexpr double kLeastDrop = 0.5, kMostOffBust = 1.0;

}  // namespace

double minutes_per_inside(const Possible& possible) {
  const bool angle = info(possible.move->change).dimension == kAngle;
  return angle ? degrees(possible.limits.minutes_per_unit) : possible.limits.minutes_per_unit;
}

Made after(const Made& made, const std::vector<Possible>& moves, const double* amounts) {
  Made result = made;
  for (size_t k = 0; k < moves.size(); ++k) {
    if (amounts[k] > 0) make_change(result, moves[k].move->change, amounts[k]);
  }
  return result;
}

std::array<double, kGuards> guarded(const Made& made, const Worn& worn) {
  if (made.kind == MadeKind::skirt) return {};
  return {worn.values[K::armhole_drop], worn.values[K::bodice_blouson], bust_point_off(made, worn)};
}

std::array<solver::Output, kGuards> guards(const Made& made, const Worn& now) {
  const std::array<double, kGuards> at = guarded(made, now);
  const double most = std::max(kMostOffBust, std::abs(at[2]));
  std::array<solver::Output, kGuards> outputs;
  outputs[0] = {"underarm below the armpit", std::min(kLeastDrop, at[0]), solver::kInfinity};
  outputs[1] = {"length ease", std::min(0.0, at[1]), solver::kInfinity};
  outputs[2] = {"fullness on the bust", -most, most};
  for (solver::Output& o : outputs) {
    o.tolerance = 0.2;
    o.level = Level::must;
    if (made.kind == MadeKind::skirt) o.lo = -solver::kInfinity, o.hi = solver::kInfinity;
  }
  return outputs;
}

void AlteredFunction::evaluate(const double* x, double* g, double* jacobian) const {
  if (jacobian != nullptr) {
    std::vector<int> all(moves_.size());
    std::iota(all.begin(), all.end(), 0);
    evaluate_columns(x, all, g, jacobian);
    return;
  }
  Made made = made_;
  for (size_t k = 0; k < moves_.size(); ++k) step(made, k, x[k]);
  read(made, g);
}

bool AlteredFunction::evaluate_columns(const double* x,
                                       const std::vector<int>& columns,
                                       double* g,
                                       double* jacobian) const {
  const size_t n = moves_.size(), m = size();
  // The garment before each move: a move's derivative needs only it and those after it.
  std::vector<Made> stages;
  stages.reserve(columns.size());
  Made made = made_;
  auto next = columns.begin();
  for (size_t k = 0; k < n; ++k) {
    if (next != columns.end() && static_cast<size_t>(*next) == k) stages.push_back(made), ++next;
    step(made, k, x[k]);
  }
  read(made, g);
  std::vector<double> there(m);
  for (size_t column = 0; column < columns.size(); ++column) {
    const auto k = static_cast<size_t>(columns[column]);
    Made& moved = stages[column];
    step(moved, k, x[k] + kNudge);
    for (size_t j = k + 1; j < n; ++j) step(moved, j, x[j]);
    read(moved, there.data());
    for (size_t i = 0; i < m; ++i)
      jacobian[i * columns.size() + column] = (there[i] - g[i]) / kNudge;
  }
  return true;
}

void AlteredFunction::step(Made& made, size_t k, double amount) const {
  if (amount > 0) make_change(made, moves_[k].move->change, amount);
}

void AlteredFunction::read(const Made& made, double* g) const {
  const Worn worn = wear(made, posed_->frame);
  const std::vector<double> all = outputs_at(*posed_, worn.values, worn.measures);
  g = std::copy_n(all.begin(), posed_->first_habit, g);
  for (const FaultKind* fault : faults_) *g++ = reading_of(*fault, posed_->frame, worn);
  const std::array<double, kGuards> kept = guarded(made, worn);
  std::copy(kept.begin(), kept.end(), g);
}

}  // namespace easewright
