#include "solver/reach.h"

#include "solver/pass.h"
#include "solver/probe.h"
#include "solver/scaled.h"
#include "solver/settle.h"

#include <algorithm>
#include <cmath>

namespace easewright::solver {
namespace {

/// Weight of what has to hold, against 1 for a tolerance or scale of the value; the second where
/// the first breaks.
constexpr double kRest[] = {1e3, 1e6};
constexpr double kHabit = 1e-7;
/// A value that went this many scales or tolerances and still goes is taken to go for ever.
constexpr double kForEver = 1e4;
/// Limits that move the end by less than this share of the largest take no part.
constexpr double kTakesPart = 1e-6;

/// Another valley's end counts from so many scales or tolerances further.
constexpr double kFurtherBy = 1e-4;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double miss(double v, double lo, double hi) { return v < lo ? v - lo : v > hi ? v - hi : 0; }

/// Everything above habit as it is, the query's own and let-go outputs without weight.
Terms frozen_terms(const Scaled& scaled,
                   const std::vector<double>& c,
                   const ReachQuery& query,
                   double weight) {
  Terms t = posed_terms(scaled, {weight, weight, weight, kHabit});
  for (int i = 0; i < scaled.m(); ++i) {
    const Output& o = scaled.problem().outputs[at(i)];
    if (o.level == Level::habit) {
      if (o.shape == Shape::absolute) t.weight[at(i)] = 0;
      continue;
    }
    t.shape[at(i)] = Shape::absolute;
    if (c[at(i)] < t.lo[at(i)]) t.lo[at(i)] = c[at(i)] - kHolds;
    if (c[at(i)] > t.hi[at(i)]) t.hi[at(i)] = c[at(i)] + kHolds;
  }
  for (const int i : query.let_go) t.weight[at(i)] = 0;
  if (query.value.kind == Value::Kind::output) t.weight[at(query.value.index)] = 0;
  return t;
}

double value_at(const Scaled& scaled,
                const Value& value,
                const std::vector<double>& u,
                const std::vector<double>& c) {
  if (value.kind == Value::Kind::output) {
    return c[at(value.index)] * scaled.problem().outputs[at(value.index)].tolerance;
  }
  return scaled.to_x(u)[at(value.index)];
}

bool rest_holds(const Terms& t, double weight, const std::vector<double>& c) {
  for (std::size_t i = 0; i < c.size(); ++i) {
    if (t.weight[i] == weight && !(std::abs(miss(c[i], t.lo[i], t.hi[i])) <= kAsked)) return false;
  }
  return true;
}

/// Multipliers as rates: the sum falls by pull_i for each tolerance that limit i gives, and the
/// value is worth 1 a unit.
std::vector<Limiter> stops(const Scaled& scaled,
                           const Pass& pass,
                           const Terms& t,
                           double weight,
                           double way,
                           double unit) {
  const Problem& problem = scaled.problem();
  std::vector<std::pair<double, Limiter>> found;
  for (int i = 0; i < scaled.m(); ++i) {
    const double pull = pass.pull()[at(i)];
    if (t.weight[at(i)] != weight || pull == 0) continue;
    const Member member{Member::Kind::output, i, pull > 0 ? Side::lower : Side::upper};
    found.push_back(
        {std::abs(pull), {member, -way * pull * unit / problem.outputs[at(i)].tolerance}});
  }
  for (int k = 0; k < scaled.n(); ++k) {
    const double pull = pass.bound_pull()[at(k)];
    if (pull == 0) continue;
    const Member member{
        Member::Kind::bound, scaled.free()[at(k)], pull > 0 ? Side::lower : Side::upper};
    found.push_back({std::abs(pull), {member, -way * pull * unit / scaled.scale(k)}});
  }
  std::stable_sort(
      found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Limiter> limiters;
  for (const auto& [size, limiter] : found) {
    if (size > kTakesPart * found.front().first) limiters.push_back(limiter);
  }
  return limiters;
}

/// way: -1 for the least, +1 for the greatest.
ReachEnd find_end(Scaled& scaled,
                  Pass& pass,
                  const std::vector<double>& u0,
                  const std::vector<double>& c0,
                  const ReachQuery& query,
                  double way) {
  const Problem& problem = scaled.problem();
  const bool is_output = query.value.kind == Value::Kind::output;
  ReachEnd end;
  const int k = is_output ? -1 : scaled.position(query.value.index);
  if (!is_output && k < 0) {  // a fixed variable stays, stopped by its own bounds
    end.x = scaled.to_x(u0);
    end.value = end.x[at(query.value.index)];
    end.stops.push_back(
        {{Member::Kind::bound, query.value.index, way < 0 ? Side::lower : Side::upper}, 1});
    end.proved = true;
    return end;
  }
  const double unit =
      is_output ? problem.outputs[at(query.value.index)].tolerance : scaled.scale(k);
  const auto run = [&](std::vector<double> u, double weight, bool& rest) {
    ReachEnd found;
    Terms t = frozen_terms(scaled, c0, query, weight);
    if (is_output) {
      t.slope.assign(at(scaled.m()), 0.0);
      t.slope[at(query.value.index)] = -way;
    } else {
      t.price.assign(at(scaled.n()), 0.0);
      t.price[at(k)] = -way;
    }
    rest = false;
    const PassEnd ended =
        pass.run(t, {.most_trust = 512, .least_gain = 1e-7, .most_iterations = 200}, u);
    if (ended == PassEnd::not_finite) return found;
    found.x = scaled.to_x(u);
    found.value = value_at(scaled, query.value, u, pass.c());
    rest = rest_holds(t, weight, pass.c());
    const double moved = std::abs(found.value - value_at(scaled, query.value, u0, c0)) / unit;
    if (rest && moved > kForEver) {
      found.value = way * kInfinity;
      return found;
    }
    found.stops = stops(scaled, pass, t, weight, way, unit);
    found.proved = rest && ended == PassEnd::settled;
    return found;
  };
  bool rest = false;
  for (const double weight : kRest) {
    end = run(u0, weight, rest);
    if (end.x.empty() || rest) break;
  }
  // One run sees one valley. Another begins with the value at its own limit, where the rest can't
  // hold, and comes back to the nearest place where it can.
  if (is_output || std::isinf(end.value)) return end;
  const double limit = way < 0 ? scaled.lower[at(k)] : scaled.upper[at(k)];
  std::vector<double> u = end.x.empty() ? u0 : scaled.to_u(end.x);
  if (std::isinf(limit) || u[at(k)] == limit) return end;
  u[at(k)] = limit;
  bool other_rest = false;
  ReachEnd other = run(std::move(u), kRest[0], other_rest);
  if (other_rest && (!rest || way * (other.value - end.value) > kFurtherBy * unit))
    end = std::move(other);
  return end;
}

}  // namespace

Reach find_reach(const Problem& problem, const Outcome& outcome, const ReachQuery& query) {
  Scaled scaled(problem);
  Pass pass(scaled);
  Reach reach;
  const std::vector<double> u = scaled.to_u(outcome.x);
  std::vector<double> c;
  if (!scaled.evaluate(u, c, nullptr)) return reach;
  reach.least = find_end(scaled, pass, u, c, query, -1);
  reach.greatest = find_end(scaled, pass, u, c, query, 1);
  return reach;
}

}  // namespace easewright::solver
