#pragma once
// Why a rule is missed: a smallest set of rules, wishes and bounds that can't all hold.
//
// A set is a conflict when no x meets all its members, and a smallest one when it can be met as
// soon as any one member is let go. For a missed output i,
//
//   1. every other missed output is widened to what it got, or the set may be another's conflict;
//   2. candidates are the outputs of its level and above, and the bounds, that stand at a limit and
//      balance its pull:  sum_j lambda_j s_j a_j = -s_i a_i,  lambda >= 0 (Lawson & Hanson);
//   3. should they hold together somewhere, what that point breaks joins them, until they can't;
//   4. they are let go one at a time, the least changeable first; where the rest still can't hold,
//      for good.
//
// "Can hold" is certain: a point was found. "Can't hold" rests on local solves from several points,
// which is proof where everything is linear and evidence where it is curved. Deletion filter:
// Chinneck & Dravnieks, ORSA Journal on Computing 3 (1991).

#include "solver/member.h"
#include "solver/outcome.h"

#include <functional>
#include <vector>

namespace easewright::solver {

struct Conflict {
  int missed = -1;              ///< the output that it explains
  std::vector<Member> members;  ///< `missed` first, then by index; empty when no set was found
  std::vector<int> widened;     ///< members that stand at what they got instead of their own limit
  bool proved = false;          ///< the whole can't hold, and without any one member the rest can
  /// Where no set was found because everything of the level and above, the missed output with it,
  /// was found to hold after all: a better answer to start from. Empty otherwise.
  std::vector<double> can_hold_at;
  int solves = 0;
};

/// What happens to the bounds that are no candidates.
enum class OtherBounds {
  hold,  ///< they stay, as the frame in which the conflict lives
  go,    ///< they go, so that the members alone are infeasible
};

enum class Candidates {
  pulled,  ///< as above
  all,     ///< every output of the level and above, and every bound: slow, and finds other sets in
           ///< other orders
};

struct ConflictOptions {
  /// How readily a member can be changed; of two that could explain the miss, the one with more is
  /// kept. Null: all alike.
  std::function<double(const Member&)> changeable = nullptr;
  OtherBounds other_bounds = OtherBounds::hold;
  Candidates candidates = Candidates::pulled;
  int further_starts =
      0;                  ///< for each "can't hold", besides the answer and the problem's own start
  int most_solves = 400;  ///< for each set; past it the set is what is left, not proved
};

/// One for each missed output above habit, in the outputs' order.
std::vector<Conflict> find_conflicts(const Problem& problem,
                                     const Outcome& outcome,
                                     const ConflictOptions& options = {});

/// For one missed output.
Conflict find_conflict(const Problem& problem,
                       const Outcome& outcome,
                       int missed,
                       const ConflictOptions& options = {});

/// A smallest set of the problem as posed, nothing widened, levels ignored, from all outputs above
/// habit and all bounds; `missed` is -1. Members empty when everything can hold.
Conflict find_irreducible(const Problem& problem, const ConflictOptions& options = {});

}  // namespace easewright::solver
