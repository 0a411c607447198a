#pragma once
// Whether a set of members can hold together.
//
// The sum of their misses alone is brought down by the exact pass, from the answer, the problem's
// own start and further ones. Every point met is kept: a later set that holds at one of them needs
// no solve.

#include "solver/member.h"
#include "solver/outcome.h"
#include "solver/pass.h"
#include "solver/scaled.h"
#include "solver/settle.h"

#include <vector>

namespace easewright::solver {

/// A rule that is asked to hold by a question after the solve may be missed by this, in tolerances:
/// what an answer may (kHolds), and as much again for the tolerance of the solve itself.
inline constexpr double kAsked = 2 * kHolds;

/// Bounds on u.
struct Box {
  std::vector<double> lower, upper;
};

/// How hard a set is tried before it is said that it can't hold.
enum class Effort {
  quick,  ///< from where the last set got stuck
  full,   ///< from the answer, the problem's own start, and further ones
};

class Probe {
 public:
  /// x is where the answer lies.
  Probe(const Problem& problem, const std::vector<double>& x);

  Scaled& scaled() { return scaled_; }
  Pass& pass() { return pass_; }
  const std::vector<double>& answer() const { return answer_; }
  const std::vector<double>& answer_c() const { return answer_c_; }
  bool finite() const { return finite_; }

  /// Intervals that the members have, in tolerances; as posed until changed.
  std::vector<double> lo, hi;
  /// Bounds that hold whatever the members; those of bound members are added to it.
  Box frame;
  int further_starts = 0;

  /// True when a point was found at which all members hold.
  bool can_hold(const std::vector<Member>& members, Effort effort = Effort::full);
  /// After a can_hold() that said false: the members that stand at their limit or past it where it
  /// got stuck. In a convex problem the others have no part in it.
  std::vector<Member> pressed(const std::vector<Member>& members) const;
  /// After a can_hold() that said true: the members of another set that its point breaks.
  std::vector<Member> broken(const std::vector<Member>& members) const;
  /// Pull of each output at the least sum of the members' misses next to the answer: > 0 from a
  /// lower limit.
  std::vector<double> pulls(const std::vector<Member>& members);
  /// Where the last set that can hold does.
  const std::vector<double>& witness() const { return witness_.u; }
  int solves() const { return solves_; }

 private:
  struct Point {
    std::vector<double> u, c;
  };
  Box box(const std::vector<Member>& members) const;
  bool holds_at(const std::vector<Member>& members, const Box& box, const Point& point) const;
  bool reaches(const std::vector<Member>& members, const Box& box, const std::vector<double>& from);

  Scaled scaled_;
  Pass pass_;
  std::vector<double> answer_, answer_c_;
  Point witness_;  ///< where the last set that can hold does
  Point stuck_;    ///< where the last set that can't hold got stuck
  bool finite_ = false;
  std::vector<Point> points_;
  int solves_ = 0;
};

}  // namespace easewright::solver
