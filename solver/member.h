#pragma once
// What can take part in a conflict, give in a remedy, or stop a value: an output's interval or a
// variable's bound.

#include "solver/problem.h"

#include <string>

namespace easewright::solver {

/// Which end of an interval. For an equality, the end that its pull comes from.
enum class Side { lower, upper };

struct Member {
  enum class Kind { output, bound };
  Kind kind = Kind::output;
  int index = 0;  ///< of the output or variable
  Side side = Side::lower;

  friend bool operator==(const Member&, const Member&) = default;
};

/// True when two members are one thing to let go: an output goes with its whole interval, a bound
/// by its side.
inline bool same_rule(const Member& a, const Member& b) {
  return a.kind == b.kind && a.index == b.index &&
         (a.kind == Member::Kind::output || a.side == b.side);
}

/// The limit's value, in the problem's own unit.
double limit_of(const Problem& problem, const Member& member);

/// The size of a change of that limit that is felt: the output's tolerance, the variable's scale.
double felt(const Problem& problem, const Member& member);

/// The output's or variable's name.
const std::string& name_of(const Problem& problem, const Member& member);

}  // namespace easewright::solver
