// What the main job costs: the levelled solve of the full dress over 200 open bodies (ANSUR 1988
// women), with the style's own wishes and with wishes that ask too much; what else fit() does; one
// evaluation with and without its Jacobian; and `fit` as a whole process. Machines differ and are
// shared: read the ratios.

#include "model/fit.h"
#include "tests/bench/clock.h"
#include "tests/bench/process.h"
#include "tests/model/demo.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <cstdio>
#include <functional>
#include <string>
#include <vector>

namespace easewright {
namespace {

using bench::quantile;
using bench::thread_cpu_ms;
using tests::demo_job;
using tests::shipped_catalogue;

constexpr size_t kBodies = 200;
constexpr int kRounds = 5;

/// Median of `kRounds` runs, in ms of CPU time.
double median_ms(const std::function<void()>& run) {
  std::vector<double> times;
  for (int i = 0; i < kRounds; ++i) {
    const double from = thread_cpu_ms();
    run();
    times.push_back(thread_cpu_ms() - from);
  }
  return quantile(times, 0.5);
}

/// One job over all bodies; returns the median of the solve, ms.
double bench_solve(const char* what,
                   const std::vector<std::string>& wishes,
                   const std::vector<Body>& bodies,
                   double default_ms) {
  Job job = demo_job("choir/jobs/alto-2.yaml", {.wishes = wishes});
  std::vector<double> solve, whole, starts;
  int all_hold = 0, settled = 0;
  for (const Body& body : bodies) {
    job.body = body;
    const FitResult result = fit(job, shipped_catalogue());
    if (result.posed == nullptr) continue;
    whole.push_back(median_ms([&] { fit(job, shipped_catalogue()); }));
    solve.push_back(median_ms([&] { solver::solve(result.posed->problem); }));
    starts.push_back(result.outcome.starts_tried);
    all_hold += result.outcome.holds(result.posed->problem, solver::Level::wish);
    settled += result.outcome.status == solver::Status::settled;
  }
  const double median = quantile(solve, 0.5);
  std::printf("%-22s %8.2f %8.2f %8.2f %8.2f %10.2f %8.2f %7.1f %6d %8d\n",
              what,
              median,
              quantile(solve, 0.95),
              quantile(solve, 1),
              default_ms > 0 ? median / default_ms : 1,
              quantile(whole, 0.5),
              quantile(whole, 0.95),
              quantile(starts, 0.5),
              all_hold,
              settled);
  return median;
}

/// Completing the body, posing the problem, one evaluation; against the solve.
void bench_parts(const Body& body, double solve_ms) {
  Job job = demo_job("choir/jobs/alto-2.yaml");
  job.body = body;
  const Catalogue& catalogue = shipped_catalogue();
  const FitResult result = fit(job, catalogue);
  const solver::Problem& problem = result.posed->problem;
  std::vector<double> g(static_cast<size_t>(problem.m()));
  std::vector<double> jacobian(g.size() * static_cast<size_t>(problem.n()));
  constexpr int kCalls = 1000;
  const auto per_call_us = [&](const std::function<void()>& run) {
    return 1e3 / kCalls * median_ms([&] {
             for (int i = 0; i < kCalls; ++i) run();
           });
  };
  const auto evaluate = [&](double* slopes) {
    problem.function->evaluate(result.outcome.x.data(), g.data(), slopes);
  };
  const struct {
    const char* what;
    double us;
  } parts[] = {
      {"one evaluation", per_call_us([&] { evaluate(nullptr); })},
      {"with its Jacobian", per_call_us([&] { evaluate(jacobian.data()); })},
      {"pose the problem",
       per_call_us([&] { pose(job, catalogue, result.completed.body, result.switches); })},
      {"complete the body",
       per_call_us([&] { complete(job.body, WaistLevel::natural, catalogue.bodies); })},
  };
  std::printf("\n%d values, %d outputs; in us, and how many of it a median solve takes\n",
              problem.n(),
              problem.m());
  for (const auto& part : parts)
    std::printf("%-22s %8.2f %8.0f\n", part.what, part.us, 1e3 * solve_ms / part.us);
}

}  // namespace
}  // namespace easewright

int main() {
  using namespace easewright;
  const std::vector<Body> women = survey_women_1988();
  if (women.empty()) {
    std::printf("SKIPPED: no survey data; set EASEWRIGHT_BODIES\n");
    return 1;
  }
  std::vector<Body> bodies;
  for (size_t i = 0; i < kBodies; ++i) bodies.push_back(women[i * women.size() / kBodies]);

  std::printf("ms of CPU time, %zu women of ANSUR 1988, median of %d rounds each\n",
              bodies.size(),
              kRounds);
  std::printf("%-22s %8s %8s %8s %8s %10s %8s %7s %6s %8s\n",
              "",
              "solve",
              "p95",
              "most",
              "ratio",
              "fit()",
              "p95",
              "starts",
              "holds",
              "settled");
  const double usual = bench_solve("the style's wishes", {}, bodies, 0);
  bench_solve("neckline depth 18 cm", {"neckline depth 18 cm"}, bodies, usual);
  bench_solve("slit opening 40 cm", {"slit opening 40 cm"}, bodies, usual);
  bench_solve("strap width 9 cm", {"strap width 9 cm"}, bodies, usual);
  bench_parts(bodies.front(), usual);

  bench::print_process_head();
  const std::string jobs = EASEWRIGHT_SOURCE_DIR "/data/choir/jobs/";
  bench::print_process("--version, the floor", {"--version"});
  bench::print_process("fit alto-2, all holds", {"fit", jobs + "alto-2.yaml"});
  bench::print_process("fit alto-1, misses explained", {"fit", jobs + "alto-1.yaml"});
  return 0;
}
