#include "tests/model/population.h"

#include "cli/read/cloth.h"
#include "cli/read/data_folder.h"
#include "cli/read/style.h"
#include "model/rules/expression_evaluate.h"
#include "tests/model/demo.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <map>
#include <optional>

#include <fmt/format.h>
#include <tbb/parallel_for.h>

namespace easewright::tests {
namespace {

using solver::kInfinity;
using solver::Level;

/// A rule is missed beyond this share of its tolerance. Stated here again, not taken from the
/// solver: it is what users are promised.
constexpr double kPromise = 1e-3;
/// Two ways to add the same numbers up differ by this much of a tolerance at most.
constexpr double kRoundOff = 1e-9;

/// Body, cloth, values and measures of a result as the test computes them.
struct Sheet {
  std::array<double, kBodyKeys> body{};
  std::array<double, kClothFacts> cloth{};
  Values<double> values{};
  Measures<double> measures{};
  Switches switches;
  std::array<bool, kValueKeys> has_value{};

  Sheet(const Job& job, const Catalogue& catalogue, const FitResult& result)
      : values(result.values), switches(result.switches) {
    const Frame frame = frame_of(result.completed.body, job.cloth, switches);
    measures = measure(frame, values);
    for (size_t i = 0; i < kBodyKeys; ++i) body[i] = frame.body.values[i].value;
    for (int i = 0; i < kClothFacts; ++i)
      cloth[static_cast<size_t>(i)] = frame.cloth.*cloth_fact(i).member;
    for (size_t i = 0; i < kValueKeys; ++i) has_value[i] = all_hold(catalogue.values[i].when);
  }

  bool all_hold(const std::vector<Condition>& when) const {
    return std::all_of(
        when.begin(), when.end(), [&](const Condition& c) { return c.holds(switches); });
  }
  bool has_all(const Expression& e) const {
    const auto names = e.names();
    return std::all_of(names.begin(), names.end(), [&](const Name& name) {
      const auto at = static_cast<size_t>(name.index);
      if (name.kind == NameKind::value) return has_value.at(at);
      return name.kind != NameKind::measure ||
             has_measure(switches, static_cast<MeasureKey>(name.index));
    });
  }
  bool has_all(const std::optional<Expression>& e) const { return !e || has_all(*e); }
  double at(const Expression& e) const {
    return e.evaluate(
        Facts<double>{values.at.data(), measures.at.data(), body.data(), cloth.data()});
  }
  double at(const std::optional<Expression>& e, double open) const { return e ? at(*e) : open; }
};

Verdict verdict(const Sheet& sheet,
                const std::string& name,
                const Expression& expression,
                const std::optional<Expression>& lo,
                const std::optional<Expression>& hi,
                double tolerance,
                Level strength) {
  const double it = sheet.at(expression);
  const double off = std::max(sheet.at(lo, -kInfinity) - it, it - sheet.at(hi, kInfinity));
  Verdict v{name, strength, std::max(0.0, off) / tolerance, false};
  v.missed = !(v.miss <= kPromise);  // a NaN is a miss
  return v;
}

/// Rules and wishes that apply. Where a wish stands twice, the later one counts.
std::vector<Verdict> verdicts(const Sheet& sheet, const Job& job, const Catalogue& catalogue) {
  std::vector<Verdict> all;
  for (const Rule& rule : catalogue.rules) {
    if (!sheet.all_hold(rule.when)) continue;
    const Range& range = rule.range;
    if (!sheet.has_all(range.expression) || !sheet.has_all(range.lo) || !sheet.has_all(range.hi))
      continue;
    all.push_back(verdict(
        sheet, rule.name, range.expression, range.lo, range.hi, rule.tolerance, rule.strength));
  }
  std::map<std::string, const Wish*> wishes;
  for (const Wish& wish : job.style.wishes) wishes[wish.id] = &wish;
  for (const Wish& wish : job.wishes) wishes[wish.id] = &wish;
  for (const auto& [id, wish] : wishes) {
    const auto expression = Expression::parse(id, nullptr);
    if (!expression || !sheet.has_all(*expression)) continue;
    all.push_back(verdict(
        sheet, spoken(id), *expression, wish->lo, wish->hi, wish->tolerance, wish->strength));
  }
  std::stable_sort(all.begin(), all.end(), [](const Verdict& a, const Verdict& b) {
    return a.strength < b.strength;
  });
  return all;
}

bool all_finite(const double* first, size_t count) {
  return std::all_of(first, first + count, [](double v) { return std::isfinite(v); });
}
bool all_finite(const std::vector<double>& v) { return all_finite(v.data(), v.size()); }

void check_finite(const FitResult& result, std::vector<std::string>& slips) {
  if (!all_finite(result.values.at.data(), kValueKeys)) slips.push_back("a value is not finite");
  if (!all_finite(result.measures.at.data(), kMeasureKeys))
    slips.push_back("a measure is not finite");
  const solver::Outcome& o = result.outcome;
  const bool finite = all_finite(o.x) && all_finite(o.g) && all_finite(o.miss) &&
                      all_finite(o.pull) && all_finite(o.bound_pull) &&
                      all_finite(o.total.data(), o.total.size()) && std::isfinite(o.optimality);
  if (!finite) slips.push_back("the outcome holds a number that is not finite");
}

void check_measures(const Sheet& sheet, const FitResult& result, std::vector<std::string>& slips) {
  for (size_t i = 0; i < kMeasureKeys; ++i) {
    const auto key = static_cast<MeasureKey>(i);
    if (!has_measure(sheet.switches, key)) continue;
    if (!(std::abs(sheet.measures.at[i] - result.measures.at[i]) < 1e-9))
      slips.push_back(fmt::format("{} is {}, computed again {}",
                                  info(key).id,
                                  result.measures.at[i],
                                  sheet.measures.at[i]));
  }
}

/// Limits of a draft value as the catalogue and the style state them.
void check_bounds(const Sheet& sheet,
                  const Job& job,
                  const Catalogue& catalogue,
                  std::vector<std::string>& slips) {
  for (size_t i = 0; i < kValueKeys; ++i) {
    const auto key = static_cast<ValueKey>(i);
    const double v = sheet.values[key];
    if (!sheet.has_value[i]) {
      if (v != 0) slips.push_back(fmt::format("{} is absent and not 0", info(key).id));
      continue;
    }
    Expression least = catalogue.values[i].least, most = catalogue.values[i].most;
    for (const ValueOverride& own : job.style.overrides) {
      if (own.key != key) continue;
      if (own.least) least = *own.least;
      if (own.most) most = *own.most;
    }
    const double lo = sheet.at(least), hi = sheet.at(most);
    const double room = 1e-9 * catalogue.values[i].scale;
    if (!(v >= std::min(lo, hi) - room && v <= std::max(lo, hi) + room))
      slips.push_back(fmt::format("{} is {}, outside {} to {}", info(key).id, v, lo, hi));
  }
}

/// Each rule that applies has one finding, nothing else has one, and they agree on what is missed.
void check_findings(const std::vector<Verdict>& expected,
                    const FitResult& result,
                    std::vector<std::string>& slips) {
  std::map<std::string, const Finding*> said;
  for (const Finding& f : result.findings) {
    if (!said.insert({(f.rule == nullptr ? "wish " : "") + f.name, &f}).second)
      slips.push_back("'" + f.name + "' is found twice");
  }
  size_t matched = 0;
  for (const Verdict& v : expected) {
    auto it = said.find(v.name);
    if (it == said.end()) it = said.find("wish " + v.name);
    if (it == said.end()) {
      slips.push_back(fmt::format("'{}' applies and is not listed", v.name));
      continue;
    }
    ++matched;
    const Finding& f = *it->second;
    if (f.strength != v.strength) slips.push_back("'" + v.name + "' has another strength");
    if (f.missed != v.missed && !(std::abs(v.miss - kPromise) < kRoundOff))
      slips.push_back(fmt::format("'{}' misses by {:.6g} tolerances and is listed as {}",
                                  v.name,
                                  v.miss,
                                  f.missed ? "missed" : "held"));
  }
  if (matched != said.size()) slips.push_back("something is listed that does not apply");
}

std::string share(size_t part, size_t whole) {
  return fmt::format("{:.1f} %", 100.0 * static_cast<double>(part) / static_cast<double>(whole));
}

}  // namespace

Style shipped_style(const std::string& name) {
  Complaints complaints;
  const std::string path = path_of_name(shipped_data(), "styles", name);
  const auto map = load_yaml(path, complaints, {path, {}, ""});
  if (!map) std::abort();
  return read_style(*map, "", {path, complaints});
}

Cloth shipped_cloth(const std::string& name) {
  Complaints complaints;
  const std::string path = path_of_name(shipped_data(), "cloths", name);
  const auto map = load_yaml(path, complaints, {path, {}, ""});
  if (!map) std::abort();
  return read_cloth(*map, "", {path, complaints});
}

Job population_job(const Body& body, const Style& style) {
  static const Cloth bolt = shipped_cloth("choir bolt");
  Job job;
  job.label = body.label;
  job.body = body;
  job.style = style;
  job.cloth = bolt;
  return job;
}

Wish just(const std::string& id, double value, double tolerance) {
  const auto name = find_name(id);
  if (!name) std::abort();
  Wish wish;
  wish.id = id;
  wish.lo = wish.hi = Expression(value, name->dimension);
  wish.tolerance = tolerance;
  return wish;
}

double thread_cpu_ms() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return 1e3 * static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_nsec);
}

bool Judged::holds(Level down_to) const {
  return std::none_of(verdicts.begin(), verdicts.end(), [down_to](const Verdict& v) {
    return v.missed && v.strength <= down_to;
  });
}

Judged judge(const Job& job, const Catalogue& catalogue, const FitResult& result) {
  Judged judged;
  judged.label = job.body.label;
  if (result.posed == nullptr) {
    judged.refused = true;
    return judged;
  }
  const Sheet sheet(job, catalogue, result);
  judged.route = result.switches[Switch::put_on];
  judged.verdicts = verdicts(sheet, job, catalogue);
  for (const Verdict& v : judged.verdicts) {
    judged.musts += v.strength == Level::must;
    judged.shoulds += v.strength == Level::should;
    judged.missed_at[static_cast<size_t>(v.strength)] += v.missed;
  }
  check_finite(result, judged.slips);
  check_measures(sheet, result, judged.slips);
  check_bounds(sheet, job, catalogue, judged.slips);
  check_findings(judged.verdicts, result, judged.slips);
  if (result.outcome.status == solver::Status::not_finite)
    judged.slips.push_back("the solver met a number that is not finite");
  return judged;
}

std::vector<Judged> judge_all(const std::vector<Body>& bodies,
                              const Style& style,
                              const Catalogue& catalogue) {
  std::vector<Judged> all(bodies.size());
  tbb::parallel_for(size_t{0}, bodies.size(), [&](size_t i) {
    const Job job = population_job(bodies[i], style);
    const double before = thread_cpu_ms();
    const FitResult result = fit(job, catalogue);
    const double after = thread_cpu_ms();
    all[i] = judge(job, catalogue, result);
    all[i].cpu_ms = after - before;
  });
  return all;
}

std::string summary(const std::string& title, const std::vector<Judged>& all) {
  std::map<std::string, size_t> missed;
  std::vector<double> cpu;
  size_t every = 0, asked = 0, musts = 0;
  for (const Judged& j : all) {
    if (j.refused) continue;
    every += j.holds(Level::wish);
    asked += j.holds(Level::should);
    musts += j.holds(Level::must);
    cpu.push_back(j.cpu_ms);
    for (const Verdict& v : j.verdicts) {
      if (v.missed && v.strength < Level::habit) ++missed[v.name];
    }
  }
  std::vector<std::pair<size_t, std::string>> most;
  for (const auto& [name, count] : missed) most.emplace_back(count, name);
  std::sort(most.rbegin(), most.rend());
  std::sort(cpu.begin(), cpu.end());
  if (cpu.empty()) return title + ": all refused";
  std::string text = fmt::format("{}: {} bodies; fit fully {}, musts and shoulds hold {}, musts {}",
                                 title,
                                 cpu.size(),
                                 share(every, cpu.size()),
                                 share(asked, cpu.size()),
                                 share(musts, cpu.size()));
  text += "\n  missed most:";
  for (size_t i = 0; i < std::min<size_t>(5, most.size()); ++i)
    text += fmt::format(" {} {},", most[i].second, most[i].first);
  text.back() = ';';
  text += fmt::format(" CPU of fit(): median {:.2f}, p95 {:.2f}, most {:.2f} ms",
                      cpu[cpu.size() / 2],
                      cpu[cpu.size() * 95 / 100],
                      cpu.back());
  return text;
}

}  // namespace easewright::tests
