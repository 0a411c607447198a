#include "model/alter/flat.h"

#include "model/geometry/bezier.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>
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

/// Straight down from the strap's neck end to the waist seam. It is level but for the centre, which
/// may lie higher or lower, to nothing at the side; that the opened shaping bends the edge is
/// smoothed out of it on the table.
double down_to_waist(const HalfBodice<double>& half) {
  const double x = half.strap_inner.x;
  double lo = 0, hi = 1;  // the edge runs outwards from the centre
  for (int i = 0; i < 50; ++i) {
    const double t = 0.5 * (lo + hi);
    (half.waist.at(t).x < x ? lo : hi) = t;
  }
  // What the centre and its handle have of the edge there.
  const double share = (1 - lo) * (1 - lo) * (1 + 2 * lo);
  return half.strap_inner.y - share * half.centre_waist.y;
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
      return down_to_waist(front);
    case FlatKey::back_length:
      return down_to_waist(back);
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

/// How far a garment's value may lie from what is usual, one s.d., where nothing reads it itself:
/// the usual one then takes only what the readings leave open. Ten times what garments of one kind
/// differ by, so that a reading is not drawn towards what is usual. But no tape reads a share of
/// the shaping, or the ease over a shoulder: were they as free, an error of the tape round the
/// armhole would turn up as three degrees of bust angle (common practice for both).
double usual_sd(K key) {
  switch (key) {
    case K::strap_ease:
      return 0.2;
    case K::bodice_centre_front:
      return 0.5;
    case K::shaping_neck:
    case K::shaping_armhole:
    case K::shaping_side:
    case K::blade_neck:
    case K::blade_shoulder:
    case K::blade_armhole:
      return radians(1.5);
    case K::skirt_length:
    case K::belt_length:
      return 100;
    default:
      return info(key).dimension == kAngle ? radians(30) : 20.0;
  }
}

/// Seams that were sewn together meet however the tape erred on either side, cm.
constexpr double kSideMeets = 0.05, kWaistMeets = 0.3;

double side_mismatch(const Values<double>& v) {
  return (v[K::bodice_front_underarm] - v[K::bodice_front_waist]) -
         (v[K::bodice_back_underarm] - v[K::bodice_back_waist]);
}

double waist_mismatch(const Made& made) {
  return 2 * (read_one(made, FlatKey::hip_width) - read_one(made, FlatKey::waist_width));
}

/// The readings, the seams that meet and, faintly, what is usual. One row each.
class FlatCost final : public ceres::CostFunction {
 public:
  FlatCost(const Frame& frame,
           const Values<double>& usual,
           MadeKind kind,
           const std::vector<FlatReading>& readings)
      : usual_(made_from(frame, usual, kind)), readings_(readings) {
    set_num_residuals(static_cast<int>(readings.size()) + kSeamsThatMeet + kValueKeys);
    mutable_parameter_block_sizes()->push_back(kValueKeys);
  }

  bool Evaluate(double const* const* parameters,
                double* residuals,
                double** jacobians) const override {
    Made made = usual_;
    std::copy_n(parameters[0], kValueKeys, made.values.at.begin());
    read(made, residuals);
    if (jacobians != nullptr && jacobians[0] != nullptr) find_jacobian(made, jacobians[0]);
    return true;
  }

  /// At these values, row by row.
  std::vector<double> jacobian(const Values<double>& values) const {
    Made made = usual_;
    made.values = values;
    std::vector<double> result(static_cast<size_t>(num_residuals()) * kValueKeys);
    find_jacobian(made, result.data());
    return result;
  }

 private:
  static constexpr int kSeamsThatMeet = 2;

  void find_jacobian(Made& made, double* jacobian) const {
    const auto m = static_cast<size_t>(num_residuals());
    std::vector<double> up(m), down(m);
    for (size_t j = 0; j < kValueKeys; ++j) {
      const double h = 1e-5, at = made.values.at[j];
      made.values.at[j] = at + h;
      read(made, up.data());
      made.values.at[j] = at - h;
      read(made, down.data());
      made.values.at[j] = at;
      for (size_t i = 0; i < m; ++i) jacobian[i * kValueKeys + j] = (up[i] - down[i]) / (2 * h);
    }
  }

  void read(Made& made, double* residuals) const {
    const Values<double>& v = made.values;
    made.bodice = draft_bodice<double>(made.cut_for, BodiceValues<double>{v.at.data()});
    double* row = residuals;
    for (const FlatReading& r : readings_) *row++ = (read_one(made, r.key) - r.value) / r.error;
    const bool bodice = made.kind != MadeKind::skirt;
    const bool joined = made.kind == MadeKind::dress && made.cut_for.skirt;
    *row++ = bodice ? (side_mismatch(v) - side_mismatch(usual_.values)) / kSideMeets : 0;
    *row++ = joined ? (waist_mismatch(made) - waist_mismatch(usual_)) / kWaistMeets : 0;
    for (size_t j = 0; j < kValueKeys; ++j)
      *row++ = (v.at[j] - usual_.values.at[j]) / usual_sd(static_cast<K>(j));
  }

  Made usual_;
  const std::vector<FlatReading>& readings_;
};

/// The values of which the readings say something: they leave less open than what is usual and the
/// seams do.
std::vector<K> values_read(const FlatCost& cost, const Values<double>& values, size_t readings) {
  using Rows = Eigen::Matrix<double, Eigen::Dynamic, kValueKeys, Eigen::RowMajor>;
  const std::vector<double> at = cost.jacobian(values);
  const Eigen::Map<const Rows> rows(at.data(), cost.num_residuals(), kValueKeys);
  const auto variances = [](const auto& information) {
    const Eigen::MatrixXd all = information.transpose() * information;
    return Eigen::VectorXd(
        all.ldlt().solve(Eigen::MatrixXd::Identity(kValueKeys, kValueKeys)).diagonal());
  };
  const Eigen::VectorXd after = variances(rows);
  const Eigen::VectorXd before =
      variances(rows.bottomRows(rows.rows() - static_cast<Eigen::Index>(readings)));
  std::vector<K> read;
  for (int j = 0; j < kValueKeys; ++j) {
    if (after(j) < 0.9 * before(j)) read.push_back(static_cast<K>(j));
  }
  return read;
}

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
    result.read = values_read(*cost, v, readings.size());
  }
  result.made = made_from(frame, v, kind);
  for (const FlatReading& r : readings)
    result.residuals.push_back((read_one(result.made, r.key) - r.value) / r.error);
  return result;
}

}  // namespace easewright
