#include "solver/probe.h"

#include "solver/starts.h"

#include <algorithm>
#include <cmath>

namespace easewright::solver {
namespace {

/// Pull of the habits while a set is probed: enough to choose among many points, too little to
/// break anything.
constexpr double kHabit = 1e-5;
/// Half widths, in scales, from which further starts are drawn in turn.
constexpr double kHalves[] = {2, 8, 30};
constexpr std::size_t kMostPoints = 64;
/// Nearer to a limit than this, in tolerances or scales, is pressed against it.
constexpr double kPressed = 1e-2;
constexpr PassOptions kProbing{.least_gain = 0.05 * kHolds,
                               .most_iterations = 12,
                               .stop = Stop::small_gain,
                               .hopeless = 4 * kAsked,
                               .most_corrections = 1,
                               .curvature = Curvature::never};

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

Probe::Probe(const Problem& problem, const std::vector<double>& x)
    : scaled_(problem), pass_(scaled_) {
  lo = scaled_.lo;
  hi = scaled_.hi;
  answer_ = scaled_.to_u(x);
  finite_ = scaled_.evaluate(answer_, answer_c_, nullptr);
  if (finite_) points_.push_back({answer_, answer_c_});
  frame = {scaled_.lower, scaled_.upper};
}

Box Probe::box(const std::vector<Member>& members) const {
  Box box = frame;
  for (const Member& m : members) {
    if (m.kind != Member::Kind::bound) continue;
    const std::size_t k = at(scaled_.position(m.index));
    if (m.side == Side::lower) {
      box.lower[k] = scaled_.lower[k];
    } else {
      box.upper[k] = scaled_.upper[k];
    }
  }
  return box;
}

bool Probe::holds_at(const std::vector<Member>& members, const Box& box, const Point& point) const {
  for (std::size_t k = 0; k < point.u.size(); ++k) {
    if (point.u[k] < box.lower[k] || point.u[k] > box.upper[k]) return false;
  }
  return std::all_of(members.begin(), members.end(), [&](const Member& m) {
    if (m.kind == Member::Kind::bound) return true;
    const double c = point.c[at(m.index)];
    return c >= lo[at(m.index)] - kAsked && c <= hi[at(m.index)] + kAsked;
  });
}

bool Probe::reaches(const std::vector<Member>& members,
                    const Box& box,
                    const std::vector<double>& from) {
  Terms terms;
  terms.lo = lo;
  terms.hi = hi;
  terms.lower = box.lower;
  terms.upper = box.upper;
  terms.shape.assign(at(scaled_.m()), Shape::absolute);
  terms.weight.assign(at(scaled_.m()), 0.0);
  for (int i = 0; i < scaled_.m(); ++i) {
    const Output& o = scaled_.problem().outputs[at(i)];
    if (o.level != Level::habit || o.shape != Shape::squared) continue;
    terms.shape[at(i)] = Shape::squared;
    terms.weight[at(i)] = kHabit;
  }
  for (const Member& m : members) {
    if (m.kind != Member::Kind::output) continue;
    terms.weight[at(m.index)] = 1;
    terms.shape[at(m.index)] = Shape::absolute;
  }
  Point point{from, {}};
  const auto all_hold = [&] { return holds_at(members, box, {point.u, pass_.c()}); };
  ++solves_;
  const PassEnd end = pass_.run(terms, kProbing, point.u, all_hold);
  if (end == PassEnd::not_finite) return false;
  point.c = pass_.c();
  const bool reached = holds_at(members, box, point);
  if (!reached) {
    stuck_ = std::move(point);
  } else {
    witness_ = point;
    if (points_.size() < kMostPoints) points_.push_back(std::move(point));
  }
  return reached;
}

std::vector<double> Probe::pulls(const std::vector<Member>& members) {
  reaches(members, box(members), answer_);
  return pass_.pull();
}

bool Probe::can_hold(const std::vector<Member>& members, Effort effort) {
  const Box box = this->box(members);
  for (auto point = points_.rbegin(); point != points_.rend(); ++point) {
    if (!holds_at(members, box, *point)) continue;
    witness_ = *point;
    return true;
  }
  if (effort == Effort::quick && !stuck_.u.empty()) {
    const std::vector<double> stuck = stuck_.u;
    return (finite_ && reaches(members, box, answer_)) || reaches(members, box, stuck);
  }
  std::vector<double> start;
  for (const Variable& v : scaled_.problem().variables) start.push_back(v.start);
  start = scaled_.to_u(start);
  if (start != answer_ && reaches(members, box, start)) return true;
  for (int k = 1; k <= further_starts; ++k) {
    const double half = kHalves[at((k - 1) % 3)];
    if (reaches(members, box, further_start(answer_, box.lower, box.upper, half, k))) return true;
  }
  // Last from the answer, which is the best place to be stuck at.
  return finite_ && reaches(members, box, answer_);
}

std::vector<Member> Probe::broken(const std::vector<Member>& members) const {
  std::vector<Member> broken;
  for (const Member& m : members) {
    bool out = false;
    if (m.kind == Member::Kind::output) {
      const double c = witness_.c[at(m.index)];
      out = c < lo[at(m.index)] - kAsked || c > hi[at(m.index)] + kAsked;
    } else {
      const std::size_t k = at(scaled_.position(m.index));
      out = m.side == Side::lower ? witness_.u[k] < scaled_.lower[k]
                                  : witness_.u[k] > scaled_.upper[k];
    }
    if (out) broken.push_back(m);
  }
  return broken;
}

std::vector<Member> Probe::pressed(const std::vector<Member>& members) const {
  std::vector<Member> pressed;
  for (const Member& m : members) {
    bool at_limit = false;
    if (m.kind == Member::Kind::output) {
      const double c = stuck_.c[at(m.index)];
      at_limit = c <= lo[at(m.index)] + kPressed || c >= hi[at(m.index)] - kPressed;
    } else {
      const std::size_t k = at(scaled_.position(m.index));
      at_limit = m.side == Side::lower ? stuck_.u[k] <= scaled_.lower[k] + kPressed
                                       : stuck_.u[k] >= scaled_.upper[k] - kPressed;
    }
    if (at_limit) pressed.push_back(m);
  }
  return pressed;
}

}  // namespace easewright::solver
