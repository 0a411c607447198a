// What the main job costs: the levelled solve of the full dress over 200 open bodies (ANSUR 1988
// women), with the style's own wishes and with wishes that ask too much; one evaluation with and
// without its Jacobian; and `fit` as a whole process.

#include "model/fit.h"
#include "tests/bench/clock.h"
#include "tests/model/demo.h"
#include "tests/model/survey.h"

#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace easewright {
namespace {

using bench::quantile;
using bench::thread_cpu_ms;
using tests::demo_job;
using tests::shipped_catalogue;

constexpr size_t kBodies = 200;

void bench_solve(const char* what,
                 const std::vector<std::string>& wishes,
                 const std::vector<Body>& bodies) {
  Job job = demo_job("choir/jobs/alto-2.yaml", {.wishes = wishes});
  std::vector<double> solve, whole;
  int all_hold = 0;
  for (const Body& body : bodies) {
    job.body = body;
    double from = thread_cpu_ms();
    const FitResult result = fit(job, shipped_catalogue());
    whole.push_back(thread_cpu_ms() - from);
    if (result.posed == nullptr) continue;
    from = thread_cpu_ms();
    const solver::Outcome outcome = solver::solve(result.posed->problem);
    solve.push_back(thread_cpu_ms() - from);
    all_hold += outcome.holds(result.posed->problem, solver::Level::wish);
  }
  std::printf(
      "%-22s solve median %6.2f  p95 %6.2f   fit() median %6.2f  p95 %6.2f ms   all holds for %3d "
      "of %zu\n",
      what,
      quantile(solve, 0.5),
      quantile(solve, 0.95),
      quantile(whole, 0.5),
      quantile(whole, 0.95),
      all_hold,
      bodies.size());
}

void bench_evaluation(const Body& body) {
  Job job = demo_job("choir/jobs/alto-2.yaml");
  job.body = body;
  const FitResult result = fit(job, shipped_catalogue());
  const solver::Problem& problem = result.posed->problem;
  std::vector<double> g(static_cast<size_t>(problem.m()));
  std::vector<double> jacobian(g.size() * static_cast<size_t>(problem.n()));
  constexpr int kRounds = 5000;
  const auto per_call = [&](double* slopes) {
    const double from = thread_cpu_ms();
    for (int i = 0; i < kRounds; ++i)
      problem.function->evaluate(result.outcome.x.data(), g.data(), slopes);
    return 1e3 * (thread_cpu_ms() - from) / kRounds;
  };
  const double values = per_call(nullptr);
  const double slopes = per_call(jacobian.data());
  std::printf("one evaluation (%d values, %d outputs): %.2f us, with its Jacobian %.2f us\n",
              problem.n(),
              problem.m(),
              values,
              slopes);
}

/// The whole process: start, files, solve, report.
void bench_process(const char* job) {
  std::vector<double> wall;
  const std::string path = EASEWRIGHT_SOURCE_DIR "/data/choir/jobs/" + std::string(job);
  for (int i = 0; i < 20; ++i) {
    const auto from = std::chrono::steady_clock::now();
    std::fflush(nullptr);  // or the child would print it all again
    const pid_t child = fork();
    if (child == 0) {
      if (std::freopen("/dev/null", "w", stdout) == nullptr) _exit(127);
      execl(EASEWRIGHT_PROGRAM, "easewright", "fit", path.c_str(), static_cast<char*>(nullptr));
      _exit(127);
    }
    int status = 0;
    waitpid(child, &status, 0);
    if (!WIFEXITED(status) || WEXITSTATUS(status) > 1) {
      std::printf("%s: the program failed\n", job);
      return;
    }
    wall.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - from).count());
  }
  rusage usage{};
  getrusage(RUSAGE_CHILDREN, &usage);
  std::printf(
      "fit %-15s as a process: median %.1f, most %.1f ms of wall time; peak memory so far %.1f "
      "MB\n",
      job,
      quantile(wall, 0.5),
      quantile(wall, 1),
      static_cast<double>(usage.ru_maxrss) / 1024);
}

}  // namespace
}  // namespace easewright

int main() {
  using namespace easewright;
  std::vector<Body> bodies = survey_women_1988();
  if (bodies.empty()) {
    std::printf("SKIPPED: no survey data; set EASEWRIGHT_BODIES\n");
    return 1;
  }
  bodies.resize(std::min(bodies.size(), kBodies));
  std::printf("CPU time of one thread over %zu women of ANSUR 1988\n", bodies.size());
  bench_solve("the style's wishes", {}, bodies);
  bench_solve("neckline depth 18 cm", {"neckline depth 18 cm"}, bodies);
  bench_solve("slit opening 40 cm", {"slit opening 40 cm"}, bodies);
  bench_solve("strap width 9 cm", {"strap width 9 cm"}, bodies);
  bench_evaluation(bodies.front());
  bench_process("alto-2.yaml");
  bench_process("alto-1.yaml");
  return 0;
}
