#include "tests/bench/peers.h"

#include <algorithm>
#include <cmath>
#include <exception>
#include <random>

#include <IpIpoptApplication.hpp>
#include <IpTNLP.hpp>
#include <nlopt.hpp>

namespace easewright::bench {
namespace {

using solver::kInfinity;
using solver::kLevels;
using solver::Level;
using solver::Problem;
using solver::Shape;

using Totals = std::array<double, kLevels>;

// Room that a finished level keeps, in tolerances: as an equality it would be degenerate. A tenth
// of what ours keeps, so that nothing is bought with it that counts as a difference.
constexpr double kFreeze = 1e-4;

/// One program: x and slacks in one vector z, rows as expression <= 0.
class Program {
 public:
  /// Outputs down to `lowest` take part; weight[l] is level l's share in the objective; levels
  /// before got.size() are held at what they got.
  Program(const Problem& problem, int lowest, const Totals& weight, std::vector<double> got)
      : problem_(problem), weight_(weight), got_(std::move(got)) {
    slack_.assign(problem.outputs.size(), -1);
    for (size_t i = 0; i < problem.outputs.size(); ++i) {
      const auto& o = problem.outputs[i];
      if (static_cast<int>(o.level) > lowest) continue;
      if (o.shape == Shape::squared) {
        squared_.push_back(i);
        continue;
      }
      slack_[i] = problem.n() + slacks_++;
      if (std::isfinite(o.lo)) sides_.push_back({i, true});
      if (std::isfinite(o.hi)) sides_.push_back({i, false});
    }
    g_.resize(problem.outputs.size());
    jacobian_.resize(g_.size() * n());
  }

  int size() const { return problem_.n() + slacks_; }
  int rows() const { return static_cast<int>(sides_.size() + got_.size()); }
  int evaluations() const { return evaluations_; }

  double objective(const double* z, double* gradient) {
    evaluate(z);
    if (gradient != nullptr) std::fill_n(gradient, size(), 0.0);
    double sum = 0;
    for (int level = 0; level < kLevels; ++level) {
      const double w = weight_[static_cast<size_t>(level)];
      if (w > 0) sum += w * add_level(level, z, w, gradient);
    }
    return sum;
  }

  /// Values of all rows; gradient (may be null): rows() x size(), row major.
  void constraints(const double* z, double* row, double* gradient) {
    evaluate(z);
    const auto width = static_cast<size_t>(size());
    if (gradient != nullptr) std::fill_n(gradient, static_cast<size_t>(rows()) * width, 0.0);
    for (size_t k = 0; k < sides_.size(); ++k) {
      const auto [i, lower] = sides_[k];
      const auto& o = problem_.outputs[i];
      const double sign = lower ? -1 : 1;
      row[k] = sign * (g_[i] - (lower ? o.lo : o.hi)) / o.tolerance - z[slack_[i]];
      if (gradient == nullptr) continue;
      double* out = gradient + k * width;
      for (size_t j = 0; j < n(); ++j) out[j] = sign * jacobian_[i * n() + j] / o.tolerance;
      out[slack_[i]] = -1;
    }
    for (size_t level = 0; level < got_.size(); ++level) {
      const size_t k = sides_.size() + level;
      double* out = gradient == nullptr ? nullptr : gradient + k * width;
      row[k] = add_level(static_cast<int>(level), z, 1, out) - got_[level] - kFreeze;
    }
  }

  void bounds(std::vector<double>& lower, std::vector<double>& upper) const {
    lower.assign(static_cast<size_t>(size()), 0);
    upper.assign(static_cast<size_t>(size()), 1e4);
    for (size_t j = 0; j < n(); ++j) {
      lower[j] = problem_.variables[j].lower;
      upper[j] = problem_.variables[j].upper;
    }
  }

  /// x with every slack as small as it allows.
  std::vector<double> start(const std::vector<double>& x) {
    std::vector<double> z(static_cast<size_t>(size()), 0);
    std::copy(x.begin(), x.end(), z.begin());
    evaluate(z.data());
    for (size_t i = 0; i < slack_.size(); ++i) {
      if (slack_[i] >= 0) z[static_cast<size_t>(slack_[i])] = std::abs(miss(i));
    }
    return z;
  }

 private:
  struct Side {
    size_t output;
    bool lower;
  };

  size_t n() const { return static_cast<size_t>(problem_.n()); }

  void evaluate(const double* z) {
    if (!last_.empty() && std::equal(last_.begin(), last_.end(), z)) return;
    last_.assign(z, z + n());
    problem_.function->evaluate(z, g_.data(), jacobian_.data());
    ++evaluations_;
  }

  /// Signed, in tolerances.
  double miss(size_t i) const {
    const auto& o = problem_.outputs[i];
    if (g_[i] < o.lo) return (g_[i] - o.lo) / o.tolerance;
    if (g_[i] > o.hi) return (g_[i] - o.hi) / o.tolerance;
    return 0;
  }

  /// What the level misses by z; adds w times its gradient.
  double add_level(int level, const double* z, double w, double* gradient) const {
    double sum = 0;
    for (size_t i = 0; i < slack_.size(); ++i) {
      if (slack_[i] < 0 || static_cast<int>(problem_.outputs[i].level) != level) continue;
      sum += z[slack_[i]];
      if (gradient != nullptr) gradient[slack_[i]] += w;
    }
    for (const size_t i : squared_) {
      if (static_cast<int>(problem_.outputs[i].level) != level) continue;
      const double d = miss(i);
      sum += 0.5 * d * d;
      if (gradient == nullptr) continue;
      const double slope = w * d / problem_.outputs[i].tolerance;
      for (size_t j = 0; j < n(); ++j) gradient[j] += slope * jacobian_[i * n() + j];
    }
    return sum;
  }

  const Problem& problem_;
  Totals weight_;
  std::vector<double> got_;
  std::vector<int> slack_;       // place in z, -1 where an output has none
  std::vector<size_t> squared_;  // outputs
  std::vector<Side> sides_;
  int slacks_ = 0, evaluations_ = 0;
  std::vector<double> g_, jacobian_, last_;
};

bool is_finite(const std::vector<double>& z) {
  return std::all_of(z.begin(), z.end(), [](double v) { return std::isfinite(v); });
}

/// Runs one program from outcome.x; a peer that breaks down keeps the point that it had.
template <typename Settle>
void run(Program& program, int n, const Settle& settle, PeerOutcome& outcome) {
  std::vector<double> z = program.start(outcome.x);
  const bool success = settle(program, z) && is_finite(z);
  outcome.success = outcome.success && success;
  outcome.evaluations += program.evaluations();
  if (is_finite(z)) outcome.x.assign(z.begin(), z.begin() + n);
}

template <typename Settle>
PeerOutcome solve_with(const Problem& problem, Way way, const Settle& settle) {
  PeerOutcome outcome;
  for (const auto& v : problem.variables)
    outcome.x.push_back(std::clamp(v.start, v.lower, v.upper));
  if (way == Way::weighted) {
    Program program(problem, kLevels - 1, {1e4, 1e2, 1, 1e-3}, {});
    run(program, problem.n(), settle, outcome);
  } else {
    std::vector<double> got;
    for (int level = 0; level < kLevels; ++level) {
      Totals weight{};
      weight[static_cast<size_t>(level)] = 1;
      Program program(problem, level, weight, got);
      run(program, problem.n(), settle, outcome);
      got.push_back(totals(problem, outcome.x)[static_cast<size_t>(level)]);
    }
  }
  outcome.total = totals(problem, outcome.x);
  return outcome;
}

bool settle_with_slsqp(Program& program, std::vector<double>& z) {
  nlopt::opt opt(nlopt::LD_SLSQP, static_cast<unsigned>(program.size()));
  std::vector<double> lower, upper;
  program.bounds(lower, upper);
  opt.set_lower_bounds(lower);
  opt.set_upper_bounds(upper);
  opt.set_min_objective(
      [](unsigned, const double* x, double* gradient, void* data) {
        return static_cast<Program*>(data)->objective(x, gradient);
      },
      &program);
  opt.add_inequality_mconstraint(
      [](unsigned, double* row, unsigned, const double* x, double* gradient, void* data) {
        static_cast<Program*>(data)->constraints(x, row, gradient);
      },
      &program,
      std::vector<double>(static_cast<size_t>(program.rows()), 1e-6));
  // Tried: coarser limits miss shoulds and save a fifth of the time.
  opt.set_xtol_rel(1e-7);
  opt.set_ftol_rel(1e-8);
  opt.set_maxeval(300);
  for (size_t i = 0; i < z.size(); ++i) z[i] = std::clamp(z[i], lower[i], upper[i]);
  try {
    double value = 0;
    const nlopt::result result = opt.optimize(z, value);
    return result > 0 && result != nlopt::MAXEVAL_REACHED;
  } catch (const std::exception&) {
    return false;  // NLopt throws where round-off stops it; z holds the last point
  }
}

class IpoptProgram final : public Ipopt::TNLP {
 public:
  IpoptProgram(Program& program, std::vector<double>& z) : program_(program), z_(z) {
    find_entries();
  }

  bool get_nlp_info(Ipopt::Index& n,
                    Ipopt::Index& m,
                    Ipopt::Index& jacobian,
                    Ipopt::Index& hessian,
                    IndexStyleEnum& style) override {
    n = program_.size();
    m = program_.rows();
    jacobian = static_cast<Ipopt::Index>(entries_.size());
    hessian = 0;
    style = C_STYLE;
    return true;
  }
  bool get_bounds_info(
      Ipopt::Index n, double* xl, double* xu, Ipopt::Index m, double* gl, double* gu) override {
    std::vector<double> lower, upper;
    program_.bounds(lower, upper);
    std::copy_n(lower.begin(), n, xl);
    std::copy_n(upper.begin(), n, xu);
    std::fill_n(gl, m, -2e19);
    std::fill_n(gu, m, 0.0);
    return true;
  }
  bool get_starting_point(
      Ipopt::Index n, bool, double* x, bool, double*, double*, Ipopt::Index, bool, double*)
      override {
    std::copy_n(z_.begin(), n, x);
    return true;
  }
  bool eval_f(Ipopt::Index, const double* x, bool, double& value) override {
    value = program_.objective(x, nullptr);
    return std::isfinite(value);
  }
  bool eval_grad_f(Ipopt::Index, const double* x, bool, double* gradient) override {
    program_.objective(x, gradient);
    return true;
  }
  bool eval_g(Ipopt::Index, const double* x, bool, Ipopt::Index, double* g) override {
    program_.constraints(x, g, nullptr);
    return true;
  }
  bool eval_jac_g(Ipopt::Index n,
                  const double* x,
                  bool,
                  Ipopt::Index,
                  Ipopt::Index,
                  Ipopt::Index* rows,
                  Ipopt::Index* columns,
                  double* values) override {
    if (values != nullptr) program_.constraints(x, row_.data(), dense_.data());
    for (size_t k = 0; k < entries_.size(); ++k) {
      const auto at = static_cast<Ipopt::Index>(entries_[k]);
      if (values != nullptr) {
        values[k] = dense_[entries_[k]];
      } else {
        rows[k] = at / n;
        columns[k] = at % n;
      }
    }
    return true;
  }
  void finalize_solution(Ipopt::SolverReturn,
                         Ipopt::Index n,
                         const double* x,
                         const double*,
                         const double*,
                         Ipopt::Index,
                         const double*,
                         const double*,
                         double,
                         const Ipopt::IpoptData*,
                         Ipopt::IpoptCalculatedQuantities*) override {
    z_.assign(x, x + n);
  }

 private:
  /// Entries of the Jacobian that are ever other than zero: skirt and bodice share few variables,
  /// and a sparse solver should know. Seen at random points inside the bounds.
  void find_entries() {
    const auto size = static_cast<size_t>(program_.size());
    row_.resize(static_cast<size_t>(program_.rows()));
    dense_.resize(row_.size() * size);
    std::vector<bool> seen(dense_.size(), false);
    std::vector<double> lower, upper, z(size);
    program_.bounds(lower, upper);
    std::mt19937 random(1);
    for (int round = 0; round < 3; ++round) {
      for (size_t j = 0; j < size; ++j) {
        const double share = 0.1 + 0.8 * static_cast<double>(random() % 1000) / 1000;
        z[j] = lower[j] + share * (std::min(upper[j], lower[j] + 100) - lower[j]);
      }
      program_.constraints(z.data(), row_.data(), dense_.data());
      for (size_t k = 0; k < dense_.size(); ++k) seen[k] = seen[k] || dense_[k] != 0;
    }
    for (size_t k = 0; k < seen.size(); ++k) {
      if (seen[k]) entries_.push_back(k);
    }
  }

  Program& program_;
  std::vector<double>& z_;
  std::vector<size_t> entries_;
  std::vector<double> row_, dense_;
};

bool settle_with_ipopt(Program& program, std::vector<double>& z) {
  Ipopt::SmartPtr<Ipopt::IpoptApplication> app = new Ipopt::IpoptApplication(false);
  app->Options()->SetIntegerValue("print_level", 0);
  app->Options()->SetStringValue("sb", "yes");
  app->Options()->SetStringValue("hessian_approximation", "limited-memory");
  // Tried: 1e-7 takes half as long again for the same misses, 1e-5 leaves the habits; 'adaptive'
  // and a longer memory are no faster. What it has not settled in 300 steps it does not settle in
  // 500.
  app->Options()->SetNumericValue("tol", 1e-6);
  app->Options()->SetIntegerValue("max_iter", 300);
  if (app->Initialize() != Ipopt::Solve_Succeeded) return false;
  const Ipopt::SmartPtr<Ipopt::TNLP> program_of_ipopt = new IpoptProgram(program, z);
  const auto status = app->OptimizeTNLP(program_of_ipopt);
  return status == Ipopt::Solve_Succeeded || status == Ipopt::Solved_To_Acceptable_Level;
}

}  // namespace

Totals totals(const Problem& problem, const std::vector<double>& x) {
  std::vector<double> g(problem.outputs.size());
  problem.function->evaluate(x.data(), g.data(), nullptr);
  Totals total{};
  for (size_t i = 0; i < g.size(); ++i) {
    const auto& o = problem.outputs[i];
    // In this order a NaN falls through to the last branch.
    const double d = g[i] >= o.lo && g[i] <= o.hi ? 0
                     : g[i] < o.lo                ? (o.lo - g[i]) / o.tolerance
                     : g[i] > o.hi                ? (g[i] - o.hi) / o.tolerance
                                                  : kInfinity;
    total[static_cast<size_t>(o.level)] += o.shape == Shape::squared ? 0.5 * d * d : d;
  }
  return total;
}

PeerOutcome solve_with_slsqp(const Problem& problem, Way way) {
  return solve_with(problem, way, settle_with_slsqp);
}

PeerOutcome solve_with_ipopt(const Problem& problem, Way way) {
  return solve_with(problem, way, settle_with_ipopt);
}

}  // namespace easewright::bench
