// Choices of moves, held against every one of the 2^k subsets solved by itself, against textbook
// problems of known optimum, and against small ones worked out by hand.

#include "posing.h"
#include "random_choice.h"
#include "solver/choice.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <random>

using namespace easewright;
using namespace easewright::solver;
using tests::pose;
using tests::random_choice;
using tests::RandomChoice;
using tests::rule;
using tests::within;

namespace {

constexpr unsigned kSeed = 20;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// A function with the moves' cost as one more output.
class Costed final : public Function {
 public:
  Costed(std::shared_ptr<const Function> inner, std::vector<double> costs, int m)
      : inner_(std::move(inner)), costs_(std::move(costs)), m_(m) {}
  void evaluate(const double* x, double* g, double* jacobian) const override {
    inner_->evaluate(x, g, jacobian);
    g[m_] = 0;
    for (std::size_t j = 0; j < costs_.size(); ++j) {
      g[m_] += costs_[j] * x[j];
      if (jacobian) jacobian[at(m_) * costs_.size() + j] = costs_[j];
    }
  }

 private:
  std::shared_ptr<const Function> inner_;
  std::vector<double> costs_;
  int m_;
};

struct Subset {
  unsigned used = 0;
  std::array<double, kLevels> total{};
  double cost = 0;
};

bool uses(unsigned set, int j) { return (set >> j & 1U) != 0; }

bool is_allowed(const ChoiceProblem& p, unsigned set) {
  return std::none_of(p.exclusive.begin(), p.exclusive.end(), [set](const auto& pair) {
    return uses(set, pair.first) && uses(set, pair.second);
  });
}

double shared_cost(const ChoiceProblem& p, unsigned used) {
  double sum = 0;
  for (const SharedWork& work : p.shared) {
    const bool done =
        std::any_of(work.moves.begin(), work.moves.end(), [used](int j) { return uses(used, j); });
    if (done) sum += work.cost;
  }
  return sum;
}

/// A subset solved cold, with costs as its only habit.
Subset solve_subset(const ChoiceProblem& p, unsigned used) {
  std::vector<double> costs;
  for (const ChoiceMove& move : p.moves) costs.push_back(move.per_unit);
  Problem q = p.problem;
  Subset subset;
  subset.used = used;
  for (int j = 0; j < q.n(); ++j) {
    Variable& v = q.variables[at(j)];
    v.lower = v.start = uses(used, j) ? p.moves[at(j)].least : 0;
    if (!uses(used, j)) v.upper = 0;
    if (uses(used, j)) subset.cost += p.moves[at(j)].fixed;
  }
  q.function = std::make_shared<Costed>(q.function, costs, q.m());
  q.outputs.push_back(rule(-kInfinity, 0, Level::habit, Shape::absolute, 10));
  const Outcome outcome = solve(q, {.starts = 10, .opener = Opener::none});
  subset.total = outcome.total;
  subset.cost += shared_cost(p, used) + outcome.g.back();
  return subset;
}

std::vector<Subset> all_subsets(const ChoiceProblem& p) {
  std::vector<Subset> all;
  for (unsigned used = 0; used < 1U << p.problem.n(); ++used) {
    if (is_allowed(p, used)) all.push_back(solve_subset(p, used));
  }
  return all;
}

bool misses_less(const Subset& a, const Subset& b) {
  for (std::size_t l = 0; l < 3; ++l) {
    if (std::abs(a.total[l] - b.total[l]) > kHolds) return a.total[l] < b.total[l];
  }
  return false;
}

/// What choice.h promises, read off the list of all subsets.
std::vector<Subset> expected_plans(const std::vector<Subset>& all, const ChoiceOptions& options) {
  std::vector<Subset> chosen;
  int most = 99;
  double dearest = kInfinity;
  while (static_cast<int>(chosen.size()) < options.plans) {
    std::vector<Subset> eligible;
    std::copy_if(all.begin(), all.end(), std::back_inserter(eligible), [&](const Subset& s) {
      return std::popcount(s.used) <= most && s.cost < dearest - 1e-3;
    });
    if (eligible.empty()) break;
    const Subset best = *std::min_element(eligible.begin(), eligible.end(), misses_less);
    std::erase_if(eligible, [&](const Subset& s) {
      for (std::size_t l = 0; l < 3; ++l) {
        if (s.total[l] > best.total[l] + options.slack) return true;
      }
      return false;
    });
    const auto cheaper = [](const Subset& a, const Subset& b) { return a.cost < b.cost; };
    chosen.push_back(*std::min_element(eligible.begin(), eligible.end(), cheaper));
    if (chosen.back().used == 0) break;
    most = std::popcount(chosen.back().used) - 1;
    dearest = chosen.back().cost;
  }
  return chosen;
}

unsigned bits(const std::vector<int>& moves) {
  unsigned set = 0;
  for (const int j : moves) set |= 1U << j;
  return set;
}

bool agrees(const Choice& choice, const std::vector<Subset>& expected) {
  if (choice.plans.size() != expected.size()) return false;
  for (std::size_t k = 0; k < expected.size(); ++k) {
    const ChoicePlan& plan = choice.plans[k];
    if (bits(plan.used) != expected[k].used) return false;
    if (std::abs(plan.cost - expected[k].cost) > 0.05) return false;
    for (std::size_t l = 0; l < 3; ++l) {
      if (std::abs(plan.outcome.total[l] - expected[k].total[l]) > 2 * kHolds) return false;
    }
  }
  return true;
}

/// Whether the first plan is no worse than the enumeration's: another start may have found better.
bool is_no_worse(const Choice& choice, const std::vector<Subset>& expected) {
  const ChoicePlan& plan = choice.plans.front();
  for (std::size_t l = 0; l < 3; ++l) {
    const double more = plan.outcome.total[l] - expected.front().total[l];
    if (std::abs(more) > ChoiceOptions{}.slack + kHolds) return more < 0;
  }
  return plan.cost < expected.front().cost + 0.05;
}

std::string spelled(unsigned used, double cost, const std::array<double, kLevels>& total) {
  std::string text = " " + std::to_string(used) + " for " + std::to_string(cost) + " leaves";
  for (std::size_t l = 0; l < 3; ++l) text += " " + std::to_string(total[l]);
  return text + ";";
}

std::string spelled(const Choice& choice, const std::vector<Subset>& expected) {
  std::string text;
  for (const ChoicePlan& plan : choice.plans)
    text += spelled(bits(plan.used), plan.cost, plan.outcome.total);
  text += " enumerated:";
  for (const Subset& s : expected) text += spelled(s.used, s.cost, s.total);
  return text;
}

/// What has to be so of any answer, whether the best or not.
void check_claims(const ChoiceProblem& p, const Choice& choice) {
  REQUIRE_FALSE(choice.plans.empty());
  for (std::size_t k = 0; k < choice.plans.size(); ++k) {
    const ChoicePlan& plan = choice.plans[k];
    CHECK(is_allowed(p, bits(plan.used)));
    double cost = shared_cost(p, bits(plan.used));
    for (int j = 0; j < p.problem.n(); ++j) {
      const double amount = plan.amounts[at(j)];
      if (!uses(bits(plan.used), j)) {
        CHECK(amount == 0);
        continue;
      }
      CHECK(amount >= p.moves[at(j)].least);
      CHECK(amount <= p.problem.variables[at(j)].upper);
      cost += p.moves[at(j)].fixed + p.moves[at(j)].per_unit * amount;
    }
    CHECK_THAT(plan.cost, WithinAbs(cost, 1e-9 * (1 + cost)));
    CHECK(plan.outcome.total == evaluate(p.problem, plan.amounts).total);
    if (k == 0) continue;
    CHECK(plan.used.size() < choice.plans[k - 1].used.size());
    CHECK(plan.cost < choice.plans[k - 1].cost);
  }
}

/// Moves of one size: done or not.
ChoiceProblem yes_or_no(const std::vector<double>& costs,
                        std::vector<Output> outputs,
                        const std::vector<std::string>& formulas) {
  ChoiceProblem p;
  std::vector<Variable> variables(costs.size(), within(0, 1, 0));
  p.problem = pose(variables, std::move(outputs), formulas);
  for (const double cost : costs) p.moves.push_back({cost, 0, 1});
  return p;
}

Output at_least(double lo, Level level = Level::must) { return rule(lo, kInfinity, level); }

}  // namespace

TEST_CASE("plans are those of an enumeration of all subsets: linear moves") {
  std::mt19937 random(kSeed);
  for (int round = 0; round < 80; ++round) {
    INFO("seed " << kSeed << ", round " << round);
    const RandomChoice kind{.moves = 4 + round % 5, .outputs = 6 + round % 7};
    const ChoiceProblem p = random_choice(kind, random);
    const Choice choice = choose(p);
    const std::vector<Subset> expected = expected_plans(all_subsets(p), {});
    INFO(spelled(choice, expected));
    CHECK(agrees(choice, expected));
    CHECK(choice.proved);
    check_claims(p, choice);
  }
}

TEST_CASE("plans are those of an enumeration of all subsets: moves that bend") {
  std::mt19937 random(kSeed + 1);
  for (int round = 0; round < 60; ++round) {
    INFO("seed " << kSeed + 1 << ", round " << round);
    const RandomChoice kind{.moves = 4 + round % 5, .outputs = 6 + round % 7, .bend = 0.05};
    const ChoiceProblem p = random_choice(kind, random);
    const Choice choice = choose(p);
    const std::vector<Subset> expected = expected_plans(all_subsets(p), {});
    INFO(spelled(choice, expected));
    CHECK(agrees(choice, expected));
    CHECK(choice.proved);
    check_claims(p, choice);
  }
}

TEST_CASE("plans are those of an enumeration of all subsets: ten and twelve moves") {
  std::mt19937 random(kSeed + 2);
  for (int round = 0; round < 12; ++round) {
    INFO("seed " << kSeed + 2 << ", round " << round);
    const RandomChoice kind{
        .moves = round < 9 ? 10 : 12, .outputs = 14, .bend = round % 2 ? 0.02 : 0};
    const ChoiceProblem p = random_choice(kind, random);
    const Choice choice = choose(p);
    const std::vector<Subset> expected = expected_plans(all_subsets(p), {});
    INFO(spelled(choice, expected));
    CHECK(agrees(choice, expected));
    CHECK(choice.proved);
    check_claims(p, choice);
  }
}

TEST_CASE("where moves bend much, each subset is solved and none is better") {
  // Several tolerances of curvature over several turns: ten of a thousand were dearer than the
  // enumeration as long as a relaxation's local answer was taken for a bound.
  std::mt19937 random(kSeed + 3);
  for (int round = 0; round < 60; ++round) {
    INFO("seed " << kSeed + 3 << ", round " << round);
    const ChoiceProblem p =
        random_choice({.moves = 5 + round % 4, .outputs = 9, .bend = 0.3}, random);
    const Choice choice = choose(p);
    check_claims(p, choice);
    CHECK_FALSE(choice.straight);
    CHECK(choice.exact);
    const std::vector<Subset> expected = expected_plans(all_subsets(p), {});
    INFO(spelled(choice, expected));
    CHECK(is_no_worse(choice, expected));
  }
}

TEST_CASE("eleven moves that bend are too many to solve each subset, and that is said") {
  std::mt19937 random(kSeed + 6);
  const ChoiceProblem p = random_choice({.moves = 11, .outputs = 12, .bend = 0.3}, random);
  const Choice choice = choose(p);
  check_claims(p, choice);
  CHECK_FALSE(choice.exact);
}

TEST_CASE("plans are those of an enumeration of all subsets: work that moves share") {
  std::mt19937 random(kSeed + 5);
  for (int round = 0; round < 60; ++round) {
    INFO("seed " << kSeed + 5 << ", round " << round);
    const ChoiceProblem p = random_choice({.moves = 5 + round % 5,
                                           .outputs = 7 + round % 6,
                                           .shared = 1 + round % 3,
                                           .bend = round % 3 == 2 ? 0.05 : 0},
                                          random);
    const Choice choice = choose(p);
    check_claims(p, choice);
    const std::vector<Subset> expected = expected_plans(all_subsets(p), {});
    INFO(spelled(choice, expected));
    CHECK(agrees(choice, expected));
    CHECK(choice.exact);
  }
}

TEST_CASE("work that moves share is paid once") {
  // Both rules by the first two moves, 1 + 1 and 6 for what they share, or by the third for 9.
  ChoiceProblem p;
  p.problem = pose({within(0, 1, 0), within(0, 1, 0), within(0, 1, 0)},
                   {at_least(1), at_least(1)},
                   {"x[0]+x[2]", "x[1]+x[2]"});
  p.moves = {{1, 0, 0.1}, {1, 0, 0.1}, {9, 0, 0.1}};
  p.shared = {{6, {0, 1}}};
  const Choice choice = choose(p);
  REQUIRE(choice.plans.size() == 3);
  CHECK(choice.plans[0].used == std::vector<int>{0, 1});
  CHECK_THAT(choice.plans[0].cost, WithinAbs(8, 1e-9));
  CHECK_THAT(choice.plans[1].cost, WithinAbs(7, 1e-9));
  // Were it paid twice the third would be cheaper.
  p.shared.clear();
  p.moves = {{7, 0, 0.1}, {7, 0, 0.1}, {9, 0, 0.1}};
  CHECK(choose(p).plans.at(0).used == std::vector<int>{2});
}

TEST_CASE("set-ups of families: an order of products that share one") {
  // Closed form: k products of a family, set-up S for the family and s for each, against single
  // ones for a dearer f each. The family pays where S + k s < k f: 10 + 3k < 6k, from four on.
  for (const int k : {2, 3, 4, 5}) {
    ChoiceProblem p;
    std::vector<Variable> variables(at(2 * k), within(0, 1, 0));
    std::vector<Output> outputs;
    std::vector<std::string> formulas;
    p.shared = {{10, {}}};
    for (int j = 0; j < k; ++j) {
      p.shared[0].moves.push_back(j);
      outputs.push_back(at_least(1));
      formulas.push_back("x[" + std::to_string(j) + "]+x[" + std::to_string(j + k) + "]");
    }
    for (int j = 0; j < 2 * k; ++j) p.moves.push_back({j < k ? 3.0 : 6.0, 0, 1});
    p.problem = pose(variables, outputs, formulas);
    const Choice choice = choose(p, {.plans = 1});
    INFO(k);
    CHECK_THAT(choice.plans.at(0).cost, WithinAbs(std::min(10 + 3 * k, 6 * k), 1e-9));
    CHECK(choice.exact);
  }
}

TEST_CASE("an answer that says it is exact is the enumeration's") {
  std::mt19937 random(kSeed + 3);
  for (int round = 0; round < 160; ++round) {
    INFO("seed " << kSeed + 3 << ", round " << round);
    const double bend = std::array{0.0, 0.001, 0.1, 0.3}[at(round % 4)];
    const ChoiceProblem p =
        random_choice({.moves = 4 + round % 4, .outputs = 8, .bend = bend}, random);
    const Choice choice = choose(p);
    check_claims(p, choice);
    if (bend == 0) CHECK(choice.straight);
    if (bend > 0.2) CHECK_FALSE(choice.straight);
    CHECK(choice.exact);
    const std::vector<Subset> expected = expected_plans(all_subsets(p), {});
    INFO(spelled(choice, expected));
    CHECK((bend < 0.01 ? agrees(choice, expected) : is_no_worse(choice, expected)));
  }
}

TEST_CASE("a knapsack: what to leave out") {
  // Martello and Toth, Knapsack Problems (1990), example 2.2, from memory: 8 items, capacity 102,
  // optimum 280 of 331 with items 1 2 3 4 6. So what is left out weighs 110 at least and is worth
  // 51.
  const ChoiceProblem p =
      yes_or_no({15, 100, 90, 60, 40, 15, 10, 1},
                {at_least(110)},
                {"2*x[0]+20*x[1]+20*x[2]+30*x[3]+40*x[4]+30*x[5]+60*x[6]+10*x[7]"});
  const Choice choice = choose(p, {.plans = 1});
  REQUIRE(choice.plans.size() == 1);
  CHECK(choice.plans[0].used == std::vector<int>{4, 6, 7});
  CHECK_THAT(choice.plans[0].cost, WithinAbs(51, 1e-9));
}

TEST_CASE("a budget: investments to forgo") {
  // Winston, Operations Research: the Stockco example, from memory. Net values 16 22 12 8, outlays
  // 5 7 4 3, 14 to spend: the optimum is 42 without the first. 19 - 14 has to be saved.
  const ChoiceProblem p =
      yes_or_no({16, 22, 12, 8}, {at_least(5)}, {"5*x[0]+7*x[1]+4*x[2]+3*x[3]"});
  const Choice choice = choose(p, {.plans = 1});
  REQUIRE(choice.plans.size() == 1);
  CHECK(choice.plans[0].used == std::vector<int>{0});
  CHECK_THAT(choice.plans[0].cost, WithinAbs(58 - 42, 1e-9));
}

TEST_CASE("a set covering: fire stations") {
  // Winston, Operations Research: the Kilroy County example, from memory. Six cities, each to have
  // a station within 15 minutes; two are enough, in cities 2 and 4.
  const ChoiceProblem p =
      yes_or_no({1, 1, 1, 1, 1, 1},
                {at_least(1), at_least(1), at_least(1), at_least(1), at_least(1), at_least(1)},
                {"x[0]+x[1]",
                 "x[0]+x[1]+x[5]",
                 "x[2]+x[3]",
                 "x[2]+x[3]+x[4]",
                 "x[3]+x[4]+x[5]",
                 "x[1]+x[4]+x[5]"});
  const Choice choice = choose(p, {.plans = 3});
  REQUIRE(choice.plans.size() == 3);
  CHECK(choice.plans[0].used == std::vector<int>{1, 3});
  CHECK_THAT(choice.plans[0].cost, WithinAbs(2, 1e-9));
  // One station leaves three cities; none leaves six.
  CHECK(choice.plans[1].used.size() == 1);
  CHECK_THAT(choice.plans[1].outcome.total[0], WithinAbs(3, kHolds));
  CHECK(choice.plans[2].used.empty());
  CHECK_THAT(choice.plans[2].outcome.total[0], WithinAbs(6, kHolds));
}

TEST_CASE("lots: set-ups and what is kept in stock over twelve months") {
  // Wagner and Whitin, Management Science 5 (1958), their example, from memory: demands and set-up
  // costs of twelve months, a unit kept for a month costs 1; the least total is 864.
  const std::vector<double> demand = {69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56};
  const std::vector<double> set_up = {85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114};
  const int months = 12;
  ChoiceProblem p;
  std::vector<Variable> variables;
  std::vector<Output> outputs;
  std::vector<std::string> formulas;
  std::string made;
  double needed = 0, kept = 0, left = 0;
  for (const double d : demand) left += d;
  for (int t = 0; t < months; ++t) {
    // Made in month t, a unit lies until the last; what was asked for in month t did not.
    variables.push_back(within(0, left, 0, 10));
    p.moves.push_back({set_up[at(t)], static_cast<double>(months - 1 - t), 1});
    kept += demand[at(t)] * (months - 1 - t);
    needed += demand[at(t)];
    left -= demand[at(t)];
    made += (t ? "+x[" : "x[") + std::to_string(t) + "]";
    formulas.push_back(made);
    outputs.push_back(at_least(needed));
  }
  p.problem = pose(variables, outputs, formulas);
  const Choice choice = choose(p, {.plans = 1, .slack = 1e-3});
  REQUIRE(choice.plans.size() == 1);
  CHECK_THAT(choice.plans[0].cost - kept, WithinAbs(864, 0.1));
}

TEST_CASE("of two moves that exclude each other one is used") {
  // Both together would do, at 2 each; with one of them the dear third is needed.
  ChoiceProblem p;
  p.problem =
      pose({within(0, 1, 0), within(0, 1, 0), within(0, 1, 0)}, {at_least(2)}, {"x[0]+x[1]+x[2]"});
  p.moves = {{2, 0, 0.1}, {2.5, 0, 0.1}, {9, 0, 0.1}};
  CHECK(choose(p, {.plans = 1}).plans.at(0).used == std::vector<int>{0, 1});
  p.exclusive = {{1, 0}};
  const Choice choice = choose(p, {.plans = 2});
  REQUIRE(choice.plans.size() == 2);
  CHECK(choice.plans[0].used == std::vector<int>{0, 2});
  CHECK_THAT(choice.plans[0].cost, WithinAbs(11, 1e-9));
  // One move leaves 1 of 2, whichever it is: the cheapest.
  CHECK(choice.plans[1].used == std::vector<int>{0});
}

TEST_CASE("a used move is used by its least") {
  const auto with = [](double lo, double hi) {
    ChoiceProblem p;
    p.problem = pose({within(0, 2, 0)}, {rule(lo, hi, Level::should)}, {"x[0]"});
    p.moves = {{1, 1, 0.5}};
    return choose(p);
  };
  SECTION("more than is asked for") {
    const Choice choice = with(0.2, kInfinity);
    REQUIRE(choice.plans.size() == 2);
    CHECK_THAT(choice.plans[0].amounts[0], WithinAbs(0.5, 1e-6));
    CHECK_THAT(choice.plans[0].cost, WithinAbs(1.5, 1e-6));
    CHECK(choice.plans[1].used.empty());
  }
  SECTION("when it overshoots by less than it falls short") {
    const Choice choice = with(0.3, 0.4);
    CHECK(choice.plans[0].used == std::vector<int>{0});
    CHECK_THAT(choice.best[1], WithinAbs(0.1, kHolds));
  }
  SECTION("not when it overshoots by more") {
    const Choice choice = with(0.1, 0.2);
    REQUIRE(choice.plans.size() == 1);
    CHECK(choice.plans[0].used.empty());
    CHECK_THAT(choice.best[1], WithinAbs(0.1, kHolds));
  }
}

TEST_CASE("once the levels are met the amounts are the cheapest") {
  // x + y >= 2 and x <= 1.5: the first is cheaper a unit, so 1.5 and 0.5.
  ChoiceProblem p;
  p.problem = pose({within(0, 2, 0), within(0, 2, 0)},
                   {at_least(2), rule(-kInfinity, 1.5, Level::wish)},
                   {"x[0]+x[1]", "x[0]"});
  p.moves = {{1, 1, 0.1}, {1, 3, 0.1}};
  const Choice choice = choose(p, {.plans = 1});
  REQUIRE(choice.plans.at(0).used == std::vector<int>{0, 1});
  CHECK_THAT(choice.plans[0].amounts[0], WithinAbs(1.5, 0.02));
  CHECK_THAT(choice.plans[0].amounts[1], WithinAbs(0.5, 0.02));
  CHECK_THAT(choice.plans[0].cost, WithinAbs(5, 0.05));
}

TEST_CASE("a move that only harms is never used, not even for nothing") {
  ChoiceProblem p;
  p.problem = pose({within(0, 1, 0), within(0, 1, 0)},
                   {at_least(1), rule(-kInfinity, 0, Level::wish)},
                   {"x[0]-x[1]", "x[1]"});
  p.moves = {{5, 1, 0.1}, {0, 0, 0.1}};
  for (const ChoicePlan& plan : choose(p).plans) {
    CHECK(std::find(plan.used.begin(), plan.used.end(), 1) == plan.used.end());
    CHECK(plan.amounts[1] == 0);
  }
}

TEST_CASE("a must that no move meets is told by its total") {
  // 3 is asked for and 2 can be had; that must's miss doesn't keep the should from being met.
  ChoiceProblem p;
  p.problem = pose({within(0, 2, 0), within(0, 1, 0)},
                   {at_least(3), at_least(0.5, Level::should)},
                   {"x[0]", "x[1]"});
  p.moves = {{4, 0, 0.1}, {3, 0, 0.1}};
  const Choice choice = choose(p);
  CHECK_THAT(choice.best[0], WithinAbs(1, kHolds));
  CHECK_THAT(choice.best[1], WithinAbs(0, kHolds));
  CHECK_THAT(choice.nothing.total[0], WithinAbs(3, 1e-9));
  REQUIRE(choice.plans.size() == 3);
  CHECK(choice.plans[0].used == std::vector<int>{0, 1});
  CHECK_THAT(choice.plans[0].outcome.total[0], WithinAbs(1, kHolds));
  CHECK(choice.plans[1].used == std::vector<int>{0});
  CHECK(choice.plans[2].used.empty());
}

TEST_CASE("a shorter plan that is dearer isn't offered") {
  // One move that does all for 9 against two for 4 each: nothing shorter is cheaper but half of it.
  ChoiceProblem p;
  p.problem = pose({within(0, 1, 0), within(0, 1, 0), within(0, 1, 0)},
                   {at_least(1), at_least(1)},
                   {"x[0]+x[2]", "x[1]+x[2]"});
  p.moves = {{4, 0, 0.1}, {4, 0, 0.1}, {9, 0, 0.1}};
  const Choice choice = choose(p);
  REQUIRE(choice.plans.size() == 3);
  CHECK(choice.plans[0].used == std::vector<int>{0, 1});
  CHECK(choice.plans[1].used.size() == 1);
  CHECK_THAT(choice.plans[1].cost, WithinAbs(4, 1e-9));
  CHECK_THAT(choice.plans[1].outcome.total[0], WithinAbs(1, kHolds));
}

TEST_CASE("where nothing is missed nothing is done, and where no move is there") {
  ChoiceProblem p;
  p.problem = pose({within(0, 1, 0)}, {at_least(0)}, {"x[0]"});
  p.moves = {{1, 0, 0.1}};
  Choice choice = choose(p);
  REQUIRE(choice.plans.size() == 1);
  CHECK(choice.plans[0].used.empty());
  p.problem = pose({}, {at_least(1)}, {"0"});
  p.moves = {};
  choice = choose(p);
  REQUIRE(choice.plans.size() == 1);
  CHECK_THAT(choice.best[0], WithinAbs(1, 1e-9));
}

TEST_CASE("habits of the problem have no say") {
  ChoiceProblem p;
  p.problem = pose({within(0, 1, 0)}, {at_least(0.5), tests::habit(1, 1e-3)}, {"x[0]", "x[0]"});
  p.moves = {{1, 1, 0.1}};
  CHECK_THAT(choose(p).plans.at(0).amounts[0], WithinAbs(0.5, 0.01));
}

TEST_CASE("a function without a value somewhere costs no plan elsewhere") {
  // sqrt(0.5 - x0) ends at 0.5; 0.4 is enough.
  ChoiceProblem p;
  p.problem = pose({within(0, 1, 0), within(0, 1, 0)},
                   {at_least(0.4), at_least(0.3), at_least(0)},
                   {"x[0]", "x[1]", "sqrt(0.5-x[0])"});
  p.moves = {{1, 1, 0.1}, {1, 1, 0.1}};
  const Choice choice = choose(p, {.plans = 1});
  REQUIRE(choice.plans.size() == 1);
  CHECK(choice.plans[0].used == std::vector<int>{0, 1});
  CHECK(choice.plans[0].outcome.total[0] <= 0.01);
  p.problem = pose({within(0, 1, 0)}, {at_least(0)}, {"sqrt(x[0]-0.5)"});
  p.moves = {{1, 1, 0.1}};
  CHECK(choose(p).plans.empty());
}

TEST_CASE("sixteen moves that are alike don't keep it for ever") {
  // Any 6 of 16 do: one by one each of the 8,008 is as good as the next.
  ChoiceProblem p;
  std::string sum = "x[0]";
  for (int j = 1; j < 16; ++j) sum += "+x[" + std::to_string(j) + "]";
  p.problem = pose(std::vector<Variable>(16, within(0, 1, 0)), {at_least(5.5)}, {sum});
  p.moves.assign(16, {1, 1, 0.1});
  const Choice choice = choose(p, {.plans = 1, .most_nodes = 300});
  CHECK_FALSE(choice.proved);
  CHECK(choice.nodes < 320);
  REQUIRE(choice.plans.size() == 1);
  CHECK(choice.plans[0].used.size() == 6);
  CHECK_THAT(choice.plans[0].cost, WithinAbs(11.5, 0.02));
  check_claims(p, choice);
}

TEST_CASE("any number of threads gives the same bytes") {
  std::mt19937 random(kSeed + 4);
  for (int round = 0; round < 6; ++round) {
    INFO("seed " << kSeed + 4 << ", round " << round);
    const ChoiceProblem p = random_choice({.moves = 12, .outputs = 16, .bend = 0.1}, random);
    const Choice one = choose(p, {.threads = 1});
    for (const int threads : {1, 2, 3, 0}) {
      const Choice other = choose(p, {.threads = threads});
      CHECK(other.nodes == one.nodes);
      CHECK(other.solves == one.solves);
      REQUIRE(other.plans.size() == one.plans.size());
      for (std::size_t k = 0; k < one.plans.size(); ++k) {
        CHECK(other.plans[k].used == one.plans[k].used);
        CHECK(std::memcmp(other.plans[k].amounts.data(),
                          one.plans[k].amounts.data(),
                          sizeof(double) * one.plans[k].amounts.size()) == 0);
      }
    }
  }
}
