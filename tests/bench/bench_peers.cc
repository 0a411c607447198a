// Our solve beside general-purpose solvers on the same garment with the same derivatives: NLopt's
// SLSQP and Ipopt, each level by level with slacks (peers.h), on 200 open bodies (ANSUR 1988
// women). A result is worse than another when at the first level where they differ by more than
// 0.001 tolerances it misses more.

#include "model/fit.h"
#include "tests/bench/clock.h"
#include "tests/bench/peers.h"
#include "tests/model/demo.h"
#include "tests/model/survey.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

namespace easewright {
namespace {

using bench::PeerOutcome;
using bench::quantile;
using bench::thread_cpu_ms;

using Totals = std::array<double, solver::kLevels>;

/// < 0: a is better, 0: no level above habit differs, > 0: a is worse.
int compare(const Totals& a, const Totals& b) {
  for (int level = 0; level < static_cast<int>(solver::Level::habit); ++level) {
    const double difference = a[static_cast<size_t>(level)] - b[static_cast<size_t>(level)];
    if (std::abs(difference) > 1e-3) return difference < 0 ? -1 : 1;
  }
  return 0;
}

/// Sums of misses as the peers count them; for our outcome they are its own totals.
struct Score {
  std::vector<double> ratio;
  int ours_better = 0, same = 0, ours_worse = 0, failed = 0;
};

void score(
    const Totals& ours, double our_ms, const PeerOutcome& theirs, double their_ms, Score& s) {
  s.ratio.push_back(their_ms / our_ms);
  const int order = compare(ours, theirs.total);
  (order < 0 ? s.ours_better : order > 0 ? s.ours_worse : s.same) += 1;
  s.failed += theirs.success ? 0 : 1;
}

void print(const char* peer, const Score& s) {
  std::printf(
      "  %-12s %5.0f times ours at the median (5 %% %4.0f, 95 %% %5.0f); ours better %3d, same "
      "%3d, worse %3d; "
      "it ended without success %3d\n",
      peer,
      quantile(s.ratio, 0.5),
      quantile(s.ratio, 0.05),
      quantile(s.ratio, 0.95),
      s.ours_better,
      s.same,
      s.ours_worse,
      s.failed);
}

void bench_job(const char* what,
               const std::vector<std::string>& wishes,
               const std::vector<Body>& bodies) {
  Job job = tests::demo_job("choir/jobs/alto-2.yaml", {.wishes = wishes});
  Score slsqp, ipopt;
  std::vector<double> ours_ms;
  for (const Body& body : bodies) {
    job.body = body;
    const FitResult result = fit(job, tests::shipped_catalogue());
    if (result.posed == nullptr) continue;
    const solver::Problem& problem = result.posed->problem;
    double from = thread_cpu_ms();
    const solver::Outcome ours = solver::solve(problem);
    const double our_ms = thread_cpu_ms() - from;
    ours_ms.push_back(our_ms);
    from = thread_cpu_ms();
    const PeerOutcome a = bench::solve_with_slsqp(problem);
    score(ours.total, our_ms, a, thread_cpu_ms() - from, slsqp);
    from = thread_cpu_ms();
    const PeerOutcome b = bench::solve_with_ipopt(problem);
    score(ours.total, our_ms, b, thread_cpu_ms() - from, ipopt);
  }
  std::printf("%s: ours median %.2f ms of CPU\n", what, quantile(ours_ms, 0.5));
  print("NLopt SLSQP", slsqp);
  print("Ipopt", ipopt);
}

}  // namespace
}  // namespace easewright

int main(int argc, char** argv) {
  using namespace easewright;
  std::vector<Body> bodies = survey_women_1988();
  if (bodies.empty()) {
    std::printf("SKIPPED: no survey data; set EASEWRIGHT_BODIES\n");
    return 1;
  }
  const size_t count = argc > 1 ? static_cast<size_t>(std::max(1, std::atoi(argv[1]))) : 200;
  bodies.resize(std::min(bodies.size(), count));
  std::printf("%zu women of ANSUR 1988, the choir's dress\n", bodies.size());
  bench_job("the style's wishes", {}, bodies);
  bench_job("neckline depth 18 cm", {"neckline depth 18 cm"}, bodies);
  return 0;
}
