// What an explanation, a reach and a map cost: 100 women of an open survey (ANSUR 1988), each in
// the choir's dress with a wish that asks too much. CPU time of this process; the map's is wall
// time on two threads.

#include "model/explain.h"
#include "model/explore.h"
#include "model/uncertainty.h"
#include "solver/remedy.h"
#include "tests/bench/clock.h"
#include "tests/model/demo.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <cstdio>
#include <string>
#include <vector>

#include <sys/resource.h>

namespace easewright {
namespace {

using bench::process_cpu_ms;
using bench::wall_ms;
using tests::demo_job;
using tests::shipped_catalogue;

constexpr size_t kBodies = 100;
constexpr size_t kMaps = 10;

void print(const char* what, std::vector<double> times) {
  if (times.empty()) {
    std::printf("%-44s nothing to measure\n", what);
    return;
  }
  std::sort(times.begin(), times.end());
  const auto at = [&times](double share) {
    return times[static_cast<size_t>(share * static_cast<double>(times.size() - 1))];
  };
  std::printf("%-44s n %4zu  median %8.2f  p95 %8.2f  most %8.2f ms\n",
              what,
              times.size(),
              at(0.5),
              at(0.95),
              times.back());
}

std::vector<Body> some_women() {
  const std::vector<Body> all = survey_women_1988();
  std::vector<Body> some;
  for (size_t i = 0; i < kBodies && !all.empty(); ++i)
    some.push_back(all[i * all.size() / kBodies]);
  return some;
}

/// As model/explain.cc asks: wishes and limits give, rules don't.
bool is_wish_or_limit(const FitResult& result, const solver::Member& member) {
  const Participant p = participant_of(result, member);
  return p.kind == Participant::Kind::limit ? p.at != 0 : p.kind == Participant::Kind::wish;
}

/// Conflict, its proof and the price of its remedies, for one missed output; nothing fitted again.
double explain_unverified(const FitResult& result, int output) {
  const double begin = process_cpu_ms();
  solver::ConflictOptions conflict_options;
  conflict_options.changeable = [&](const solver::Member& m) {
    return is_wish_or_limit(result, m) ? 1.0 : 0.0;
  };
  const auto conflict =
      solver::find_conflict(result.posed->problem, result.outcome, output, conflict_options);
  solver::RemedyOptions remedy_options;
  remedy_options.most_pairs = 12;
  remedy_options.may_give = [&](const solver::Member& m) { return is_wish_or_limit(result, m); };
  const auto remedies =
      solver::find_remedies(result.posed->problem, result.outcome, conflict, remedy_options);
  return process_cpu_ms() - begin + (remedies.size() > 1000000 ? 1 : 0);
}

void bench_wish(const char* wish, const std::vector<Body>& bodies) {
  Job job = demo_job("choir/jobs/soprano-1.yaml", {.wishes = {wish}});
  std::vector<double> bare, full;
  size_t misses = 0, proved = 0, cures = 0;
  for (const Body& body : bodies) {
    job.body = body;
    const FitResult result = fit(job, shipped_catalogue());
    if (result.posed == nullptr) continue;
    for (const Finding& f : result.findings) {
      if (f.missed && f.strength <= solver::Level::wish)
        bare.push_back(explain_unverified(result, f.outputs.front()));
    }
    const double begin = process_cpu_ms();
    const auto explanations = explain(job, shipped_catalogue(), result);
    const double spent = process_cpu_ms() - begin;
    for (const Explanation& e : explanations) {
      full.push_back(spent / static_cast<double>(explanations.size()));
      ++misses;
      proved += e.proved ? 1 : 0;
      cures += e.cures.size();
    }
  }
  std::printf("\n%s: %zu misses, %zu proved, %zu cures\n", wish, misses, proved, cures);
  print("  conflict, proof and remedies of one miss", bare);
  print("  the same with cures tried by fitting", full);
}

void bench_reach_and_map(const std::vector<Body>& bodies) {
  const std::vector<ValueKey> values = {
      ValueKey::neckline_depth,
      ValueKey::neckline_back_depth,
      ValueKey::strap_inset,
      ValueKey::strap_width,
      ValueKey::armhole_drop,
      ValueKey::bodice_blouson,
      ValueKey::belt_width,
      ValueKey::elastic_length,
      ValueKey::skirt_length,
      ValueKey::skirt_overlap,
      ValueKey::skirt_flare,
      ValueKey::slit_start,
  };
  Job job = demo_job("choir/jobs/soprano-1.yaml");
  std::vector<double> reaches, maps, doubts, effects;
  for (size_t i = 0; i < bodies.size(); ++i) {
    job.body = bodies[i];
    const FitResult result = fit(job, shipped_catalogue());
    if (result.posed == nullptr) continue;
    double begin = process_cpu_ms();
    const auto found = reach(result, values);
    reaches.push_back(process_cpu_ms() - begin);
    if (found.size() != values.size()) std::printf("only %zu values have a reach\n", found.size());
    begin = process_cpu_ms();
    const auto sure = uncertainty(job, shipped_catalogue(), result);
    doubts.push_back(process_cpu_ms() - begin);
    begin = process_cpu_ms();
    const auto moved = wish_effects(result);
    effects.push_back(process_cpu_ms() - begin);
    if (sure.rules.empty() || moved.empty()) std::printf("nothing is known of a body\n");
    if (i % (kBodies / kMaps) != 0) continue;
    begin = wall_ms();
    const auto map = map_values(
        result, {ValueKey::neckline_depth, 0, 0}, {ValueKey::strap_width, 0, 0}, 48, 48, 2);
    maps.push_back(wall_ms() - begin);
    if (map.map.cells.size() != 48 * 48) std::printf("the map lacks cells\n");
  }
  std::printf("\n");
  print("reach of 12 values", reaches);
  print("how sure every rule is", doubts);
  print("effects of every wish", effects);
  print("map of 48 x 48, wall, two threads", maps);
}

}  // namespace
}  // namespace easewright

int main() {
  using namespace easewright;
  const std::vector<Body> bodies = some_women();
  if (bodies.empty()) {
    std::printf("SKIPPED: the survey is absent (EASEWRIGHT_BODIES)\n");
    return 0;
  }
  for (const char* wish :
       {"neckline depth 20 cm", "strap width 9 cm", "slit opening above knee 12 cm"})
    bench_wish(wish, bodies);
  bench_reach_and_map(bodies);
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::printf("\npeak memory %.0f MB\n", static_cast<double>(usage.ru_maxrss) / 1024);
  return 0;
}
