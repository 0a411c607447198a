#include "solver/amounts.h"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>

namespace easewright::solver {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Share of a scale below which an amount is none.
constexpr double kNone = 1e-6;
/// Tolerance of the rows that say what a plan may be at most, in moves and in cost units: they
/// weigh more than any must.
constexpr double kRigid = 1e-3;
/// Share of a scale's cost that is felt where cost is all that is minimised.
constexpr double kFine = 1e-2;
/// Steps and number of trials of the prices of misses.
constexpr double kPriceStep = 8;
constexpr int kPriceTrials = 6;

/// The caller's outputs, then linear rows.
class WithRows final : public Function {
 public:
  WithRows(std::shared_ptr<const Function> inner, int n, int m)
      : inner_(std::move(inner)), n_(n), m_(m) {}

  void add(std::vector<double> coefficients) { rows_.push_back(std::move(coefficients)); }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    inner_->evaluate(x, g, jacobian);
    add_values(x, g);
    if (!jacobian) return;
    for (std::size_t r = 0; r < rows_.size(); ++r)
      std::copy(rows_[r].begin(), rows_[r].end(), jacobian + (at(m_) + r) * at(n_));
  }

  bool evaluate_columns(const double* x,
                        const std::vector<int>& columns,
                        double* g,
                        double* jacobian) const override {
    if (!inner_->evaluate_columns(x, columns, g, jacobian)) return false;
    add_values(x, g);
    double* out = jacobian + at(m_) * columns.size();
    for (const std::vector<double>& row : rows_) {
      for (const int j : columns) *out++ = row[at(j)];
    }
    return true;
  }

 private:
  void add_values(const double* x, double* g) const {
    for (std::size_t r = 0; r < rows_.size(); ++r) {
      double sum = 0;
      for (int j = 0; j < n_; ++j) sum += rows_[r][at(j)] * x[j];
      g[at(m_) + r] = sum;
    }
  }

  std::shared_ptr<const Function> inner_;
  int n_, m_;
  std::vector<std::vector<double>> rows_;
};

/// Steps of a local solve. Where the Jacobian is made of differences, one that has not ended by
/// then crawls along their noise.
int most_steps(Curvature curvature) { return curvature == Curvature::never ? 25 : 200; }

/// Looks for the price at which a total is just what it may be: dearer while it is over, cheaper
/// while it is under, between the two once both are known.
struct PriceSearch {
  double under = 0;          ///< dearest at which it was over
  double above = kInfinity;  ///< cheapest at which it was not

  double next(double price, double over) {
    if (over > 0) under = std::max(under, price);
    if (over <= 0) above = std::min(above, price);
    if (above == kInfinity) return price * kPriceStep;
    if (under == 0) return price / kPriceStep;
    return above > 1.5 * under ? std::sqrt(under * above) : price;
  }
};

double miss(double v, double lo, double hi) { return v < lo ? v - lo : v > hi ? v - hi : 0; }

LevelTotals totals_of(const Problem& problem, const std::vector<double>& g) {
  LevelTotals totals{};
  for (int i = 0; i < problem.m(); ++i) {
    const Output& o = problem.outputs[at(i)];
    if (o.level == Level::habit) continue;
    const double d = miss(g[at(i)], o.lo, o.hi) / o.tolerance;
    totals[at(static_cast<int>(o.level))] += o.shape == Shape::absolute ? std::abs(d) : d * d / 2;
  }
  return totals;
}

}  // namespace

int count(MoveSet set) { return std::popcount(set); }

bool Reached::by(const LevelTotals& totals) const {
  for (int l = 0; l < static_cast<int>(Level::habit); ++l) {
    if (!(totals[at(l)] <= best[at(l)] + slack)) return false;
  }
  return true;
}

/// A node's relaxation. The last three outputs: cost, cost as a limit, number of moves as a limit.
struct AmountsSolver::Posed {
  Problem problem;
  double paid = 0;        ///< fixed costs of those in
  double cost_scale = 1;  ///< the most that a scale of a move costs
  Output& cost() { return problem.outputs[problem.outputs.size() - 3]; }
};

AmountsSolver::AmountsSolver(const ChoiceProblem& problem, Curvature curvature)
    : problem_(problem), curvature_(curvature) {
  assert(problem.problem.n() <= kMostMoves);
  assert(problem.moves.size() == problem.problem.variables.size());
  assert(problem.shared.size() <= kMostMoves);
  for (const SharedWork& work : problem.shared) {
    MoveSet sharing = 0;
    for (const int j : work.moves) sharing |= only(j);
    sharing_.push_back(sharing);
  }
  double most = 0;
  for (int j = 0; j < problem.problem.n(); ++j) {
    const ChoiceMove& move = problem.moves[at(j)];
    const double upper = problem.problem.variables[at(j)].upper;
    most = std::max(most,
                    fixed_cost(only(j), begun({only(j)})) +
                        move.per_unit * (std::isfinite(upper) ? upper : move.least));
  }
  if (most > 0) cost_unit_ = most;
}

MoveSet AmountsSolver::begun(const ChoiceNode& node) const {
  MoveSet all = node.begun;
  for (std::size_t w = 0; w < sharing_.size(); ++w) {
    if ((sharing_[w] & node.in) != 0) all |= only(static_cast<int>(w));
  }
  return all;
}

double AmountsSolver::fixed_cost(MoveSet in, MoveSet begun) const {
  double sum = 0;
  for (int j = 0; j < problem_.problem.n(); ++j) {
    if (contains(in, j)) sum += problem_.moves[at(j)].fixed;
  }
  for (std::size_t w = 0; w < sharing_.size(); ++w) {
    if (contains(begun, static_cast<int>(w))) sum += problem_.shared[w].cost;
  }
  return sum;
}

double AmountsSolver::cost(MoveSet used, const std::vector<double>& x) const {
  double sum = fixed_cost(used, begun({used}));
  for (int j = 0; j < problem_.problem.n(); ++j) {
    if (contains(used, j)) sum += problem_.moves[at(j)].per_unit * x[at(j)];
  }
  return sum;
}

double AmountsSolver::least_cost(const ChoiceNode& node) const {
  double sum = fixed_cost(node.in, begun(node));
  for (int j = 0; j < problem_.problem.n(); ++j) {
    const ChoiceMove& move = problem_.moves[at(j)];
    if (contains(node.in, j)) sum += move.per_unit * move.least;
  }
  return sum;
}

double AmountsSolver::most(int move, const ChoiceNode& node, const PlanLimits& limits) const {
  const ChoiceMove& m = problem_.moves[at(move)];
  const double upper = problem_.problem.variables[at(move)].upper;
  if (!std::isfinite(limits.cost)) return upper;
  ChoiceNode with = node;
  with.in |= only(move);
  const double left = limits.cost - least_cost(with) + m.per_unit * m.least;
  if (left < m.per_unit * m.least) return -kInfinity;
  return m.per_unit > 0 ? std::min(upper, left / m.per_unit) : upper;
}

MoveSet AmountsSolver::allowed(const ChoiceNode& node, const PlanLimits& limits) const {
  if (count(node.in) >= limits.moves) return 0;
  MoveSet open = node.open;
  for (const auto& [a, b] : problem_.exclusive) {
    if (contains(node.in, a)) open &= ~only(b);
    if (contains(node.in, b)) open &= ~only(a);
  }
  for (int j = 0; j < problem_.problem.n(); ++j) {
    if (contains(open, j) && most(j, node, limits) < problem_.moves[at(j)].least) open &= ~only(j);
  }
  return open;
}

double AmountsSolver::unpaid(int move,
                             const ChoiceNode& node,
                             const PlanLimits& limits,
                             double amount) const {
  return problem_.moves[at(move)].fixed * (1 - amount / most(move, node, limits));
}

double AmountsSolver::unpaid_work(int work,
                                  const ChoiceNode& node,
                                  const PlanLimits& limits,
                                  const std::vector<double>& x) const {
  if (contains(begun(node), work)) return 0;
  const MoveSet open = sharing(work) & node.open;
  double asked = 0;
  bool used = false;
  for (int j = 0; j < problem_.problem.n(); ++j) {
    if (!contains(open, j)) continue;
    used = used || is_used(j, x[at(j)]);
    asked += x[at(j)] / most(j, node, limits) / count(open);
  }
  return used ? problem_.shared[at(work)].cost * (1 - asked) : 0;
}

bool AmountsSolver::is_used(int move, double amount) const {
  return amount > kNone * problem_.problem.variables[at(move)].scale;
}

AmountsSolver::Posed AmountsSolver::pose(const ChoiceNode& node,
                                         const PlanLimits& limits,
                                         const std::vector<double>& start) const {
  Posed posed;
  posed.problem = problem_.problem;
  const int n = posed.problem.n(), m = posed.problem.m();
  std::vector<double> costs(at(n), 0.0), shares(at(n), 0.0);
  const MoveSet paid = begun(node);
  posed.paid = fixed_cost(node.in, paid);
  posed.cost_scale = 0;
  for (int j = 0; j < n; ++j) {
    Variable& v = posed.problem.variables[at(j)];
    const ChoiceMove& move = problem_.moves[at(j)];
    // An open move may have become too dear since its node was born: its share of cost and of the
    // count would be of nothing.
    const double most_now = most(j, node, limits);
    const bool in = contains(node.in, j), open = contains(node.open, j) && most_now > 0;
    v.lower = in ? move.least : 0;
    v.upper = in || open ? std::max(v.lower, most_now) : 0;
    v.start = std::clamp(start[at(j)], v.lower, v.upper);
    if (!in && !open) continue;
    double fixed = in ? 0 : move.fixed;
    for (std::size_t w = 0; w < sharing_.size() && !in; ++w) {
      if (contains(sharing_[w], j) && !contains(paid, static_cast<int>(w)))
        fixed += problem_.shared[w].cost / count(sharing_[w] & node.open);
    }
    costs[at(j)] = move.per_unit + fixed / v.upper;
    shares[at(j)] = in ? 0 : 1 / v.upper;
    posed.cost_scale = std::max(posed.cost_scale, costs[at(j)] * std::min(v.scale, v.upper));
  }
  if (!(posed.cost_scale > 0)) posed.cost_scale = 1;
  for (Output& o : posed.problem.outputs) {
    if (o.level == Level::habit) o.lo = -kInfinity, o.hi = kInfinity;
  }
  const int left = limits.moves - count(node.in);
  posed.problem.outputs.push_back({"cost", -kInfinity, 0, posed.cost_scale, Level::habit});
  posed.problem.outputs.push_back(
      {"cost limit", -kInfinity, limits.cost - posed.paid, kRigid * cost_unit_, Level::must});
  posed.problem.outputs.push_back(
      {"moves limit", -kInfinity, left < count(node.open) ? left : kInfinity, kRigid, Level::must});
  auto function = std::make_shared<WithRows>(problem_.problem.function, n, m);
  function->add(costs);
  function->add(std::move(costs));
  function->add(std::move(shares));
  posed.problem.function = std::move(function);
  return posed;
}

SolveOptions AmountsSolver::options(int starts) const {
  return {.starts = starts,
          .opener = Opener::none,
          .most_iterations = most_steps(curvature_),
          .curvature = curvature_};
}

Amounts AmountsSolver::solved(const Posed& posed, int starts) const {
  Outcome outcome = solve(posed.problem, options(starts));
  Amounts amounts;
  amounts.solves = 1;
  amounts.status = outcome.status;
  if (outcome.status == Status::not_finite) return amounts;
  const std::size_t m = at(problem_.problem.m());
  amounts.finite = true;
  amounts.cost = posed.paid + outcome.g[m];
  amounts.totals = totals_of(problem_.problem, outcome.g);
  amounts.x = std::move(outcome.x);
  outcome.pull.resize(m);
  amounts.pull = std::move(outcome.pull);
  amounts.bound_pull = std::move(outcome.bound_pull);
  return amounts;
}

Amounts AmountsSolver::least_missed(const ChoiceNode& node,
                                    const PlanLimits& limits,
                                    const std::vector<double>& start,
                                    int starts) const {
  return solved(pose(node, limits, start), starts);
}

Amounts AmountsSolver::answer(MoveSet used, const std::vector<double>& start, int starts) const {
  const ChoiceNode node{used, 0};
  Amounts amounts = least_missed(node, {}, start, starts);
  if (!amounts.finite) return amounts;
  for (int l = 0; l < static_cast<int>(Level::habit); ++l) {
    if (amounts.totals[at(l)] <= kHolds) continue;
    // Cost weighs next to nothing beside a miss: with each output held where it got, it shows.
    Posed held = pose(node, {}, amounts.x);
    const Outcome got = evaluate(problem_.problem, amounts.x);
    for (int i = 0; i < problem_.problem.m(); ++i) {
      Output& o = held.problem.outputs[at(i)];
      if (o.level == Level::habit) continue;
      o.level = Level::must;
      o.shape = Shape::absolute;
      o.lo = std::min(o.lo, got.g[at(i)]);
      o.hi = std::max(o.hi, got.g[at(i)]);
    }
    held.cost().tolerance *= kFine;
    const Amounts cheaper = solved(held, 1);
    ++amounts.solves;
    const auto no_worse = [&] {
      for (int k = 0; k < static_cast<int>(Level::habit); ++k) {
        if (cheaper.totals[at(k)] > amounts.totals[at(k)] + kHolds) return false;
      }
      return true;
    };
    if (cheaper.finite && cheaper.cost < amounts.cost && no_worse()) {
      amounts.x = cheaper.x;
      amounts.totals = cheaper.totals;
      amounts.cost = cheaper.cost;
    }
    break;
  }
  return amounts;
}

Amounts AmountsSolver::cheapest(const ChoiceNode& node,
                                const PlanLimits& limits,
                                const Reached& reached,
                                double enough,
                                const std::vector<double>& start,
                                MissPrices& prices) const {
  Posed posed = pose(node, limits, start);
  const double felt = kFine * posed.cost_scale;
  const std::size_t m = at(problem_.problem.m());
  posed.cost().tolerance = felt;
  posed.problem.outputs[m + 1].hi = kInfinity;
  std::array<bool, kLevels> priced{};
  for (int l = 0; l < static_cast<int>(Level::habit); ++l)
    priced[at(l)] = reached.best[at(l)] > reached.slack;
  for (std::size_t i = 0; i < m; ++i) {
    Output& o = posed.problem.outputs[i];
    const std::size_t level = at(static_cast<int>(o.level));
    if (o.level == Level::habit || priced[level]) continue;
    // The total is within `room`, so each output is.
    const double room = reached.best[level] + reached.slack;
    const double wider = o.tolerance * (o.shape == Shape::absolute ? room : std::sqrt(2 * room));
    o.lo -= wider;
    o.hi += wider;
    o.level = Level::must;
    o.shape = Shape::absolute;
  }
  // For any prices p >= 0 and x that reaches: cost(x) >= cost(x) + sum p (total(x) - best - slack).
  Amounts best;
  int solves = 0;
  std::array<PriceSearch, kLevels> searches;
  for (int tried = 0; tried < kPriceTrials; ++tried) {
    for (std::size_t i = 0; i < m; ++i) {
      const Output& o = problem_.problem.outputs[i];
      const std::size_t level = at(static_cast<int>(o.level));
      if (o.level == Level::habit || !priced[level]) continue;
      const double weight = prices[level] / felt;
      posed.problem.outputs[i].level = Level::habit;
      posed.problem.outputs[i].tolerance =
          o.tolerance / (o.shape == Shape::absolute ? weight : std::sqrt(weight));
    }
    Outcome outcome = solve(posed.problem, options(1));
    ++solves;
    if (outcome.status == Status::not_finite) break;
    Amounts amounts;
    amounts.finite = true;
    amounts.status = outcome.status;
    amounts.totals = totals_of(problem_.problem, outcome.g);
    amounts.cost = posed.paid + outcome.g[m];
    amounts.bound = amounts.cost;
    MissPrices next = prices;
    for (int l = 0; l < static_cast<int>(Level::habit); ++l) {
      if (!priced[at(l)]) continue;
      const double over = amounts.totals[at(l)] - reached.best[at(l)] - reached.slack;
      amounts.bound += prices[at(l)] * over;
      next[at(l)] = searches[at(l)].next(prices[at(l)], over);
    }
    if (outcome.total[at(static_cast<int>(Level::must))] > kHolds) amounts.bound = kInfinity;
    amounts.x = std::move(outcome.x);
    if (!best.finite || amounts.bound > best.bound) best = std::move(amounts);
    if (best.bound >= enough || next == prices) break;
    prices = next;
    for (std::size_t j = 0; j < best.x.size(); ++j) posed.problem.variables[j].start = best.x[j];
  }
  best.solves = solves;
  return best;
}

}  // namespace easewright::solver
