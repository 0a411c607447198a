#include "model/alter/believe.h"

#include "model/pose.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <ceres/cost_function.h>
#include <ceres/problem.h>
#include <ceres/solver.h>

namespace easewright {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Steps of difference quotients, in s.d. of the measure.
constexpr double kLocalStep = 0.01;
/// A reading that doesn't move by this much over several s.d. of a measure does not depend on it.
constexpr double kSameReading = 1e-9;
/// Keeps the factor of the covariance positive where a measure follows exactly from others, against
/// its own variance.
constexpr double kJitter = 1e-8;
/// Two faults together are off by more than one pair in a hundred is by chance (chi squared of
/// two).
constexpr double kPairOff = 3.03;
/// A pair neither of which is off by this much beside all others doesn't contradict itself.
constexpr double kCalm = 1.0;

/// The faults as readings on bodies near the taped one.
class Readings {
 public:
  Readings(const Made& made, const CompleteBody& taped, const std::vector<SeenFault>& faults)
      : made_(made), taped_(taped), faults_(faults) {}

  const std::vector<SeenFault>& faults() const { return faults_; }
  const CompleteBody& taped() const { return taped_; }

  /// The taped body with these measures moved by x.
  CompleteBody moved(const std::vector<size_t>& keys, const VectorXd& x) const {
    CompleteBody body = taped_;
    for (size_t k = 0; k < keys.size(); ++k)
      body.values[keys[k]].value += x[static_cast<Eigen::Index>(k)];
    return body;
  }

  VectorXd on(const CompleteBody& body) const {
    const Frame frame = frame_of(body, made_.cloth, made_.switches);
    const Worn worn = wear(made_, frame);
    VectorXd result(static_cast<Eigen::Index>(faults_.size()));
    for (size_t i = 0; i < faults_.size(); ++i)
      result[static_cast<Eigen::Index>(i)] = reading_of(*faults_[i].kind, frame, worn);
    return result;
  }

 private:
  const Made& made_;
  const CompleteBody& taped_;
  const std::vector<SeenFault>& faults_;
};

/// The measures that a fault depends on.
std::vector<size_t> find_unknowns(const Readings& readings) {
  std::vector<size_t> keys;
  const VectorXd here = readings.on(readings.taped());
  for (size_t k = 0; k < static_cast<size_t>(kBodyKeys); ++k) {
    const double sd = readings.taped().values[k].sd;
    if (!(sd > 0)) continue;
    // Far enough to leave a flat stretch, such as a balance inside its limits.
    for (const double step : {-3.0, -1.0, 1.0, 3.0}) {
      const VectorXd there = readings.on(readings.moved({k}, VectorXd::Constant(1, step * sd)));
      const double change = (there - here).cwiseAbs().maxCoeff();
      if (!(change > kSameReading)) continue;
      keys.push_back(k);
      break;
    }
  }
  return keys;
}

/// Prior of the unknowns, x = factor u with u standard normal.
struct Prior {
  std::vector<size_t> keys;
  MatrixXd factor;
};

Prior prior_of(std::vector<size_t> keys, const std::vector<double>& covariance) {
  const auto n = static_cast<Eigen::Index>(keys.size());
  MatrixXd s(n, n);
  for (Eigen::Index a = 0; a < n; ++a) {
    for (Eigen::Index b = 0; b < n; ++b)
      s(a, b) = covariance[keys[static_cast<size_t>(a)] * kBodyKeys + keys[static_cast<size_t>(b)]];
  }
  s.diagonal() *= 1 + kJitter;
  return {.keys = std::move(keys), .factor = s.llt().matrixL()};
}

/// d(readings) / d(x) at x, by central differences of `step` s.d. of each measure.
MatrixXd slopes_at(const Readings& readings, const Prior& prior, const VectorXd& x, double step) {
  MatrixXd slopes(static_cast<Eigen::Index>(readings.faults().size()), x.size());
  for (Eigen::Index k = 0; k < x.size(); ++k) {
    const double by = step * readings.taped().values[prior.keys[static_cast<size_t>(k)]].sd;
    VectorXd there = x;
    there[k] = x[k] + by;
    const VectorXd up = readings.on(readings.moved(prior.keys, there));
    there[k] = x[k] - by;
    const VectorXd down = readings.on(readings.moved(prior.keys, there));
    slopes.col(k) = (up - down) / (2 * by);
  }
  return slopes;
}

/// Residuals: u, then (reading - amount) / error of the faults that count.
class Residuals final : public ceres::CostFunction {
 public:
  Residuals(const Readings& readings, const Prior& prior, const std::vector<int>& counted)
      : readings_(readings), prior_(prior), counted_(counted) {
    const int n = static_cast<int>(prior.keys.size());
    mutable_parameter_block_sizes()->push_back(n);
    set_num_residuals(n + static_cast<int>(counted.size()));
  }

  bool Evaluate(const double* const* parameters,
                double* residuals,
                double** jacobians) const override {
    const auto n = static_cast<Eigen::Index>(prior_.keys.size());
    const auto m = static_cast<Eigen::Index>(counted_.size());
    const Eigen::Map<const VectorXd> u(parameters[0], n);
    const VectorXd x = prior_.factor * u;
    const VectorXd read = readings_.on(readings_.moved(prior_.keys, x));
    std::copy_n(u.data(), n, residuals);
    for (Eigen::Index i = 0; i < m; ++i)
      residuals[n + i] = (read[fault(i)] - seen(i).amount) / seen(i).error;
    if (jacobians != nullptr && jacobians[0] != nullptr) {
      using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
      Eigen::Map<RowMajor> jacobian(jacobians[0], n + m, n);
      const MatrixXd slopes = slopes_at(readings_, prior_, x, kLocalStep) * prior_.factor;
      jacobian.topRows(n).setIdentity();
      for (Eigen::Index i = 0; i < m; ++i)
        jacobian.row(n + i) = slopes.row(fault(i)) / seen(i).error;
      if (!jacobian.allFinite()) return false;
    }
    return read.allFinite();
  }

 private:
  Eigen::Index fault(Eigen::Index i) const { return counted_[static_cast<size_t>(i)]; }
  const SeenFault& seen(Eigen::Index i) const {
    return readings_.faults()[static_cast<size_t>(fault(i))];
  }

  const Readings& readings_;
  const Prior& prior_;
  const std::vector<int>& counted_;
};

struct Answer {
  VectorXd u;
  double cost = solver::kInfinity;  ///< sum of squares
  VectorXd off;                     ///< of every fault, counted or not
  int iterations = 0;
};

class Search {
 public:
  Search(const Readings& readings, const Prior& prior) : readings_(readings), prior_(prior) {
    const VectorXd at_tapes = VectorXd::Zero(size());
    before_ = readings_.on(readings_.taped());
    for (const double step : {1.0, 2.5})
      secants_.push_back(slopes_at(readings_, prior_, at_tapes, step) * prior_.factor);
  }

  const VectorXd& before() const { return before_; }

  /// The likeliest body if these faults alone count. A reading may be flat at the tapes and move
  /// only further on, so that there are starts beside them: where secants over one s.d. and more
  /// point.
  Answer explain(const std::vector<int>& counted) const {
    Answer best;
    int iterations = 0;
    std::vector<VectorXd> starts{VectorXd::Zero(size())};
    for (const MatrixXd& secant : secants_) starts.push_back(pointed_at(secant, counted));
    for (const VectorXd& start : starts) {
      Answer answer = solve_from(start, counted);
      iterations += answer.iterations;
      if (answer.cost < best.cost) best = std::move(answer);
    }
    best.iterations = iterations;
    if (best.u.size() != size()) best.u = VectorXd::Zero(size());
    const VectorXd read = readings_.on(readings_.moved(prior_.keys, prior_.factor * best.u));
    best.off.resize(read.size());
    for (Eigen::Index i = 0; i < read.size(); ++i) {
      const SeenFault& fault = readings_.faults()[static_cast<size_t>(i)];
      best.off[i] = (read[i] - fault.amount) / fault.error;
    }
    return best;
  }

  /// Covariance of u given the faults that count, to first order.
  MatrixXd covariance(const Answer& answer, const std::vector<int>& counted) const {
    // Over the width of the error, as an error is passed on elsewhere: at a corner a slope says
    // little.
    const MatrixXd slopes =
        slopes_at(readings_, prior_, prior_.factor * answer.u, 0.5) * prior_.factor;
    MatrixXd information = MatrixXd::Identity(size(), size());
    for (const int i : counted) {
      const VectorXd row = slopes.row(i) / readings_.faults()[static_cast<size_t>(i)].error;
      information += row * row.transpose();
    }
    return information.llt().solve(MatrixXd::Identity(size(), size()));
  }

 private:
  Eigen::Index size() const { return static_cast<Eigen::Index>(prior_.keys.size()); }

  VectorXd pointed_at(const MatrixXd& slopes, const std::vector<int>& counted) const {
    const auto m = static_cast<Eigen::Index>(counted.size());
    MatrixXd a(m, size());
    VectorXd b(m);
    for (Eigen::Index i = 0; i < m; ++i) {
      const int fault = counted[static_cast<size_t>(i)];
      const SeenFault& seen = readings_.faults()[static_cast<size_t>(fault)];
      a.row(i) = slopes.row(fault) / seen.error;
      b[i] = (seen.amount - before_[fault]) / seen.error;
    }
    // Least |u|^2 + |a u - b|^2.
    const MatrixXd gram = a * a.transpose() + MatrixXd::Identity(m, m);
    return a.transpose() * gram.llt().solve(b);
  }

  Answer solve_from(const VectorXd& start, const std::vector<int>& counted) const {
    Answer answer;
    answer.u = start;
    ceres::Problem::Options ownership;
    ownership.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
    Residuals residuals(readings_, prior_, counted);
    ceres::Problem problem(ownership);
    problem.AddResidualBlock(&residuals, nullptr, answer.u.data());
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    options.max_num_iterations = 50;
    options.function_tolerance = 1e-8;
    options.parameter_tolerance = 1e-6;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    answer.iterations = static_cast<int>(summary.iterations.size());
    if (summary.IsSolutionUsable()) answer.cost = 2 * summary.final_cost;
    return answer;
  }

  const Readings& readings_;
  const Prior& prior_;
  VectorXd before_;
  std::vector<MatrixXd> secants_;
};

bool is_off(double off) { return !(std::abs(off) <= kExplained); }

/// Pairs each of which is explained alone and which are not explained together.
void find_contradictions(const Search& search,
                         const std::vector<int>& counted,
                         const Answer& all,
                         Belief& belief) {
  for (size_t a = 0; a < counted.size(); ++a) {
    for (size_t b = a + 1; b < counted.size(); ++b) {
      const int i = counted[a], j = counted[b];
      if (std::abs(all.off[i]) < kCalm && std::abs(all.off[j]) < kCalm) continue;
      const Answer both = search.explain({i, j});
      if (is_off(both.off[i]) || is_off(both.off[j]) ||
          std::hypot(both.off[i], both.off[j]) > kPairOff)
        belief.against.emplace_back(i, j);
    }
  }
}

/// Passes what was learnt of the unknowns on to every measure: the others follow by their
/// correlations, and nobody is surer of them than that allows.
void update_body(const Prior& prior,
                 const std::vector<double>& covariance,
                 const VectorXd& u,
                 const MatrixXd& left,
                 CompleteBody& body) {
  const auto n = static_cast<Eigen::Index>(prior.keys.size());
  const auto lower = prior.factor.triangularView<Eigen::Lower>();
  const MatrixXd learnt = MatrixXd::Identity(n, n) - left;
  for (size_t k = 0; k < static_cast<size_t>(kBodyKeys); ++k) {
    BodyValue& value = body.values[k];
    if (!(value.sd > 0)) continue;
    VectorXd with(n);
    for (Eigen::Index a = 0; a < n; ++a)
      with[a] = covariance[k * kBodyKeys + prior.keys[static_cast<size_t>(a)]];
    // Covariance of this measure with u.
    const VectorXd along = lower.solve(with);
    const auto key = static_cast<BodyKey>(k);
    value.value =
        std::clamp(value.value + along.dot(u), least_possible(key, body.build), info(key).most);
    const double variance = covariance[k * (kBodyKeys + 1)];
    value.sd *= std::sqrt(std::max(0.0, 1 - along.dot(learnt * along) / variance));
  }
}

void find_shifts(const CompleteBody& before, Belief& belief) {
  for (size_t k = 0; k < static_cast<size_t>(kBodyKeys); ++k) {
    const BodyValue& was = before.values[k];
    const BodyValue& is = belief.body.values[k];
    if (!(std::abs(is.value - was.value) > 0.5 * was.sd) || !(was.sd > 0)) continue;
    belief.shifts.push_back({static_cast<BodyKey>(k), was.value, was.sd, is.value, is.sd});
  }
  const auto size = [](const BodyShift& s) { return std::abs(s.after - s.before) / s.sd_before; };
  std::stable_sort(belief.shifts.begin(),
                   belief.shifts.end(),
                   [&size](const BodyShift& a, const BodyShift& b) { return size(a) > size(b); });
}

/// No body shows these faults any more or less than another.
Belief nothing_to_learn(const Readings& readings, Belief belief) {
  const VectorXd read = readings.on(readings.taped());
  for (Eigen::Index i = 0; i < read.size(); ++i) {
    const SeenFault& fault = readings.faults()[static_cast<size_t>(i)];
    const double off = (read[i] - fault.amount) / fault.error;
    belief.readings.push_back({read[i], read[i], off});
    if (is_off(off)) belief.unexplained.push_back(static_cast<int>(i));
  }
  belief.left_out = belief.unexplained;
  belief.explained = belief.unexplained.empty();
  return belief;
}

}  // namespace

double reading_of(const FaultKind& kind, const Frame& frame, const Worn& worn) {
  return evaluate(kind.reads, frame, worn.values, worn.measures) -
         kind.hem.front * worn.hem_up.front - kind.hem.back * worn.hem_up.back;
}

Belief believe(const Made& made,
               const Body& body,
               const Completed& taped,
               const BodyTables& tables,
               const std::vector<SeenFault>& faults) {
  Belief belief;
  belief.body = taped.body;
  if (faults.empty()) return belief;
  const std::vector<double> covariance = error_covariance(body, taped.body, tables);
  const Readings readings(made, taped.body, faults);
  const Prior prior = prior_of(find_unknowns(readings), covariance);
  if (prior.keys.empty()) return nothing_to_learn(readings, std::move(belief));
  const Search search(readings, prior);

  std::vector<int> counted;
  for (int i = 0; i < static_cast<int>(faults.size()); ++i) {
    const Answer alone = search.explain({i});
    belief.iterations += alone.iterations;
    const bool possible = !is_off(alone.off[i]) && alone.cost <= kBelievable * kBelievable;
    (possible ? counted : belief.left_out).push_back(i);
  }
  const Answer all = search.explain(counted);
  belief.iterations += all.iterations;
  update_body(prior, covariance, all.u, search.covariance(all, counted), belief.body);

  const VectorXd after = readings.on(belief.body);
  for (Eigen::Index i = 0; i < after.size(); ++i) {
    const SeenFault& fault = faults[static_cast<size_t>(i)];
    belief.readings.push_back(
        {search.before()[i], after[i], (after[i] - fault.amount) / fault.error});
    const bool out = std::count(belief.left_out.begin(), belief.left_out.end(), i) > 0;
    if (out || is_off(belief.readings.back().off))
      belief.unexplained.push_back(static_cast<int>(i));
  }
  find_contradictions(search, counted, all, belief);
  belief.explained = belief.unexplained.empty() && belief.against.empty();
  find_shifts(taped.body, belief);
  return belief;
}

Belief believe(const Made& made,
               const Completed& taped,
               const BodyTables& tables,
               const std::vector<SeenFault>& faults) {
  return believe(made, as_given(taped.body), taped, tables, faults);
}

}  // namespace easewright
