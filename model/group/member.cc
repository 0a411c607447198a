#include "model/group/member.h"

#include "model/uncertainty.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace easewright {
namespace {

using solver::Level;

constexpr float kAbsent = std::numeric_limits<float>::quiet_NaN();

bool replaced(const Wish& wish, const std::vector<Wish>& wishes, size_t from) {
  return std::any_of(wishes.begin() + static_cast<std::ptrdiff_t>(from),
                     wishes.end(),
                     [&](const Wish& later) { return later.id == wish.id; });
}

Term term_of(const Wish& wish) {
  Term term;
  term.name = spoken(wish.id);
  term.wish_id = wish.id;
  term.strength = wish.strength;
  term.tolerance = wish.tolerance;
  const auto expression = Expression::parse(wish.id, nullptr);
  assert(expression && "a wish's id is checked when it is read");
  if (expression) term.dimension = expression->dimension();
  term.exact = wish.lo && wish.hi && wish.lo->text() == wish.hi->text();
  return term;
}

int place_of(const Finding& finding, const Terms& terms) {
  if (finding.rule != nullptr)
    return static_cast<int>(finding.rule - terms.all.front().rule);  // one array: the catalogue's
  return terms.find_wish(finding.wish_id);
}

int place_of(const PosedRule& rule, const Terms& terms) {
  if (rule.rule != nullptr) return static_cast<int>(rule.rule - terms.all.front().rule);
  return terms.find_wish(rule.wish_id);
}

MemberStep step_of(const CureStep& cure, const Terms& terms) {
  MemberStep step;
  step.kind = cure.kind;
  step.side = cure.side;
  step.between = cure.between;
  step.to = static_cast<float>(cure.to);
  switch (cure.kind) {
    case CureStep::Kind::wish:
      step.which = static_cast<std::uint16_t>(terms.find_wish(cure.id));
      if (terms.all[step.which].exact && !cure.between) step.side = solver::Side::lower;
      break;
    case CureStep::Kind::limit:
      for (int i = 0; i < kValueKeys; ++i) {
        if (info(static_cast<ValueKey>(i)).id == cure.id)
          step.which = static_cast<std::uint16_t>(i);
      }
      break;
    case CureStep::Kind::option: {
      step.which = static_cast<std::uint16_t>(cure.which);
      const auto& options = info(cure.which).options;
      step.option = static_cast<std::uint8_t>(
          std::find(options.begin(), options.end(), cure.option) - options.begin());
      break;
    }
  }
  return step;
}

void add_cures(const std::vector<Explanation>& explanations,
               const FitResult& result,
               const Terms& terms,
               Member& member) {
  for (const Explanation& e : explanations) {
    const int term = place_of(result.posed->rules[static_cast<size_t>(e.rule)], terms);
    const auto miss = std::find_if(member.misses.begin(), member.misses.end(), [&](const auto& m) {
      return static_cast<int>(m.term) == term;
    });
    if (miss == member.misses.end()) continue;
    for (const Cure& cure : e.cures) {
      MemberCure kept;
      for (const CureStep& step : cure.steps) kept.steps.at(kept.count++) = step_of(step, terms);
      miss->cures.push_back(kept);
    }
    miss->cures.shrink_to_fit();
  }
  member.explained = true;
}

MemberSureness sureness_of(const Uncertainty& doubts,
                           const FitResult& result,
                           const Terms& terms,
                           const Member& member) {
  MemberSureness sure;
  for (const RuleSureness& r : doubts.rules) {
    const PosedRule& rule = result.posed->rules[static_cast<size_t>(r.rule)];
    if (rule.strength > Level::should) continue;
    const int term = place_of(rule, terms);
    sure.missed += static_cast<float>(1 - r.probability);
    if (r.sureness == Sureness::toss_up) ++sure.toss_ups;
    const bool missed = std::any_of(member.misses.begin(), member.misses.end(), [&](const auto& m) {
      return static_cast<int>(m.term) == term;
    });
    if (!missed && r.probability < sure.least) {
      sure.least = static_cast<float>(r.probability);
      sure.least_term = static_cast<std::uint16_t>(term);
    }
  }
  for (const BodyValue& value : result.completed.body.values)
    if (!is_taped(value.origin)) ++sure.estimated;
  return sure;
}

}  // namespace

int Terms::find_rule(std::string_view name) const {
  for (size_t i = 0; i < all.size(); ++i)
    if (all[i].rule != nullptr && all[i].name == name) return static_cast<int>(i);
  return -1;
}

int Terms::find_wish(std::string_view id) const {
  for (size_t i = all.size(); i-- > 0 && all[i].rule == nullptr;)
    if (all[i].wish_id == id) return static_cast<int>(i);
  return -1;
}

Terms terms_of(const Job& job, const Catalogue& catalogue) {
  Terms terms;
  for (const Rule& rule : catalogue.rules) {
    terms.all.push_back(
        {&rule, rule.name, "", rule.strength, rule.tolerance, rule.range.expression.dimension()});
  }
  for (const Wish& wish : job.style.wishes)
    if (!replaced(wish, job.wishes, 0)) terms.all.push_back(term_of(wish));
  for (size_t i = 0; i < job.wishes.size(); ++i)
    if (!replaced(job.wishes[i], job.wishes, i + 1)) terms.all.push_back(term_of(job.wishes[i]));
  return terms;
}

double in_tolerances(const MemberMiss& miss, const Terms& terms) {
  return static_cast<double>(miss.amount) / terms.all[miss.term].tolerance;
}

bool all_hold(const Member& member, const Terms& terms, Level down_to) {
  return std::none_of(member.misses.begin(), member.misses.end(), [&](const MemberMiss& m) {
    return terms.all[m.term].strength <= down_to;
  });
}

Member member_of(const FitResult& result, const Terms& terms) {
  Member member;
  member.label = result.completed.body.label;
  member.build = result.completed.body.build;
  member.put_on =
      static_cast<std::uint8_t>(result.switches.at[static_cast<size_t>(Switch::put_on)]);
  member.proved = result.outcome.status == solver::Status::settled;
  for (size_t i = 0; i < kValueKeys; ++i)
    member.values[i] = result.has_value[i] ? static_cast<float>(result.values.at[i]) : kAbsent;
  for (size_t i = 0; i < kMeasureKeys; ++i) {
    member.measures[i] =
        result.has_measure[i] ? static_cast<float>(result.measures.at[i]) : kAbsent;
  }
  for (size_t i = 0; i < kBodyKeys; ++i)
    member.body[i] = static_cast<float>(result.completed.body.values[i].value);
  for (const Finding& f : result.findings) {
    if (!f.missed) continue;
    member.misses.push_back(
        {static_cast<std::uint16_t>(place_of(f, terms)), static_cast<float>(f.miss), {}});
  }
  member.misses.shrink_to_fit();
  member.explained = member.misses.empty();
  return member;
}

Drafted draft_member(const Job& job,
                     const Body& body,
                     const Catalogue& catalogue,
                     const Terms& terms,
                     const MemberOptions& options) {
  Job own = job;
  own.body = body;
  Drafted drafted;
  if (!job.style.overrides.empty()) drafted.crossed = crossed_limits(own, catalogue);
  if (!drafted.crossed.empty()) return drafted;
  const FitResult result = fit(own, catalogue);
  for (const BodyNote& note : result.completed.notes)
    if (note.kind == BodyNote::Kind::error) drafted.errors.push_back(note);
  if (!drafted.errors.empty()) return drafted;
  if (result.outcome.status == solver::Status::not_finite) {
    drafted.errors.push_back(
        {BodyNote::Kind::error,
         "",
         "the garment can't be computed on this body; a rule or a habit divides by nothing"});
    return drafted;
  }
  Member member = member_of(result, terms);
  if (options.explain)
    add_cures(
        explain(own, catalogue, result, {.round_cm = options.round_cm}), result, terms, member);
  if (options.sureness)
    member.sureness =
        sureness_of(uncertainty(own, catalogue, result, DoubtsOf::rules), result, terms, member);
  drafted.member = std::move(member);
  return drafted;
}

Job with_cure(const Job& job, const Terms& terms, const MemberCure& cure) {
  // The words that a change needs come from the job as it stands; see with_cure() in explain.h,
  // which works on a fitted result.
  Job changed = job;
  for (size_t i = 0; i < cure.count; ++i) {
    const MemberStep& step = cure.steps[i];
    switch (step.kind) {
      case CureStep::Kind::option: {
        const auto which = static_cast<Switch>(step.which);
        changed.style.switches.at[step.which] = step.option;
        if (which == Switch::put_on) changed.style.put_on.clear();
        break;
      }
      case CureStep::Kind::wish: {
        const Term& term = terms.all[step.which];
        const Wish* stands = nullptr;
        for (const Wish& wish : changed.style.wishes)
          if (wish.id == term.wish_id) stands = &wish;
        for (const Wish& wish : changed.wishes)
          if (wish.id == term.wish_id) stands = &wish;
        assert(stands != nullptr && "a cure is of a wish of its group");
        if (stands == nullptr) break;
        Wish wish = *stands;
        const Expression to(static_cast<double>(step.to), term.dimension);
        const bool is = !step.between && wish.lo && wish.hi && wish.lo->text() == wish.hi->text();
        if (is || step.side == solver::Side::lower) wish.lo = to;
        if (is || step.side == solver::Side::upper) wish.hi = to;
        wish.where = "cure";
        changed.wishes.push_back(wish);
        break;
      }
      case CureStep::Kind::limit: {
        ValueOverride own;
        own.key = static_cast<ValueKey>(step.which);
        for (const ValueOverride& o : changed.style.overrides)
          if (o.key == own.key) own = o;
        (step.side == solver::Side::lower ? own.least : own.most) =
            Expression(static_cast<double>(step.to), info(own.key).dimension);
        changed.style.overrides.push_back(own);
        break;
      }
    }
  }
  return changed;
}

}  // namespace easewright
