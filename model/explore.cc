#include "model/explore.h"

#include "solver/sensitivity.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using solver::Member;
using solver::Side;

int variable_of(const Posed& posed, ValueKey key) {
  const auto at = std::find(posed.keys.begin(), posed.keys.end(), key);
  return at == posed.keys.end() ? -1 : static_cast<int>(at - posed.keys.begin());
}

/// Outputs of wishes about nothing but these values.
std::vector<int> own_wishes(const Posed& posed, const std::vector<ValueKey>& values) {
  std::vector<int> outputs;
  for (const PosedRule& rule : posed.rules) {
    const bool own = std::any_of(
        values.begin(), values.end(), [&](ValueKey key) { return rule.wish_id == info(key).id; });
    if (own) outputs.insert(outputs.end(), rule.outputs.begin(), rule.outputs.end());
  }
  return outputs;
}

std::vector<int> rules_of_outputs(const Posed& posed) {
  std::vector<int> rules(static_cast<size_t>(posed.problem.m()), -1);
  for (size_t i = 0; i < posed.rules.size(); ++i) {
    for (const int output : posed.rules[i].outputs)
      rules[static_cast<size_t>(output)] = static_cast<int>(i);
  }
  return rules;
}

ReachEnd end_of(const FitResult& result, const solver::ReachEnd& end) {
  ReachEnd found;
  found.value = end.value;
  found.proved = end.proved;
  for (const solver::Limiter& limiter : end.stops)
    found.stops.push_back(participant_of(result, limiter.member));
  return found;
}

}  // namespace

std::vector<ValueReach> reach(const FitResult& result, const std::vector<ValueKey>& values) {
  const Posed& posed = *result.posed;
  std::vector<ValueReach> all;
  for (const ValueKey key : values) {
    const int variable = variable_of(posed, key);
    if (variable < 0) continue;
    const solver::ReachQuery query{{solver::Value::Kind::variable, variable},
                                   own_wishes(posed, {key})};
    const solver::Reach found = solver::find_reach(posed.problem, result.outcome, query);
    all.push_back(
        {key, result.values[key], end_of(result, found.least), end_of(result, found.greatest)});
  }
  return all;
}

ValueMap map_values(
    const FitResult& result, MapAxis across, MapAxis down, int columns, int rows, int threads) {
  const Posed& posed = *result.posed;
  const auto axis = [&](MapAxis& a, int count) {
    const int variable = variable_of(posed, a.value);
    const solver::Variable& v = posed.problem.variables[static_cast<size_t>(variable)];
    if (a.from == a.to) {
      a.from = v.lower;
      a.to = v.upper;
    }
    return solver::Axis{{solver::Value::Kind::variable, variable}, a.from, a.to, count};
  };
  ValueMap map;
  solver::MapQuery query;
  query.across = axis(across, columns);
  query.down = axis(down, rows);
  query.let_go = own_wishes(posed, {across.value, down.value});
  query.threads = threads;
  map.across = across;
  map.down = down;
  map.map = solver::find_map(posed.problem, result.outcome, query);
  map.rule_of_output = rules_of_outputs(posed);
  return map;
}

std::vector<WishEffect> wish_effects(const FitResult& result) {
  const Posed& posed = *result.posed;
  std::vector<Member> limits;
  std::vector<int> wishes;
  for (size_t i = 0; i < posed.rules.size(); ++i) {
    const PosedRule& rule = posed.rules[i];
    if (rule.wish_id.empty() || rule.outputs.empty()) continue;
    const int output = rule.outputs.front();
    const auto standing = result.outcome.standing[static_cast<size_t>(output)];
    const bool upper =
        standing == solver::Standing::at_upper || standing == solver::Standing::above;
    limits.push_back({Member::Kind::output, output, upper ? Side::upper : Side::lower});
    wishes.push_back(static_cast<int>(i));
  }
  const auto found = solver::find_sensitivity(posed.problem, result.outcome, limits);

  Measures<double> measures;
  std::vector<double> jacobian(static_cast<size_t>(kMeasureKeys) * kValueKeys);
  measure_with_jacobian(posed.frame, result.values, measures, jacobian.data());
  // The finest tolerance of the rules that name a measure says how much of a change in it is felt.
  std::array<double, kMeasureKeys> tolerance{};
  for (const PosedRule& rule : posed.rules) {
    for (const Name& name : rule.expression.names()) {
      if (name.kind != NameKind::measure) continue;
      double& t = tolerance[static_cast<size_t>(name.index)];
      if (t == 0 || rule.tolerance < t) t = rule.tolerance;
    }
  }
  std::vector<WishEffect> effects;
  for (size_t k = 0; k < found.size(); ++k) {
    WishEffect effect;
    effect.rule = wishes[k];
    const double unit = posed.rules[static_cast<size_t>(wishes[k])].expression.dimension() == kAngle
                            ? radians(1)
                            : 1.0;
    for (size_t i = 0; found[k].moves && i < kMeasureKeys; ++i) {
      if (tolerance[i] == 0 || !result.has_measure[i]) continue;
      double change = 0;
      for (size_t j = 0; j < posed.keys.size(); ++j) {
        change += jacobian[i * kValueKeys + static_cast<size_t>(posed.keys[j])] * found[k].dx[j];
      }
      const double felt = std::abs(change) * unit / tolerance[i];
      if (felt > 0.05) effect.on.push_back({static_cast<MeasureKey>(i), change, felt});
    }
    std::stable_sort(effect.on.begin(), effect.on.end(), [](const auto& a, const auto& b) {
      return a.felt > b.felt;
    });
    effects.push_back(std::move(effect));
  }
  return effects;
}

}  // namespace easewright
