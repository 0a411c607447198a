#pragma once
// Small problems in few words, for the tests.

#include "formula.h"
#include "solver/member.h"
#include "solver/problem.h"

#include <string>
#include <vector>

namespace easewright::tests {

inline solver::Problem pose(std::vector<solver::Variable> variables,
                            std::vector<solver::Output> outputs,
                            const std::vector<std::string>& formulas) {
  solver::Problem p;
  p.variables = std::move(variables);
  p.outputs = std::move(outputs);
  p.function = make_formulas(p.n(), formulas);
  return p;
}

inline solver::Variable within(double lower, double upper, double start, double scale = 1) {
  return {"v", lower, upper, scale, start};
}

inline solver::Output rule(double lo,
                           double hi,
                           solver::Level level,
                           solver::Shape shape = solver::Shape::absolute,
                           double tolerance = 1) {
  return {"r", lo, hi, tolerance, level, shape};
}

inline solver::Output named(
    const std::string& name, double lo, double hi, solver::Level level, double tolerance = 0.1) {
  return {name, lo, hi, tolerance, level, solver::Shape::absolute};
}

/// A habit: x_j is drawn to `value`.
inline solver::Output habit(double value, double tolerance = 1) {
  return {"habit", value, value, tolerance, solver::Level::habit, solver::Shape::squared};
}

/// As test-problems.json writes members: an output's name, or 'x[k]>=v', 'x[k]<=v'.
std::string spelled(const solver::Problem& problem, const solver::Member& member);

}  // namespace easewright::tests
