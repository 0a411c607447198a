#include "model/alter/flat.h"

#include "model/geometry/bezier.h"

#include <algorithm>
#include <cmath>

#include <ceres/ceres.h>

namespace easewright {
namespace {

using K = ValueKey;
using geometry::arc_length;
using geometry::distance;

constexpr FlatInfo kInfo[] = {
#define EASEWRIGHT_X(id, name, error, how) {name, error, how},
    EASEWRIGHT_FLAT(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};

double armhole_of(const HalfBodice<double>& half) {
  return arc_length(half.armhole_upper) + arc_length(half.armhole_lower);
}

double neck_of(const HalfBodice<double>& half) {
  double sum = 0;
  for (int i = 0; i < half.neck_curves; ++i) sum += arc_length(half.neck[static_cast<size_t>(i)]);
  return sum;
}

double read_one(const Made& made, FlatKey key) {
  const Values<double>& v = made.values;
  const HalfBodice<double>& front = made.bodice.front;
  const HalfBodice<double>& back = made.bodice.back;
  const double hip = v[K::skirt_back_width] + v[K::skirt_front_width] - 0.5 * v[K::skirt_overlap];
  switch (key) {
    case FlatKey::chest_width:
      return v[K::bodice_front_underarm] + v[K::bodice_back_underarm];
    case FlatKey::front_chest_width:
      return 2 * v[K::bodice_front_underarm];
    case FlatKey::waist_width:
      return made.kind == MadeKind::skirt ? hip + 2 * made.skirt_waist_kept
                                          : arc_length(front.waist) + arc_length(back.waist);
    case FlatKey::side_seam:
      return distance(back.underarm, back.side_waist);
    case FlatKey::front_length:
      return front.strap_inner.y;
    case FlatKey::back_length:
      return back.strap_inner.y;
    case FlatKey::centre_front_length:
      return front.centre_neck.y - front.centre_waist.y;
    case FlatKey::centre_back_length:
      return back.centre_neck.y - back.centre_waist.y;
    case FlatKey::neckline_drop:
      return front.strap_inner.y - front.centre_neck.y;
    case FlatKey::back_neckline_drop:
      return back.strap_inner.y - back.centre_neck.y;
    case FlatKey::neck_opening:
      return 2 * back.strap_inner.x;
    case FlatKey::strap_width:
      return distance(front.strap_inner, front.strap_outer);
    case FlatKey::strap_drop:
      return front.strap_inner.y - front.strap_outer.y;
    case FlatKey::across_front:
      return 2 * front.notch.x;
    case FlatKey::across_back:
      return 2 * back.notch.x;
    case FlatKey::armhole_edge:
      return armhole_of(front) + armhole_of(back) - made.armhole_folded - v[K::armhole_taken];
    case FlatKey::neck_edge:
      return 2 * (neck_of(front) + neck_of(back) - made.neck_folded - made.back_neck_folded -
                  v[K::neckline_taken]);
    case FlatKey::elastic:
      return v[K::elastic_length];
    case FlatKey::casing_width:
      return v[K::casing_width];
    case FlatKey::hip_width:
      return hip;
    case FlatKey::front_panel_width:
      return v[K::skirt_front_width];
    case FlatKey::overlap:
      return v[K::skirt_overlap];
    case FlatKey::skirt_length:
      return v[K::skirt_length];
    case FlatKey::hem_width:
      return hip + 2 * v[K::skirt_flare];
    case FlatKey::slit_start:
      return v[K::slit_start];
    case FlatKey::slit_run_in:
      return v[K::slit_run_in];
    case FlatKey::caught_length:
      return v[K::slit_catch];
    case FlatKey::belt_length:
      return v[K::belt_length];
    case FlatKey::count:
      break;
  }
  return 0;
}

/// So little does a usual value weigh beside a reading: an s.d. of 20 cm, or of 60 degrees.
double usual_sd(K key) { return info(key).dimension == kAngle ? radians(60) : 20.0; }

/// The readings and, faintly, what is usual.
class FlatCost final : public ceres::CostFunction {
 public:
  FlatCost(const Frame& frame,
           const Values<double>& usual,
           MadeKind kind,
           const std::vector<FlatReading>& readings)
      : frame_(frame), usual_(usual), kind_(kind), readings_(readings) {
    set_num_residuals(static_cast<int>(readings.size()) + kValueKeys);
    mutable_parameter_block_sizes()->push_back(kValueKeys);
  }

  bool Evaluate(double const* const* parameters,
                double* residuals,
                double** jacobians) const override {
    Values<double> v{};
    std::copy_n(parameters[0], kValueKeys, v.at.begin());
    read(v, residuals);
    if (jacobians == nullptr || jacobians[0] == nullptr) return true;
    const size_t m = readings_.size() + kValueKeys;
    std::vector<double> up(m), down(m);
    for (size_t j = 0; j < kValueKeys; ++j) {
      const double h = 1e-5, at = v.at[j];
      v.at[j] = at + h;
      read(v, up.data());
      v.at[j] = at - h;
      read(v, down.data());
      v.at[j] = at;
      for (size_t i = 0; i < m; ++i) jacobians[0][i * kValueKeys + j] = (up[i] - down[i]) / (2 * h);
    }
    return true;
  }

 private:
  void read(const Values<double>& v, double* residuals) const {
    const Made made = made_from(frame_, v, kind_);
    for (size_t i = 0; i < readings_.size(); ++i)
      residuals[i] = (read_one(made, readings_[i].key) - readings_[i].value) / readings_[i].error;
    for (size_t j = 0; j < kValueKeys; ++j) {
      residuals[readings_.size() + j] = (v.at[j] - usual_.at[j]) / usual_sd(static_cast<K>(j));
    }
  }

  const Frame& frame_;
  const Values<double>& usual_;
  MadeKind kind_;
  const std::vector<FlatReading>& readings_;
};

}  // namespace

const FlatInfo& info(FlatKey key) { return kInfo[static_cast<size_t>(key)]; }

bool has_flat(MadeKind kind, const Switches& switches, FlatKey key) {
  const bool skirt = kind != MadeKind::top && !switches.is(Switch::skirt, "none");
  const bool wrapped = skirt && switches.is(Switch::skirt, "wrapped");
  switch (key) {
    case FlatKey::waist_width:
      return true;
    case FlatKey::elastic:
    case FlatKey::casing_width:
      return switches.is(Switch::waist, "elastic");
    case FlatKey::hip_width:
    case FlatKey::skirt_length:
    case FlatKey::hem_width:
      return skirt;
    case FlatKey::front_panel_width:
    case FlatKey::overlap:
    case FlatKey::slit_start:
    case FlatKey::slit_run_in:
    case FlatKey::caught_length:
      return wrapped;
    case FlatKey::belt_length:
      return switches.is(Switch::belt, "tied");
    default:
      return kind != MadeKind::skirt && key != FlatKey::count;
  }
}

std::array<double, static_cast<size_t>(kFlatKeys)> measure_flat(const Made& made) {
  std::array<double, static_cast<size_t>(kFlatKeys)> flat{};
  for (int i = 0; i < kFlatKeys; ++i) {
    const auto key = static_cast<FlatKey>(i);
    if (has_flat(made.kind, made.switches, key)) flat[static_cast<size_t>(i)] = read_one(made, key);
  }
  return flat;
}

FromFlat made_from_flat(const Frame& frame,
                        const Values<double>& usual,
                        MadeKind kind,
                        const std::vector<FlatReading>& readings) {
  FromFlat result;
  Values<double> v = usual;
  if (!readings.empty()) {
    ceres::Problem problem;
    auto* cost = new FlatCost(frame, usual, kind, readings);  // the problem owns it
    problem.AddResidualBlock(cost, nullptr, v.at.data());
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    options.max_num_iterations = 30;
    options.logging_type = ceres::SILENT;
    options.num_threads = 1;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    for (int j = 0; j < kValueKeys; ++j) {
      const auto key = static_cast<K>(j);
      Values<double> moved = v;
      moved[key] += 0.01;
      const Made there = made_from(frame, moved, kind), here = made_from(frame, v, kind);
      const bool touched = std::any_of(readings.begin(), readings.end(), [&](const FlatReading& r) {
        return std::abs(read_one(there, r.key) - read_one(here, r.key)) > 1e-3;
      });
      if (touched) result.read.push_back(key);
    }
  }
  result.made = made_from(frame, v, kind);
  for (const FlatReading& r : readings)
    result.residuals.push_back((read_one(result.made, r.key) - r.value) / r.error);
  return result;
}

}  // namespace easewright
