#include "solver/member.h"

namespace easewright::solver {
namespace {

const Output& output(const Problem& problem, const Member& m) {
  return problem.outputs[static_cast<std::size_t>(m.index)];
}
const Variable& variable(const Problem& problem, const Member& m) {
  return problem.variables[static_cast<std::size_t>(m.index)];
}

}  // namespace

double limit_of(const Problem& problem, const Member& m) {
  const bool low = m.side == Side::lower;
  if (m.kind == Member::Kind::output) return low ? output(problem, m).lo : output(problem, m).hi;
  return low ? variable(problem, m).lower : variable(problem, m).upper;
}

double felt(const Problem& problem, const Member& m) {
  return m.kind == Member::Kind::output ? output(problem, m).tolerance : variable(problem, m).scale;
}

const std::string& name_of(const Problem& problem, const Member& m) {
  return m.kind == Member::Kind::output ? output(problem, m).name : variable(problem, m).name;
}

}  // namespace easewright::solver
