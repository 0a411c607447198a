#include "published.h"

#include "formula.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <stdexcept>

#include <nlohmann/json.hpp>

namespace easewright::tests {
namespace {

using nlohmann::json;
using solver::kInfinity;
using solver::Level;
using solver::Output;
using solver::Problem;
using solver::Shape;
using solver::Variable;

json read_all() {
  std::ifstream file(EASEWRIGHT_SOURCE_DIR "/tests/solver/test-problems.json");
  if (!file) throw std::runtime_error("tests/solver/test-problems.json is missing");
  return json::parse(file);
}

double limit(const json& value, double otherwise) {
  return value.is_null() ? otherwise : value.get<double>();
}

/// Published starts may lie outside the limits: they are moved to the nearest point within.
void add_variables(const json& entry, Problem& problem) {
  for (int j = 0; j < entry["n"].get<int>(); ++j) {
    const auto k = static_cast<std::size_t>(j);
    Variable v;
    v.name = "x[" + std::to_string(j) + "]";
    v.lower = limit(entry["lb"][k], -kInfinity);
    v.upper = limit(entry["ub"][k], kInfinity);
    v.start = std::clamp(entry["x0"][k].get<double>(), v.lower, v.upper);
    problem.variables.push_back(v);
  }
}

Output constraint(const json& entry) {
  Output o;
  o.name = entry.value("name", "");
  o.lo = limit(entry["lo"], -kInfinity);
  o.hi = limit(entry["hi"], kInfinity);
  return o;
}

Level level_named(const std::string& name) {
  if (name == "must") return Level::must;
  if (name == "should") return Level::should;
  if (name == "wish") return Level::wish;
  throw std::runtime_error("no level " + name);
}

}  // namespace

double PublishedOptimum::objective(const std::vector<double>& g) const {
  double f = constant;
  for (std::size_t i = static_cast<std::size_t>(constraints); i < g.size(); ++i)
    f += squares ? g[i] * g[i] : g[i];
  return f;
}

std::vector<PublishedOptimum> published_optima() {
  std::vector<PublishedOptimum> all;
  const json file = read_all();
  for (const json& entry : file["problems"]) {
    PublishedOptimum p;
    p.name = entry["name"];
    p.source = entry["source"];
    p.optimum = entry["fstar"];
    p.constant = entry.value("constant", 0.0);
    p.share = entry.value("f_tol", 1e-6);
    p.start_reaches = entry["start_reaches"].get<std::string>().rfind("no", 0) != 0;
    p.squares = entry.contains("residuals");
    add_variables(entry, p.problem);
    std::vector<std::string> formulas;
    for (const json& c : entry["constraints"]) {
      formulas.push_back(c["expr"]);
      p.problem.outputs.push_back(constraint(c));
    }
    p.constraints = static_cast<int>(formulas.size());
    if (p.squares) {
      for (const json& r : entry["residuals"]) {
        formulas.push_back(r);
        p.problem.outputs.push_back({"residual", 0, 0, 1, Level::wish, Shape::squared});
      }
    } else {
      // An interval far below the optimum: the miss is the objective less a constant. The tolerance
      // brings its size to about ten, so that exchange rates against the constraints are moderate.
      formulas.push_back(entry["objective"]);
      const double tolerance = std::max(1.0, std::abs(p.optimum) / 10);
      p.problem.outputs.push_back({"objective",
                                   -kInfinity,
                                   p.optimum - 10 * tolerance,
                                   tolerance,
                                   Level::wish,
                                   Shape::absolute});
    }
    p.problem.function = make_formulas(p.problem.n(), formulas);
    all.push_back(std::move(p));
  }
  return all;
}

std::vector<PublishedConflict> published_conflicts() {
  std::vector<PublishedConflict> all;
  const json file = read_all();
  for (const json& entry : file["infeasible"]) {
    PublishedConflict p;
    p.name = entry["name"];
    p.source = entry["source"];
    p.why = entry["why"];
    p.linear = entry["linear"];
    p.irreducible = entry["iis"].get<std::vector<std::vector<std::string>>>();
    p.single = entry["single_relaxations"].get<std::map<std::string, double>>();
    p.least_sum = entry["least_sum"];
    add_variables(entry, p.problem);
    std::vector<std::string> formulas;
    for (const json& c : entry["constraints"]) {
      formulas.push_back(c["expr"]);
      p.problem.outputs.push_back(constraint(c));
    }
    p.problem.function = make_formulas(p.problem.n(), formulas);
    all.push_back(std::move(p));
  }
  return all;
}

std::vector<PublishedLevels> published_levels() {
  std::vector<PublishedLevels> all;
  const json file = read_all();
  for (const json& entry : file["levels"]) {
    PublishedLevels p;
    p.name = entry["name"];
    p.source = entry["source"];
    p.why = entry["why"];
    p.x = entry["xstar"].get<std::vector<double>>();
    p.unique = entry["unique"];
    p.tangent = entry.contains("tangent");
    p.totals = entry["totals"].get<std::map<std::string, double>>();
    p.misses = entry["misses"].get<std::map<std::string, double>>();
    add_variables(entry, p.problem);
    std::vector<std::string> formulas;
    for (const json& o : entry["outputs"]) {
      formulas.push_back(o["expr"]);
      Output output = constraint(o);
      output.tolerance = o["tol"];
      output.level = level_named(o["level"]);
      output.shape = o["shape"] == "squared" ? Shape::squared : Shape::absolute;
      p.problem.outputs.push_back(output);
    }
    p.problem.function = make_formulas(p.problem.n(), formulas);
    all.push_back(std::move(p));
  }
  return all;
}

}  // namespace easewright::tests
