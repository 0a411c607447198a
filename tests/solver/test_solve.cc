// The driver at its edges: empty and fixed problems, functions that are not finite, levels,
// standings, rank, determinism.

#include "posing.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <cmath>
#include <cstring>
#include <functional>
#include <random>

using namespace easewright;
using namespace easewright::solver;
using tests::pose;
using tests::rule;
using tests::within;

namespace {

bool same_bytes(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() &&
         (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0);
}

}  // namespace

TEST_CASE("a problem without variables or outputs is settled as it stands") {
  const Outcome nothing = solve(Problem{});
  CHECK(nothing.status == Status::settled);
  CHECK(nothing.x.empty());

  const Outcome free = solve(pose({within(0, 1, 0.3), within(-1, 1, 5)}, {}, {}));
  CHECK(free.status == Status::settled);
  CHECK(free.x ==
        std::vector<double>{0.3, 1});  // a start outside its bounds begins at the nearest one
  CHECK(free.rank == 1);
  CHECK(free.undecided == std::vector<int>{0});

  const Outcome constant = solve(pose({}, {rule(2, 3, Level::should)}, {"1"}));
  CHECK(constant.status == Status::settled);
  CHECK_THAT(constant.miss[0], WithinAbs(-1, 1e-15));
  CHECK(constant.standing[0] == Standing::below);
}

TEST_CASE("variables with equal bounds stay where they are") {
  const Problem p =
      pose({within(2, 2, 2), within(-5, 5, 0)}, {rule(7, 7, Level::must)}, {"x[0]+x[1]"});
  const Outcome outcome = solve(p);
  CHECK(outcome.x[0] == 2);
  CHECK_THAT(outcome.x[1], WithinAbs(5, 1e-9));
  CHECK(outcome.holds(p, Level::must));

  const Problem all = pose({within(2, 2, 2)}, {rule(0, 1, Level::must)}, {"x[0]"});
  const Outcome stuck = solve(all);
  CHECK(stuck.status == Status::settled);
  CHECK(is_missed(all, stuck, 0));
  CHECK_THAT(stuck.total[0], WithinAbs(1, 1e-15));
}

TEST_CASE("a function that is not finite at the start is a status") {
  for (const char* formula : {"log(x[0]-10)", "1/(x[0]-1)", "sqrt(x[0]-2)"}) {
    const Problem p = pose({within(0, 5, 1)}, {rule(0, 1, Level::must)}, {formula});
    for (const Opener opener : {Opener::none, Opener::ceres}) {
      const Outcome outcome = solve(p, {.opener = opener});
      INFO(formula);
      CHECK(outcome.status == Status::not_finite);
      CHECK(outcome.x == std::vector<double>{1});
      CHECK(outcome.standing.size() == 1);
      CHECK_FALSE(outcome.holds(p, Level::must));
    }
    CHECK(evaluate(p, {1}).status == Status::not_finite);
  }
}

TEST_CASE("a function that is not finite beyond an edge is approached from within") {
  // log x >= -3 with x wished at -1: x goes to exp(-3).
  const Problem p = pose({within(-5, 5, 2)},
                         {rule(-3, kInfinity, Level::must), rule(-1, -1, Level::wish)},
                         {"log(x[0])", "x[0]"});
  for (const Opener opener : {Opener::none, Opener::ceres}) {
    const Outcome outcome = solve(p, {.opener = opener});
    CHECK_THAT(outcome.x[0], WithinAbs(std::exp(-3), 1e-7));
    CHECK(outcome.status == Status::settled);
  }
}

TEST_CASE("slopes that are not finite at the start are a status") {
  class Kink final : public Function {
    void evaluate(const double* x, double* g, double* jacobian) const override {
      g[0] = std::sqrt(std::abs(x[0]));
      if (jacobian) jacobian[0] = 0.5 / std::sqrt(std::abs(x[0])) * (x[0] < 0 ? -1 : 1);
    }
  };
  Problem p;
  p.variables = {within(-1, 1, 0)};
  p.outputs = {rule(0.5, 1, Level::must)};
  p.function = std::make_shared<Kink>();
  CHECK(solve(p).status == Status::not_finite);
}

TEST_CASE("a lower level buys nothing at a higher level's cost") {
  // x >= 1 must, x <= 0 should, x <= -3 wish (twice): x = 1, whatever the numbers below.
  const Problem p = pose({within(-10, 10, 0)},
                         {rule(1, kInfinity, Level::must),
                          rule(-kInfinity, 0, Level::should, Shape::absolute, 0.01),
                          rule(-kInfinity, -3, Level::wish, Shape::absolute, 0.001),
                          rule(-kInfinity, -3, Level::wish, Shape::absolute, 0.001)},
                         {"x[0]", "x[0]", "x[0]", "x[0]"});
  const Outcome outcome = solve(p);
  CHECK(outcome.holds(p, Level::must));
  CHECK_THAT(outcome.x[0], WithinAbs(1, kHolds));
  CHECK_THAT(outcome.total[1], WithinAbs(100, 0.2));
}

TEST_CASE("an exchange rate of a thousand between levels is still refused") {
  // The should y <= 0 is missed by x / 1000, a rate at which the first weights would sell: 1 t of
  // should for 1000 of wish.
  const Problem p =
      pose({within(-10, 10, 0)},
           {rule(-kInfinity, 0, Level::should), rule(9, 9, Level::wish, Shape::absolute, 1)},
           {"x[0]/500", "x[0]"});
  const Outcome outcome = solve(p);
  CHECK_THAT(outcome.total[1], WithinAbs(0, kHolds));
  CHECK(outcome.x[0] <= 500 * kHolds);
}

TEST_CASE("a finished level keeps a slack of a thousandth, for what it buys below") {
  // 0.0004 t of should would buy 4 t of wish: a rule that holds to kHolds holds, so the wish is
  // met.
  const Problem p = pose({within(-10, 10, 0)},
                         {rule(-kInfinity, 0, Level::should), rule(4, 4, Level::wish)},
                         {"x[0]/10000", "x[0]"});
  const Outcome outcome = solve(p);
  CHECK(outcome.holds(p, Level::wish));
  CHECK_THAT(outcome.x[0], WithinAbs(4, 1e-6));
}

TEST_CASE("pulls balance and have the sense of the miss") {
  // x wished up to 5, must stay below 2: the wish pulls up with its weight, the must down with the
  // same.
  const Problem p = pose({within(-10, 10, 0)},
                         {rule(-kInfinity, 2, Level::must), rule(5, 5, Level::wish)},
                         {"x[0]", "x[0]"});
  const Outcome outcome = solve(p);
  CHECK_THAT(outcome.x[0], WithinAbs(2, 1e-9));
  CHECK_THAT(outcome.pull[1], WithinAbs(1, 1e-12));
  CHECK_THAT(outcome.pull[0], WithinAbs(-1, 1e-6));
  CHECK(outcome.standing[0] == Standing::at_upper);
  CHECK(outcome.standing[1] == Standing::below);
  CHECK(outcome.optimality <= 1e-5);
}

TEST_CASE("a bound pulls like a rule") {
  const Problem p = pose({within(-10, 2, 0)}, {rule(5, 5, Level::wish)}, {"x[0]"});
  const Outcome outcome = solve(p);
  CHECK(outcome.x[0] == 2);
  CHECK_THAT(outcome.bound_pull[0], WithinAbs(-1, 1e-6));
  CHECK(outcome.bound_standing[0] == Standing::at_upper);
}

TEST_CASE("rank counts what decides, and the rest is undecided") {
  // x0 + x1 = 3 decides a sum; habits place the split; x2 is at its bound; x3 is free but for its
  // habit.
  std::vector<Output> outputs = {rule(3, 3, Level::must), rule(9, 9, Level::wish)};
  std::vector<std::string> formulas = {"x[0]+x[1]", "x[2]"};
  for (int j = 0; j < 4; ++j) {
    outputs.push_back(rule(1, 1, Level::habit, Shape::squared));
    formulas.push_back("x[" + std::to_string(j) + "]");
  }
  const Outcome outcome = solve(pose(
      {within(-9, 9, 0), within(-9, 9, 0), within(0, 4, 0), within(-9, 9, 0)}, outputs, formulas));
  CHECK(outcome.rank == 2);
  CHECK(outcome.undecided == std::vector<int>{0, 1, 3});
  CHECK_THAT(outcome.x[0], WithinAbs(1.5, 1e-6));
  CHECK_THAT(outcome.x[1], WithinAbs(1.5, 1e-6));
  CHECK_THAT(outcome.x[2], WithinAbs(4, 1e-9));
  CHECK_THAT(outcome.x[3], WithinAbs(1, 1e-6));
}

TEST_CASE("dependent rules do not add to the rank") {
  const Outcome outcome = solve(pose({within(-9, 9, 0), within(-9, 9, 0)},
                                     {rule(1, 1, Level::must), rule(2, 2, Level::must)},
                                     {"x[0]+x[1]", "2*x[0]+2*x[1]"}));
  CHECK(outcome.rank == 1);
  CHECK(outcome.undecided == std::vector<int>{0, 1});
}

TEST_CASE("further starts are tried only when something above habit is missed") {
  const Problem held = pose({within(-9, 9, 0)},
                            {rule(1, 2, Level::must), rule(0, 0, Level::habit, Shape::squared)},
                            {"x[0]", "x[0]"});
  CHECK(solve(held).starts_tried == 1);
  const Problem missed = pose(
      {within(-9, 9, 0)}, {rule(1, 2, Level::must), rule(0, 0, Level::wish)}, {"x[0]", "x[0]"});
  const Outcome outcome = solve(missed, {.starts = 5});
  CHECK(outcome.starts_tried == 5);
  CHECK(outcome.starts_agreed == 5);
}

TEST_CASE("a further start finds the better of two valleys") {
  // (x^2 - 1)^2 / 2 + (x + 1)^2 / 8 is 0 at -1 and has another valley near 1, where the start lies.
  const Problem p =
      pose({within(-3, 3, 1.2)},
           {rule(0, 0, Level::wish, Shape::squared), rule(0, 0, Level::wish, Shape::squared)},
           {"x[0]**2-1", "0.5*(x[0]+1)"});
  const Outcome one = solve(p, {.starts = 1, .opener = Opener::none});
  const Outcome many = solve(p, {.starts = 6, .opener = Opener::none});
  const double x = one.x[0];
  CHECK(x > 0);
  CHECK_THAT(2 * x * (x * x - 1) + (x + 1) / 4, WithinAbs(0, 1e-5));
  CHECK_THAT(many.x[0], WithinAbs(-1, 1e-5));
  CHECK(many.starts_agreed < many.starts_tried);
}

TEST_CASE("too few steps is a status") {
  const Problem p = pose({within(-900, 900, 400)}, {rule(0, 0, Level::must)}, {"x[0]**3+x[0]"});
  const Outcome outcome = solve(p, {.starts = 1, .opener = Opener::none, .most_iterations = 2});
  CHECK(outcome.status == Status::out_of_steps);
  CHECK(solve(p, {.starts = 1, .opener = Opener::none}).status == Status::settled);
}

TEST_CASE("a gradient that vanishes away from the goal is settled, and missed") {
  const Problem p = pose({within(-9, 9, 0)}, {rule(-1, -1, Level::must)}, {"x[0]**2"});
  const Outcome outcome = solve(p);
  CHECK(outcome.status == Status::settled);
  CHECK(is_missed(p, outcome, 0));
  CHECK_THAT(outcome.miss[0], WithinAbs(1, 1e-9));
}

TEST_CASE("evaluate reports a point as it is, outside its bounds too") {
  const Problem p = pose({within(0, 1, 0), within(0, 0, 0)},
                         {rule(0, 1, Level::must), rule(0, 4, Level::wish, Shape::squared, 0.5)},
                         {"x[0]+x[1]", "2*x[0]"});
  const Outcome outcome = evaluate(p, {3, 1});
  CHECK(outcome.x == std::vector<double>{3, 1});
  CHECK(outcome.g == std::vector<double>{4, 6});
  CHECK(outcome.miss == std::vector<double>{3, 2});
  CHECK_THAT(outcome.total[0], WithinAbs(3, 1e-15));
  CHECK_THAT(outcome.total[2], WithinAbs(8, 1e-15));  // (2 / 0.5)^2 / 2
  CHECK(outcome.bound_standing[0] == Standing::above);
  CHECK(outcome.pull == std::vector<double>{0, 0});
}

TEST_CASE("the order of the rules does not matter") {
  std::mt19937 random(7);
  const std::vector<Output> outputs = {rule(3, 4, Level::must),
                                       rule(-kInfinity, 1, Level::should),
                                       rule(2, 2, Level::wish),
                                       rule(0, 0, Level::habit, Shape::squared),
                                       rule(0, 0, Level::habit, Shape::squared)};
  const std::vector<std::string> formulas = {
      "x[0]+x[1]**2", "x[0]-x[1]", "x[0]*x[1]", "x[0]", "x[1]"};
  const std::vector<Variable> variables = {within(-5, 5, 1), within(-5, 5, 1)};
  const Outcome first = solve(pose(variables, outputs, formulas));
  std::vector<std::size_t> order = {0, 1, 2, 3, 4};
  for (int round = 0; round < 10; ++round) {
    std::shuffle(order.begin(), order.end(), random);
    std::vector<Output> shuffled;
    std::vector<std::string> texts;
    for (const std::size_t k : order) {
      shuffled.push_back(outputs[k]);
      texts.push_back(formulas[k]);
    }
    const Outcome outcome = solve(pose(variables, shuffled, texts));
    INFO("seed 7, round " << round);
    for (std::size_t j = 0; j < 2; ++j) CHECK_THAT(outcome.x[j], WithinAbs(first.x[j], 1e-5));
  }
}

TEST_CASE("the same problem gives the same bytes") {
  const Problem p = pose({within(-5, 5, 1), within(-5, 5, 1), within(-5, 5, 0)},
                         {rule(3, 3, Level::must),
                          rule(2, 2.5, Level::should),
                          rule(7, 7, Level::wish),
                          rule(0, 0, Level::habit, Shape::squared)},
                         {"x[0]*x[1]+sin(x[2])", "x[0]-x[2]", "exp(x[1])+x[2]", "x[2]"});
  const Outcome a = solve(p);
  const Outcome b = solve(p);
  CHECK(same_bytes(a.x, b.x));
  CHECK(same_bytes(a.g, b.g));
  CHECK(same_bytes(a.pull, b.pull));
  CHECK(a.iterations == b.iterations);
  CHECK(a.evaluations == b.evaluations);
}
