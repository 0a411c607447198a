#include "posing.h"

#include <fmt/format.h>

namespace easewright::tests {

std::string spelled(const solver::Problem& problem, const solver::Member& member) {
  if (member.kind == solver::Member::Kind::output) return solver::name_of(problem, member);
  return fmt::format("x[{}]{}{:g}",
                     member.index,
                     member.side == solver::Side::lower ? ">=" : "<=",
                     solver::limit_of(problem, member));
}

}  // namespace easewright::tests
