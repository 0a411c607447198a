#include "model/pose.h"

#include "model/rules/expression_evaluate.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <ceres/jet.h>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Level;

std::array<double, kBodyKeys> plain(const CompleteBody& body) {
  std::array<double, kBodyKeys> values{};
  for (size_t i = 0; i < kBodyKeys; ++i) values[i] = body.values[i].value;
  return values;
}

std::array<double, kClothFacts> plain(const Cloth& cloth) {
  std::array<double, kClothFacts> facts{};
  for (int i = 0; i < kClothFacts; ++i) facts[static_cast<size_t>(i)] = cloth.*cloth_fact(i).member;
  return facts;
}

/// Values and measures with their Jacobian, as far as an expression's names need them.
class GarmentFunction final : public solver::Function {
 public:
  /// One output: expression, less a limit that varies with the draft.
  struct Row {
    Expression expression;
    std::optional<Expression> minus;
    std::vector<Name> names;  ///< values and measures that occur in either
  };

  GarmentFunction(const Frame& frame, const Values<double>& base, std::vector<ValueKey> keys)
      : frame_(frame),
        base_(base),
        keys_(std::move(keys)),
        body_(plain(frame.body)),
        cloth_(plain(frame.cloth)) {}

  void add(Row row) { rows_.push_back(std::move(row)); }

  void judge(const Values<double>& values, const Measures<double>& measures, double* g) const {
    const Facts<double> facts{values.at.data(), measures.at.data(), body_.data(), cloth_.data()};
    for (size_t i = 0; i < rows_.size(); ++i) {
      g[i] = rows_[i].expression.evaluate(facts);
      if (rows_[i].minus) g[i] -= rows_[i].minus->evaluate(facts);
    }
    for (size_t j = 0; j < keys_.size(); ++j) g[rows_.size() + j] = values[keys_[j]];
  }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    Values<double> values = base_;
    const size_t n = keys_.size();
    for (size_t j = 0; j < n; ++j) values[keys_[j]] = x[j];
    if (jacobian == nullptr) {
      judge(values, measure(frame_, values), g);
      return;
    }
    Measures<double> measures;
    thread_local std::array<double, static_cast<size_t>(kMeasureKeys) * kValueKeys> of_measures;
    measure_with_jacobian(frame_, values, measures, of_measures.data());
    std::fill(jacobian, jacobian + (rows_.size() + n) * n, 0.0);
    for (size_t i = 0; i < rows_.size(); ++i) {
      evaluate_row(rows_[i], values, measures, of_measures.data(), &g[i], jacobian + i * n);
    }
    for (size_t j = 0; j < n; ++j) {
      g[rows_.size() + j] = x[j];
      jacobian[(rows_.size() + j) * n + j] = 1;
    }
  }

 private:
  // Few rules name more than four quantities; one that does is evaluated in several passes of four.
  static constexpr int kPass = 4;
  using Jet = ceres::Jet<double, kPass>;

  void add_partial(const Name& name, double partial, const double* of_measures, double* row) const {
    const size_t n = keys_.size();
    if (name.kind == NameKind::value) {
      for (size_t j = 0; j < n; ++j) {
        if (static_cast<int>(keys_[j]) == name.index) row[j] += partial;
      }
      return;
    }
    const double* source = of_measures + static_cast<size_t>(name.index) * kValueKeys;
    for (size_t j = 0; j < n; ++j) row[j] += partial * source[static_cast<size_t>(keys_[j])];
  }

  void evaluate_row(const Row& row,
                    const Values<double>& values,
                    const Measures<double>& measures,
                    const double* of_measures,
                    double* g,
                    double* gradient) const {
    thread_local std::array<Jet, kValueKeys> value_jets;
    thread_local std::array<Jet, kMeasureKeys> measure_jets;
    const auto slot = [](const Name& name) -> Jet& {
      const auto at = static_cast<size_t>(name.index);
      return name.kind == NameKind::value ? value_jets[at] : measure_jets[at];
    };
    for (const Name& name : row.names) {
      const auto at = static_cast<size_t>(name.index);
      slot(name) = Jet(name.kind == NameKind::value ? values.at[at] : measures.at[at]);
    }
    const Facts<Jet> facts{value_jets.data(), measure_jets.data(), body_.data(), cloth_.data()};
    size_t first = 0;
    do {
      const size_t last = std::min(first + kPass, row.names.size());
      for (size_t k = first; k < last; ++k) slot(row.names[k]).v[static_cast<int>(k - first)] = 1;
      Jet result = row.expression.evaluate(facts);
      if (row.minus) result -= row.minus->evaluate(facts);
      *g = result.a;
      for (size_t k = first; k < last; ++k) {
        add_partial(row.names[k], result.v[static_cast<int>(k - first)], of_measures, gradient);
        slot(row.names[k]).v.setZero();
      }
      first = last;
    } while (first < row.names.size());
  }

  Frame frame_;
  Values<double> base_;
  std::vector<ValueKey> keys_;
  std::array<double, kBodyKeys> body_;
  std::array<double, kClothFacts> cloth_;
  std::vector<Row> rows_;
};

bool all_hold(const std::vector<Condition>& conditions, const Switches& switches) {
  return std::all_of(
      conditions.begin(), conditions.end(), [&](const Condition& c) { return c.holds(switches); });
}

/// Values and measures that occur in an expression and its limit, once each.
std::vector<Name> varying_names(const Expression& a, const std::optional<Expression>& b) {
  std::vector<Name> names;
  const auto take = [&names](const Expression& e) {
    for (const Name& name : e.names()) {
      if (name.kind != NameKind::value && name.kind != NameKind::measure) continue;
      const bool known = std::any_of(names.begin(), names.end(), [&](const Name& other) {
        return other.kind == name.kind && other.index == name.index;
      });
      if (!known) names.push_back(name);
    }
  };
  take(a);
  if (b) take(*b);
  return names;
}

class Poser {
 public:
  Poser(const Job& job,
        const Catalogue& catalogue,
        const CompleteBody& body,
        const Switches& switches)
      : job_(job), catalogue_(catalogue), posed_(std::make_shared<Posed>()) {
    posed_->frame = frame_of(body, job.cloth, switches);
    body_ = plain(posed_->frame.body);
    cloth_ = plain(posed_->frame.cloth);
  }

  std::vector<CrossedLimits> crossed() const {
    std::vector<CrossedLimits> all;
    for (int i = 0; i < kValueKeys; ++i) {
      const auto key = static_cast<ValueKey>(i);
      const ValueDefault& standard = catalogue_.values[static_cast<size_t>(i)];
      const ValueOverride* own = override_of(key);
      if (own == nullptr || !all_hold(standard.when, posed_->frame.switches)) continue;
      const Limits limits = limits_of(standard, own);
      if ((own->least || own->most) && limits.least > limits.most) {
        all.push_back(
            {key, limits.least, limits.most, own->least.has_value(), own->most.has_value()});
      }
    }
    return all;
  }

  std::shared_ptr<const Posed> run() {
    pose_values();
    function_ = std::make_shared<GarmentFunction>(posed_->frame, posed_->base, posed_->keys);
    for (const Rule& rule : catalogue_.rules) pose_rule(rule);
    for (const Wish& wish : job_.style.wishes) {
      if (!is_overridden(wish, job_.wishes.data(), job_.wishes.size())) pose_wish(wish);
    }
    for (size_t i = 0; i < job_.wishes.size(); ++i) {
      const Wish* later = job_.wishes.data() + i + 1;
      if (!is_overridden(job_.wishes[i], later, job_.wishes.size() - i - 1))
        pose_wish(job_.wishes[i]);
    }
    pose_habits();
    posed_->problem.function = function_;
    return posed_;
  }

 private:
  double given(const Expression& e) const {
    return e.evaluate(Facts<double>{nullptr, nullptr, body_.data(), cloth_.data()});
  }

  struct Limits {
    double least, most;
  };

  /// The last override of a value wins.
  const ValueOverride* override_of(ValueKey key) const {
    const ValueOverride* own = nullptr;
    for (const ValueOverride& o : job_.style.overrides) {
      if (o.key == key) own = &o;
    }
    return own;
  }

  Limits limits_of(const ValueDefault& standard, const ValueOverride* own) const {
    return {given(own != nullptr && own->least ? *own->least : standard.least),
            given(own != nullptr && own->most ? *own->most : standard.most)};
  }

  void pose_values() {
    posed_->has_value.assign(kValueKeys, false);
    for (int i = 0; i < kValueKeys; ++i) {
      const auto key = static_cast<ValueKey>(i);
      const ValueDefault& standard = catalogue_.values[static_cast<size_t>(i)];
      if (!all_hold(standard.when, posed_->frame.switches)) continue;  // absent: stays 0
      const ValueOverride* own = override_of(key);
      const Limits limits = limits_of(standard, own);
      double least = limits.least, most = limits.most;
      if (least > most) std::swap(least, most);
      const double habit = std::clamp(
          given(own != nullptr && own->habit ? *own->habit : standard.habit), least, most);
      posed_->has_value[static_cast<size_t>(i)] = true;
      posed_->base[key] = habit;
      if (own != nullptr && own->fixed) continue;
      posed_->keys.push_back(key);
      posed_->problem.variables.push_back(
          {spoken(info(key).id), least, most, standard.scale, habit});
    }
  }

  /// A rule about a part that the garment does not have does not apply.
  bool has_all(const std::vector<Name>& names) const {
    return std::all_of(names.begin(), names.end(), [this](const Name& name) {
      return name.kind == NameKind::value
                 ? posed_->has_value[static_cast<size_t>(name.index)]
                 : has_measure(posed_->frame.switches, static_cast<MeasureKey>(name.index));
    });
  }

  void add_output(PosedRule& rule,
                  const std::optional<Expression>& minus,
                  double lo,
                  double hi,
                  solver::Shape shape) {
    rule.outputs.push_back(posed_->problem.m());
    posed_->problem.outputs.push_back({rule.name, lo, hi, rule.tolerance, rule.strength, shape});
    function_->add({rule.expression, minus, varying_names(rule.expression, minus)});
  }

  void pose_range(PosedRule rule, solver::Shape shape) {
    if (!has_all(varying_names(rule.expression, rule.lo)) ||
        !has_all(varying_names(rule.expression, rule.hi)))
      return;
    const bool lo_given = !rule.lo || rule.lo->is_given();
    const bool hi_given = !rule.hi || rule.hi->is_given();
    const double lo = rule.lo && lo_given ? given(*rule.lo) : -kInfinity;
    const double hi = rule.hi && hi_given ? given(*rule.hi) : kInfinity;
    if (rule.lo && !lo_given && rule.hi && !hi_given && rule.lo->text() == rule.hi->text()) {
      add_output(rule, rule.lo, 0, 0, shape);  // an equality between two measures
    } else {
      if (rule.lo && !lo_given) add_output(rule, rule.lo, 0, kInfinity, shape);
      if (rule.hi && !hi_given) add_output(rule, rule.hi, -kInfinity, 0, shape);
      // A range that is empty on this body (lo above hi) asks for its middle.
      if ((rule.lo && lo_given) || (rule.hi && hi_given)) {
        const bool empty = lo > hi;
        add_output(
            rule, std::nullopt, empty ? 0.5 * (lo + hi) : lo, empty ? 0.5 * (lo + hi) : hi, shape);
      }
    }
    posed_->rules.push_back(std::move(rule));
  }

  void pose_rule(const Rule& rule) {
    if (!all_hold(rule.when, posed_->frame.switches)) return;
    PosedRule posed;
    posed.rule = &rule;
    posed.name = rule.name;
    posed.expression = rule.range.expression;
    posed.lo = rule.range.lo;
    posed.hi = rule.range.hi;
    posed.strength = rule.strength;
    posed.tolerance = rule.tolerance;
    pose_range(std::move(posed), rule.shape);
  }

  static bool is_overridden(const Wish& wish, const Wish* others, size_t count) {
    return std::any_of(
        others, others + count, [&](const Wish& other) { return other.id == wish.id; });
  }

  void pose_wish(const Wish& wish) {
    PosedRule posed;
    posed.name = spoken(wish.id);
    posed.wish_id = wish.id;
    ExpressionError error;
    auto expression = Expression::parse(wish.id, &error);
    assert(expression && "a wish's id is checked when it is read");
    if (!expression) return;
    posed.expression = *expression;
    posed.lo = wish.lo;
    posed.hi = wish.hi;
    posed.strength = wish.strength;
    posed.tolerance = wish.tolerance;
    pose_range(std::move(posed), solver::Shape::absolute);
  }

  void pose_habits() {
    posed_->first_habit = posed_->problem.m();
    for (size_t j = 0; j < posed_->keys.size(); ++j) {
      const solver::Variable variable = posed_->problem.variables[j];
      posed_->problem.outputs.push_back({variable.name + ", habit",
                                         variable.start,
                                         variable.start,
                                         variable.scale,
                                         Level::habit,
                                         solver::Shape::squared});
    }
  }

  const Job& job_;
  const Catalogue& catalogue_;
  std::shared_ptr<Posed> posed_;
  std::shared_ptr<GarmentFunction> function_;
  std::array<double, kBodyKeys> body_{};
  std::array<double, kClothFacts> cloth_{};
};

}  // namespace

Values<double> Posed::values_at(const std::vector<double>& x) const {
  assert(x.size() == keys.size());
  Values<double> values = base;
  for (size_t j = 0; j < keys.size(); ++j) values[keys[j]] = x[j];
  return values;
}

std::vector<double> outputs_at(const Posed& posed,
                               const Values<double>& values,
                               const Measures<double>& measures) {
  std::vector<double> g(static_cast<size_t>(posed.problem.m()));
  static_cast<const GarmentFunction&>(*posed.problem.function).judge(values, measures, g.data());
  return g;
}

WaistLevel waist_level_of(const Switches& switches) {
  return switches.is(Switch::waist, "elastic") ? WaistLevel::natural : WaistLevel::iso;
}

std::vector<CrossedLimits> crossed_limits(const Job& job,
                                          const Catalogue& catalogue,
                                          const CompleteBody& body,
                                          const Switches& switches) {
  return Poser(job, catalogue, body, switches).crossed();
}

std::shared_ptr<const Posed> pose(const Job& job,
                                  const Catalogue& catalogue,
                                  const CompleteBody& body,
                                  const Switches& switches) {
  return Poser(job, catalogue, body, switches).run();
}

FrameFacts::FrameFacts(const Frame& frame) : body(plain(frame.body)), cloth(plain(frame.cloth)) {}

double evaluate(const Expression& expression,
                const FrameFacts& facts,
                const Values<double>& values,
                const Measures<double>& measures) {
  return expression.evaluate(
      Facts<double>{values.at.data(), measures.at.data(), facts.body.data(), facts.cloth.data()});
}

double evaluate(const Expression& expression,
                const Frame& frame,
                const Values<double>& values,
                const Measures<double>& measures) {
  return evaluate(expression, FrameFacts(frame), values, measures);
}

}  // namespace easewright
