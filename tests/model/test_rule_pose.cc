// The shipped rules posed on a body: finite everywhere inside the limits of the draft values, with
// a Jacobian that agrees with differences.

#include "cli/read/catalogue.h"
#include "model/fit.h"
#include "model/pose.h"
#include "tests/catch.h"
#include "tests/model/sample.h"

#include <cmath>
#include <random>
#include <string>
#include <vector>

namespace easewright {
namespace {

const Catalogue& shipped() {
  static const Catalogue catalogue = [] {
    Complaints complaints;
    auto read = read_catalogue(std::string(EASEWRIGHT_SOURCE_DIR) + "/data", complaints);
    REQUIRE(read);
    return *read;
  }();
  return catalogue;
}

/// The default garment and one for each switch that stands elsewhere.
std::vector<Switches> garments() {
  std::vector<Switches> all(1);
  for (int i = 0; i < kSwitches; ++i) {
    const auto which = static_cast<Switch>(i);
    for (const std::string& option : info(which).options) {
      Switches switches;
      switches.set(which, option);
      if (!switches.is(which, info(which).options.front())) all.push_back(switches);
    }
  }
  return all;
}

std::vector<double> random_draft(const solver::Problem& problem, std::mt19937& random) {
  std::vector<double> x;
  for (const solver::Variable& v : problem.variables) {
    // Ends as well as what lies between them.
    const double share = random() % 4 == 0 ? static_cast<double>(random() % 2)
                                           : static_cast<double>(random() % 1000) / 999;
    x.push_back(v.lower + share * (v.upper - v.lower));
  }
  return x;
}

}  // namespace

TEST_CASE("every rule is finite at any draft inside the limits, and so is its slope") {
  constexpr unsigned kSeed = 31415;
  INFO("seed " << kSeed);
  std::mt19937 random(kSeed);
  const Job job;
  for (const Switches& switches : garments()) {
    const auto posed = pose(job, shipped(), tests::sample_body(), switches);
    const solver::Problem& problem = posed->problem;
    std::vector<double> g(static_cast<size_t>(problem.m()));
    std::vector<double> jacobian(g.size() * problem.variables.size());
    std::vector<std::string> bad;
    for (int draw = 0; draw < 40; ++draw) {
      const auto x = random_draft(problem, random);
      problem.function->evaluate(x.data(), g.data(), jacobian.data());
      for (size_t i = 0; i < g.size(); ++i) {
        bool finite = std::isfinite(g[i]);
        for (size_t j = 0; j < x.size(); ++j) {
          finite = finite && std::isfinite(jacobian[i * x.size() + j]);
        }
        if (!finite) bad.push_back(problem.outputs[i].name);
      }
    }
    CHECK(problem.m() > 60);
    CHECK(bad == std::vector<std::string>());
  }
}

TEST_CASE("the slope of every rule agrees with differences, at the habits") {
  const Job job;
  for (const Switches& switches : garments()) {
    const auto posed = pose(job, shipped(), tests::sample_body(), switches);
    const solver::Problem& problem = posed->problem;
    const size_t n = problem.variables.size(), m = problem.outputs.size();
    std::vector<double> x, g(m), up(m), down(m), jacobian(m * n);
    std::vector<std::string> bad;
    for (const solver::Variable& v : problem.variables) x.push_back(v.start);
    problem.function->evaluate(x.data(), g.data(), jacobian.data());
    for (size_t j = 0; j < n; ++j) {
      const double h = 1e-4 * problem.variables[j].scale, at = x[j];
      x[j] = at + h;
      problem.function->evaluate(x.data(), up.data(), nullptr);
      x[j] = at - h;
      problem.function->evaluate(x.data(), down.data(), nullptr);
      x[j] = at;
      for (size_t i = 0; i < m; ++i) {
        const double numeric = (up[i] - down[i]) / (2 * h), exact = jacobian[i * n + j];
        // Corners are rounded over 1e-3, so a difference over 1e-4 errs by its square.
        if (std::abs(exact - numeric) > 2e-3 * (1 + std::abs(numeric))) {
          bad.push_back(problem.outputs[i].name + " by " + problem.variables[j].name);
        }
      }
    }
    CHECK(bad == std::vector<std::string>());
  }
}

}  // namespace easewright
