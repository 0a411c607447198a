#pragma once
// How far one value can go while all that can hold still holds, and what stops it.
//
//     least and greatest of x_k or g_k,  so that every output above habit stays in its interval,
//     or, where it is missed, no further out than it is
//
// The value's own interval doesn't count, nor do outputs that the caller lets go (a wish that is
// about nothing but the value). At each end the multipliers say which limits stop it and at what
// rate: d(end)/d(limit).

#include "solver/member.h"
#include "solver/outcome.h"

#include <vector>

namespace easewright::solver {

/// A variable or an output of the problem.
struct Value {
  enum class Kind { variable, output };
  Kind kind = Kind::variable;
  int index = 0;
};

struct ReachQuery {
  Value value;
  std::vector<int> let_go;  ///< outputs that take no part
};

/// A limit that stops a value.
struct Limiter {
  Member member;
  double rate = 0;  ///< d(end)/d(limit), both in their own units
};

struct ReachEnd {
  double value = 0;  ///< +-infinity when nothing stops it
  std::vector<Limiter>
      stops;  ///< the one that matters most first: by rate times the size of a felt change
  std::vector<double> x;  ///< where it is reached
  bool proved = false;    ///< stationary there, and everything that had to hold does
};

struct Reach {
  ReachEnd least, greatest;
};

/// From the answer of a solve, and for a variable also back from its own limit. Still local: a
/// basin between may reach further.
Reach find_reach(const Problem& problem, const Outcome& outcome, const ReachQuery& query);

}  // namespace easewright::solver
