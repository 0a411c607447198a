#include "solver/conflict.h"

#include "solver/nonnegative.h"
#include "solver/probe.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace easewright::solver {
namespace {

/// Nearer to a limit than this many tolerances, or scales, is at it.
constexpr double kAtLimit = 1e-4;
/// A pull below this share of the missed output's own takes no part.
constexpr double kPulls = 1e-6;
/// Pulls that balance worse than this share of the missed output's slope don't explain it.
constexpr double kBalanced = 1e-3;
/// Quick filterings of one set before it is filtered in full.
constexpr int kRounds = 4;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool contains(const std::vector<Member>& members, const Member& m) {
  return std::any_of(
      members.begin(), members.end(), [&](const Member& other) { return same_rule(other, m); });
}

/// Widens every missed output but `missed` to what it got; the outputs that it changed.
std::vector<int> widen(const Problem& problem, const Outcome& outcome, int missed, Probe& probe) {
  std::vector<int> widened;
  for (int i = 0; i < problem.m(); ++i) {
    if (i == missed) continue;
    const double c = probe.answer_c()[at(i)];
    if (is_missed(problem, outcome, i)) widened.push_back(i);
    probe.lo[at(i)] = std::min(probe.lo[at(i)], c);
    probe.hi[at(i)] = std::max(probe.hi[at(i)], c);
  }
  return widened;
}

/// Outputs of the level and above, and bounds, that stand at a limit, as candidates; `missed` left
/// out.
std::vector<Member> at_limits(const Problem& problem,
                              int missed,
                              const Probe& probe,
                              const Scaled& scaled) {
  std::vector<Member> members;
  const Level level = problem.outputs[at(missed)].level;
  for (int i = 0; i < problem.m(); ++i) {
    if (i == missed || problem.outputs[at(i)].level > level) continue;
    const double c = probe.answer_c()[at(i)];
    if (c <= probe.lo[at(i)] + kAtLimit) {
      members.push_back({Member::Kind::output, i, Side::lower});
    } else if (c >= probe.hi[at(i)] - kAtLimit) {
      members.push_back({Member::Kind::output, i, Side::upper});
    }
  }
  for (int k = 0; k < scaled.n(); ++k) {
    const int j = scaled.free()[at(k)];
    const double u = probe.answer()[at(k)];
    if (u <= scaled.lower[at(k)] + kAtLimit)
      members.push_back({Member::Kind::bound, j, Side::lower});
    if (u >= scaled.upper[at(k)] - kAtLimit)
      members.push_back({Member::Kind::bound, j, Side::upper});
  }
  return members;
}

std::vector<Member> all_candidates(const Problem& problem,
                                   int missed,
                                   Level down_to,
                                   const Scaled& scaled) {
  std::vector<Member> members;
  for (int i = 0; i < problem.m(); ++i) {
    if (i != missed && problem.outputs[at(i)].level <= down_to)
      members.push_back({Member::Kind::output, i, Side::lower});
  }
  for (int k = 0; k < scaled.n(); ++k) {
    const int j = scaled.free()[at(k)];
    if (std::isfinite(scaled.lower[at(k)]))
      members.push_back({Member::Kind::bound, j, Side::lower});
    if (std::isfinite(scaled.upper[at(k)]))
      members.push_back({Member::Kind::bound, j, Side::upper});
  }
  return members;
}

/// Those of the members that balance the missed output's pull; empty when they don't. Sets the side
/// of equalities.
std::vector<Member> balancing(int missed,
                              double way,
                              const std::vector<Member>& members,
                              const std::vector<double>& jacobian,
                              Probe& probe) {
  const int n = probe.scaled().n();
  const auto row = [&](int i) {
    return Eigen::Map<const Eigen::VectorXd>(jacobian.data() + static_cast<long>(i) * n, n);
  };
  Eigen::MatrixXd a(n, static_cast<Eigen::Index>(members.size()));
  std::vector<bool> free;
  for (std::size_t k = 0; k < members.size(); ++k) {
    const Member& m = members[k];
    const double sign = m.side == Side::lower ? 1 : -1;
    auto column = a.col(static_cast<Eigen::Index>(k));
    if (m.kind == Member::Kind::bound) {
      column.setZero();
      column[probe.scaled().position(m.index)] = sign;
      free.push_back(false);
    } else {
      const double length = row(m.index).norm();
      column = sign / (length > 0 ? length : 1) * row(m.index);
      free.push_back(probe.lo[at(m.index)] == probe.hi[at(m.index)]);
    }
  }
  const double size = row(missed).norm();
  if (size == 0) return {};
  const Eigen::VectorXd goal = -way / size * row(missed);
  const Eigen::VectorXd pulls = nonnegative_least_squares(a, goal, free);
  if ((a * pulls - goal).norm() > kBalanced) return {};
  std::vector<Member> pulling;
  for (std::size_t k = 0; k < members.size(); ++k) {
    const double pull = pulls[static_cast<Eigen::Index>(k)];
    if (std::abs(pull) <= kPulls) continue;
    Member m = members[k];
    if (pull < 0) m.side = m.side == Side::lower ? Side::upper : Side::lower;
    pulling.push_back(m);
  }
  return pulling;
}

/// Least changeable first; members that are alike keep their order.
void order_for_deletion(const ConflictOptions& options, std::vector<Member>& members) {
  if (!options.changeable) return;
  std::stable_sort(members.begin(), members.end(), [&](const Member& a, const Member& b) {
    return options.changeable(a) < options.changeable(b);
  });
}

/// Bounds that hold whatever the members are.
Box frame_without(const std::vector<Member>& members, OtherBounds others, const Scaled& scaled) {
  if (others == OtherBounds::go) {
    return {std::vector<double>(at(scaled.n()), -kInfinity),
            std::vector<double>(at(scaled.n()), kInfinity)};
  }
  Box frame{scaled.lower, scaled.upper};
  for (const Member& m : members) {
    if (m.kind != Member::Kind::bound) continue;
    const std::size_t k = at(scaled.position(m.index));
    if (m.side == Side::lower) {
      frame.lower[k] = -kInfinity;
    } else {
      frame.upper[k] = kInfinity;
    }
  }
  return frame;
}

/// Adds members from outside until the set can't hold: each round those that its meeting point
/// breaks, bounds before rules, as a point out of range says little about the rules. False when a
/// point was found at which everything holds.
bool grow(const std::vector<Member>& outside, std::vector<Member>& members, Probe& probe) {
  while (probe.can_hold(members, Effort::full)) {
    const std::vector<Member> broken = probe.broken(outside);
    const std::size_t before = members.size();
    for (const Member::Kind kind : {Member::Kind::bound, Member::Kind::output}) {
      for (const Member& m : broken) {
        if (m.kind == kind && !contains(members, m)) members.insert(members.begin(), m);
      }
      if (members.size() > before) break;
    }
    if (members.size() == before) return false;
  }
  return true;
}

/// Lets all go at once that are not pressed where the set got stuck, if the rest can't hold either;
/// the set's order stays.
void let_idle_go(Effort effort, std::vector<Member>& members, Probe& probe) {
  std::vector<Member> pressed = probe.pressed(members);
  if (pressed.size() == members.size()) return;
  if (!probe.can_hold(pressed, effort)) members = std::move(pressed);
}

/// Lets members go one at a time where the rest still can't hold. True when each that is left was
/// shown to be needed.
bool filter(const ConflictOptions& options,
            Effort effort,
            std::vector<Member>& members,
            Probe& probe) {
  const int first_solve = probe.solves();
  const bool idle_go = options.candidates == Candidates::pulled;
  if (idle_go) let_idle_go(effort, members, probe);
  std::vector<Member> needed;
  while (needed.size() < members.size()) {
    if (probe.solves() - first_solve > options.most_solves) return false;
    const auto next = std::find_if(
        members.begin(), members.end(), [&](const Member& m) { return !contains(needed, m); });
    std::vector<Member> rest = members;
    rest.erase(rest.begin() + (next - members.begin()));
    if (probe.can_hold(rest, effort)) {
      needed.push_back(*next);
    } else {
      members = std::move(rest);
      if (idle_go) let_idle_go(effort, members, probe);
    }
  }
  return true;
}

/// A smallest set out of members that can't hold together. Quickly first; should that set hold from
/// somewhere after all, what was wrongly let go comes back.
bool shrink(const ConflictOptions& options, std::vector<Member>& members, Probe& probe) {
  const std::vector<Member> whole = members;
  for (int round = 0; round < kRounds; ++round) {
    const bool proved = filter(options, Effort::quick, members, probe);
    if (!probe.can_hold(members, Effort::full)) return proved;
    if (!grow(whole, members, probe)) break;
    std::vector<Member> ordered;
    for (const Member& m : whole) {
      if (contains(members, m)) ordered.push_back(m);
    }
    members = std::move(ordered);
  }
  members = whole;
  return filter(options, Effort::full, members, probe);
}

/// A member that can't hold by itself is against bounds of the frame: those that it needs become
/// members too, no more than needed.
void name_bounds(const std::vector<Member>& everything,
                 std::vector<Member>& members,
                 Probe& probe) {
  const Box frame = probe.frame;
  std::vector<Member> bounds;
  for (const Member& m : everything) {
    if (m.kind == Member::Kind::bound) bounds.push_back(m);
  }
  std::vector<Member> grown = members;
  probe.frame = frame_without(members, OtherBounds::go, probe.scaled());
  if (grow(bounds, grown, probe)) {
    for (std::size_t i = 0; i < grown.size();) {
      std::vector<Member> rest = grown;
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
      const bool needed =
          grown[i].kind == Member::Kind::output || probe.can_hold(rest, Effort::full);
      if (needed) {
        ++i;
      } else {
        grown = std::move(rest);
      }
    }
    members = std::move(grown);
  } else {
    probe.frame = frame;
  }
}

/// Sets the side from which each output member pulls in the set as it stands.
void find_sides(std::vector<Member>& members, Probe& probe) {
  const std::vector<double> pull = probe.pulls(members);
  for (Member& m : members) {
    if (m.kind != Member::Kind::output || pull.empty() || pull[at(m.index)] == 0) continue;
    m.side = pull[at(m.index)] > 0 ? Side::lower : Side::upper;
  }
}

void finish(const std::vector<int>& widened, Conflict& conflict) {
  const int missed = conflict.missed;
  std::sort(
      conflict.members.begin(), conflict.members.end(), [missed](const Member& a, const Member& b) {
        const auto key = [missed](const Member& m) {
          const bool self = m.kind == Member::Kind::output && m.index == missed;
          return std::tuple(!self, m.kind, m.index, m.side);
        };
        return key(a) < key(b);
      });
  for (const int i : widened) {
    if (contains(conflict.members, {Member::Kind::output, i, Side::lower}))
      conflict.widened.push_back(i);
  }
}

}  // namespace

Conflict find_conflict(const Problem& problem,
                       const Outcome& outcome,
                       int missed,
                       const ConflictOptions& options) {
  Conflict conflict;
  conflict.missed = missed;
  Probe probe(problem, outcome.x);
  if (!probe.finite()) return conflict;
  probe.further_starts = options.further_starts;
  Scaled& scaled = probe.scaled();
  const std::vector<int> widened = widen(problem, outcome, missed, probe);
  const double miss = outcome.miss[at(missed)];
  const Member self{Member::Kind::output, missed, miss < 0 ? Side::lower : Side::upper};

  const std::vector<Member> everything =
      all_candidates(problem, missed, problem.outputs[at(missed)].level, scaled);
  std::vector<Member> members = everything;
  if (options.candidates == Candidates::pulled) {
    std::vector<double> c, jacobian;
    if (!scaled.evaluate(probe.answer(), c, &jacobian)) return conflict;
    const std::vector<Member> limits = at_limits(problem, missed, probe, scaled);
    // A missed output pulls towards its interval: up from below it.
    members = balancing(missed, miss < 0 ? 1 : -1, limits, jacobian, probe);
    if (members.empty()) members = limits;
  }
  order_for_deletion(options, members);
  members.push_back(self);
  probe.frame = frame_without(members, options.other_bounds, scaled);
  if (grow(everything, members, probe)) {
    conflict.proved = shrink(options, members, probe);
    if (members.size() == 1) name_bounds(everything, members, probe);
    find_sides(members, probe);
    conflict.members = std::move(members);
  } else {
    conflict.can_hold_at = scaled.to_x(probe.witness());
  }
  conflict.solves = probe.solves();
  finish(widened, conflict);
  return conflict;
}

std::vector<Conflict> find_conflicts(const Problem& problem,
                                     const Outcome& outcome,
                                     const ConflictOptions& options) {
  std::vector<Conflict> conflicts;
  for (int i = 0; i < problem.m(); ++i) {
    if (problem.outputs[at(i)].level == Level::habit || !is_missed(problem, outcome, i)) continue;
    conflicts.push_back(find_conflict(problem, outcome, i, options));
  }
  return conflicts;
}

Conflict find_irreducible(const Problem& problem, const ConflictOptions& given) {
  Conflict conflict;
  ConflictOptions options = given;
  options.candidates = Candidates::all;
  std::vector<double> start;
  for (const Variable& v : problem.variables) start.push_back(v.start);
  Probe probe(problem, start);
  probe.further_starts = options.further_starts;
  std::vector<Member> members = all_candidates(problem, -1, Level::wish, probe.scaled());
  order_for_deletion(options, members);
  probe.frame = frame_without(members, options.other_bounds, probe.scaled());
  if (!probe.can_hold(members)) {
    conflict.proved = shrink(options, members, probe);
    find_sides(members, probe);
    conflict.members = std::move(members);
  }
  conflict.solves = probe.solves();
  finish({}, conflict);
  return conflict;
}

}  // namespace easewright::solver
