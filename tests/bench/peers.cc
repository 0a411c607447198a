#include "tests/bench/peers.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <exception>

#include <IpIpoptApplication.hpp>
#include <IpTNLP.hpp>
#include <nlopt.hpp>

namespace easewright::bench {
namespace {

using solver::kInfinity;
using solver::Level;
using solver::Problem;

constexpr double kFreeze =
    1e-6;  // room a finished level keeps, in tolerances: an equality would be degenerate

/// One level's program: x and slacks in one vector, rows as expression <= 0.
class LevelProgram {
 public:
  LevelProgram(const Problem& problem, int level, const std::vector<double>& got)
      : problem_(problem), level_(level), got_(got) {
    slack_.assign(static_cast<size_t>(problem.m()), -1);
    for (int i = 0; i < problem.m(); ++i) {
      const auto& o = problem.outputs[static_cast<size_t>(i)];
      if (o.level == Level::habit) continue;
      if (static_cast<int>(o.level) <= level) {
        slack_[static_cast<size_t>(i)] = size_++ + problem.n();
        if (std::isfinite(o.lo)) sides_.push_back({i, true});
        if (std::isfinite(o.hi)) sides_.push_back({i, false});
      }
    }
    g_.resize(static_cast<size_t>(problem.m()));
    jacobian_.resize(static_cast<size_t>(problem.m()) * static_cast<size_t>(problem.n()));
  }

  int size() const { return problem_.n() + size_; }
  int rows() const { return static_cast<int>(sides_.size() + got_.size()); }
  int evaluations() const { return evaluations_; }

  void evaluate(const double* z) {
    if (!last_.empty() && std::equal(last_.begin(), last_.end(), z)) return;
    last_.assign(z, z + problem_.n());
    problem_.function->evaluate(z, g_.data(), jacobian_.data());
    ++evaluations_;
  }

  double objective(const double* z, double* gradient) {
    evaluate(z);
    if (gradient != nullptr) std::fill(gradient, gradient + size(), 0.0);
    double sum = 0;
    for (int i = 0; i < problem_.m(); ++i) {
      const auto at = static_cast<size_t>(i);
      const auto& o = problem_.outputs[at];
      if (level_ < static_cast<int>(Level::habit)) {
        if (static_cast<int>(o.level) != level_) continue;
        sum += z[slack_[at]];
        if (gradient != nullptr) gradient[slack_[at]] = 1;
      } else if (o.level == Level::habit) {
        const double d = (g_[at] - o.lo) / o.tolerance;
        sum += 0.5 * d * d;
        if (gradient == nullptr) continue;
        for (int j = 0; j < problem_.n(); ++j) {
          gradient[j] += d / o.tolerance *
                         jacobian_[at * static_cast<size_t>(problem_.n()) + static_cast<size_t>(j)];
        }
      }
    }
    return sum;
  }

  /// Rows, in tolerances, <= 0; gradient rows() x size(), row major, may be null.
  void constraints(const double* z, double* row, double* gradient) {
    evaluate(z);
    const auto n = static_cast<size_t>(problem_.n());
    if (gradient != nullptr) std::fill(gradient, gradient + rows() * size(), 0.0);
    for (size_t k = 0; k < sides_.size(); ++k) {
      const auto at = static_cast<size_t>(sides_[k].output);
      const auto& o = problem_.outputs[at];
      const double sign = sides_[k].lower ? -1 : 1;
      row[k] = sign * (g_[at] - (sides_[k].lower ? o.lo : o.hi)) / o.tolerance - z[slack_[at]];
      if (gradient == nullptr) continue;
      double* out = gradient + k * static_cast<size_t>(size());
      for (size_t j = 0; j < n; ++j) out[j] = sign * jacobian_[at * n + j] / o.tolerance;
      out[slack_[at]] = -1;
    }
    for (size_t l = 0; l < got_.size(); ++l) {
      double* out = gradient == nullptr
                        ? nullptr
                        : gradient + (sides_.size() + l) * static_cast<size_t>(size());
      double sum = -got_[l] - kFreeze;
      for (size_t i = 0; i < slack_.size(); ++i) {
        if (slack_[i] < 0 || static_cast<size_t>(problem_.outputs[i].level) != l) continue;
        sum += z[slack_[i]];
        if (out != nullptr) out[slack_[i]] = 1;
      }
      row[sides_.size() + l] = sum;
    }
  }

  void bounds(std::vector<double>& lower, std::vector<double>& upper) const {
    lower.assign(static_cast<size_t>(size()), 0);
    upper.assign(static_cast<size_t>(size()), 1e4);
    for (int j = 0; j < problem_.n(); ++j) {
      lower[static_cast<size_t>(j)] = problem_.variables[static_cast<size_t>(j)].lower;
      upper[static_cast<size_t>(j)] = problem_.variables[static_cast<size_t>(j)].upper;
    }
  }

  /// x with every slack as small as it allows.
  std::vector<double> start(const std::vector<double>& x) {
    std::vector<double> z(static_cast<size_t>(size()), 0);
    std::copy(x.begin(), x.end(), z.begin());
    evaluate(z.data());
    for (size_t i = 0; i < slack_.size(); ++i) {
      const auto& o = problem_.outputs[i];
      if (slack_[i] >= 0) {
        z[static_cast<size_t>(slack_[i])] =
            std::max({0.0, (o.lo - g_[i]) / o.tolerance, (g_[i] - o.hi) / o.tolerance});
      }
    }
    return z;
  }

 private:
  struct Side {
    int output;
    bool lower;
  };
  const Problem& problem_;
  int level_;
  std::vector<double> got_;
  std::vector<int> slack_;
  std::vector<Side> sides_;
  int size_ = 0, evaluations_ = 0;
  std::vector<double> g_, jacobian_, last_;
};

std::array<double, solver::kLevels> totals(const Problem& problem, const std::vector<double>& x) {
  std::vector<double> g(static_cast<size_t>(problem.m()));
  problem.function->evaluate(x.data(), g.data(), nullptr);
  std::array<double, solver::kLevels> total{};
  for (size_t i = 0; i < g.size(); ++i) {
    const auto& o = problem.outputs[i];
    const double d = std::max({0.0, (o.lo - g[i]) / o.tolerance, (g[i] - o.hi) / o.tolerance});
    total[static_cast<size_t>(o.level)] += o.level == Level::habit ? 0.5 * d * d : d;
  }
  return total;
}

/// Runs `settle` (z in and out, true on success) for every level in turn.
template <typename Settle>
PeerOutcome by_levels(const Problem& problem, const Settle& settle) {
  PeerOutcome outcome;
  for (const auto& v : problem.variables)
    outcome.x.push_back(std::clamp(v.start, v.lower, v.upper));
  std::vector<double> got;
  for (int level = 0; level < solver::kLevels; ++level) {
    LevelProgram program(problem, level, got);
    std::vector<double> z = program.start(outcome.x);
    outcome.success = settle(program, z) && outcome.success;
    outcome.evaluations += program.evaluations();
    // A peer that breaks down keeps what it had at the level before: a NaN would count as no miss
    // at all.
    if (std::all_of(z.begin(), z.end(), [](double v) { return std::isfinite(v); })) {
      outcome.x.assign(z.begin(), z.begin() + problem.n());
    } else {
      outcome.success = false;
    }
    if (level < static_cast<int>(Level::habit))
      got.push_back(totals(problem, outcome.x)[static_cast<size_t>(level)]);
  }
  outcome.total = totals(problem, outcome.x);
  return outcome;
}

bool settle_with_slsqp(LevelProgram& program, std::vector<double>& z) {
  nlopt::opt opt(nlopt::LD_SLSQP, static_cast<unsigned>(program.size()));
  std::vector<double> lower, upper;
  program.bounds(lower, upper);
  opt.set_lower_bounds(lower);
  opt.set_upper_bounds(upper);
  opt.set_min_objective(
      [](unsigned, const double* x, double* gradient, void* data) {
        return static_cast<LevelProgram*>(data)->objective(x, gradient);
      },
      &program);
  opt.add_inequality_mconstraint(
      [](unsigned, double* row, unsigned, const double* x, double* gradient, void* data) {
        static_cast<LevelProgram*>(data)->constraints(x, row, gradient);
      },
      &program,
      std::vector<double>(static_cast<size_t>(program.rows()), 1e-6));
  opt.set_xtol_rel(1e-8);
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

class IpoptLevel final : public Ipopt::TNLP {
 public:
  IpoptLevel(LevelProgram& program, std::vector<double>& z) : program_(program), z_(z) {}

  bool get_nlp_info(Ipopt::Index& n,
                    Ipopt::Index& m,
                    Ipopt::Index& jacobian,
                    Ipopt::Index& hessian,
                    IndexStyleEnum& style) override {
    n = program_.size();
    m = program_.rows();
    jacobian = n * m;
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
                  Ipopt::Index m,
                  Ipopt::Index,
                  Ipopt::Index* rows,
                  Ipopt::Index* columns,
                  double* values) override {
    if (values == nullptr) {
      for (Ipopt::Index i = 0; i < m * n; ++i) {
        rows[i] = i / n;
        columns[i] = i % n;
      }
      return true;
    }
    std::vector<double> row(static_cast<size_t>(m));
    program_.constraints(x, row.data(), values);
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
  LevelProgram& program_;
  std::vector<double>& z_;
};

bool settle_with_ipopt(LevelProgram& program, std::vector<double>& z) {
  Ipopt::SmartPtr<Ipopt::IpoptApplication> app = new Ipopt::IpoptApplication(false);
  app->Options()->SetIntegerValue("print_level", 0);
  app->Options()->SetStringValue("sb", "yes");
  app->Options()->SetStringValue("hessian_approximation", "limited-memory");
  app->Options()->SetNumericValue("tol", 1e-7);
  app->Options()->SetIntegerValue("max_iter", 500);
  if (app->Initialize() != Ipopt::Solve_Succeeded) return false;
  const Ipopt::SmartPtr<Ipopt::TNLP> level = new IpoptLevel(program, z);
  const auto status = app->OptimizeTNLP(level);
  return status == Ipopt::Solve_Succeeded || status == Ipopt::Solved_To_Acceptable_Level;
}

}  // namespace

PeerOutcome solve_with_slsqp(const Problem& problem) {
  return by_levels(problem, settle_with_slsqp);
}

PeerOutcome solve_with_ipopt(const Problem& problem) {
  return by_levels(problem, settle_with_ipopt);
}

}  // namespace easewright::bench
