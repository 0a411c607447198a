// Our solve beside general-purpose solvers on the same garment with the same derivatives: NLopt's
// SLSQP and Ipopt (peers.h), on open bodies (ANSUR 1988 women). Misses are counted by peers.h for
// all of them. At the first level where two differ by more than 0.001 tolerances (habits: 1 %) the
// one that misses more is worse; the table says at which level.

#include "model/fit.h"
#include "tests/bench/clock.h"
#include "tests/bench/peers.h"
#include "tests/model/demo.h"
#include "tests/model/survey.h"

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

namespace easewright {
namespace {

using bench::PeerOutcome;
using bench::quantile;
using bench::thread_cpu_ms;
using bench::Way;

using Totals = std::array<double, solver::kLevels>;

/// First level where a and b differ, and whose favour it is in (< 0: a's); kLevels where none does.
struct Order {
  int level = solver::kLevels;
  int sign = 0;
};

Order compare(const Totals& a, const Totals& b) {
  for (int level = 0; level < solver::kLevels; ++level) {
    const double x = a[static_cast<size_t>(level)], y = b[static_cast<size_t>(level)];
    const bool habit = level == static_cast<int>(solver::Level::habit);
    if (std::abs(x - y) > (habit ? 0.01 * std::max(x, y) + 1e-3 : 1e-3))
      return {level, x < y ? -1 : 1};
  }
  return {};
}

/// One peer over all bodies of a job.
struct Score {
  const char* peer;
  PeerOutcome (*solve)(const solver::Problem&, Way);
  Way way;
  std::vector<double> ratio = {}, ms = {};
  std::array<int, solver::kLevels> better = {}, worse = {};  // ours, by level
  int same = 0, failed = 0;
  std::vector<std::string> lost = {};  // bodies on which ours is worse above habit, and by how much
};

void run(const solver::Problem& problem,
         const std::string& label,
         const Totals& ours,
         double our_ms,
         Score& s) {
  const double from = thread_cpu_ms();
  const PeerOutcome theirs = s.solve(problem, s.way);
  s.ms.push_back(thread_cpu_ms() - from);
  s.ratio.push_back(s.ms.back() / our_ms);
  const Order order = compare(ours, theirs.total);
  if (order.sign == 0) {
    ++s.same;
  } else {
    const auto level = static_cast<size_t>(order.level);
    ++(order.sign < 0 ? s.better : s.worse)[level];
    if (order.sign > 0 && order.level < static_cast<int>(solver::Level::habit)) {
      s.lost.push_back(label + ": " + std::to_string(ours[level]) + " against " +
                       std::to_string(theirs.total[level]));
    }
  }
  s.failed += theirs.success ? 0 : 1;
}

void print(const Score& s) {
  std::printf("  %-18s %9.1f %7.0f %7.0f %8.0f   %4d |%4d %4d %4d %4d |%4d %4d %4d %4d   %6d\n",
              s.peer,
              quantile(s.ms, 0.5),
              quantile(s.ratio, 0.5),
              quantile(s.ratio, 0.05),
              quantile(s.ratio, 0.95),
              s.same,
              s.better[0],
              s.better[1],
              s.better[2],
              s.better[3],
              s.worse[0],
              s.worse[1],
              s.worse[2],
              s.worse[3],
              s.failed);
  for (const std::string& body : s.lost) std::printf("    ours worse on %s\n", body.c_str());
}

void bench_job(const char* what,
               const std::vector<std::string>& wishes,
               const std::vector<Body>& bodies) {
  Job job = tests::demo_job("choir/jobs/alto-2.yaml", {.wishes = wishes});
  std::vector<Score> scores = {
      {"SLSQP by levels", bench::solve_with_slsqp, Way::by_levels},
      {"SLSQP weighted", bench::solve_with_slsqp, Way::weighted},
      {"Ipopt by levels", bench::solve_with_ipopt, Way::by_levels},
      {"Ipopt weighted", bench::solve_with_ipopt, Way::weighted},
  };
  std::vector<double> ours_ms;
  int settled = 0;
  for (const Body& body : bodies) {
    job.body = body;
    const FitResult result = fit(job, tests::shipped_catalogue());
    if (result.posed == nullptr) continue;
    const solver::Problem& problem = result.posed->problem;
    const double from = thread_cpu_ms();
    const solver::Outcome ours = solver::solve(problem);
    ours_ms.push_back(thread_cpu_ms() - from);
    settled += ours.status == solver::Status::settled ? 1 : 0;
    const Totals counted = bench::totals(problem, ours.x);
    for (Score& s : scores) run(problem, body.label, counted, ours_ms.back(), s);
  }
  std::printf("\n%s: ours median %.2f, p95 %.2f ms; settled %d of %zu\n",
              what,
              quantile(ours_ms, 0.5),
              quantile(ours_ms, 0.95),
              settled,
              ours_ms.size());
  std::printf("  %-18s %9s %7s %7s %8s   %4s |%-19s |%-19s   %6s\n",
              "peer",
              "median ms",
              "ratio",
              "p5",
              "p95",
              "same",
              " ours better at",
              " ours worse at",
              "failed");
  std::printf("  %-18s %9s %7s %7s %8s   %4s |%4s %4s %4s %4s |%4s %4s %4s %4s\n",
              "",
              "",
              "",
              "",
              "",
              "",
              "must",
              "shld",
              "wish",
              "hab",
              "must",
              "shld",
              "wish",
              "hab");
  for (const Score& s : scores) print(s);
  std::fflush(stdout);
}

/// Every n-th, so that few bodies stand for all.
std::vector<Body> spread(const std::vector<Body>& all, size_t count) {
  std::vector<Body> some;
  for (size_t i = 0; i < std::min(count, all.size()); ++i)
    some.push_back(all[i * all.size() / std::min(count, all.size())]);
  return some;
}

}  // namespace
}  // namespace easewright

int main(int argc, char** argv) {
  using namespace easewright;
  const std::vector<Body> women = survey_women_1988();
  if (women.empty()) {
    std::printf("SKIPPED: no survey data; set EASEWRIGHT_BODIES\n");
    return 1;
  }
  const size_t count = argc > 1 ? static_cast<size_t>(std::max(1, std::atoi(argv[1]))) : 200;
  const std::vector<Body> bodies = spread(women, count);
  std::printf("%zu women of ANSUR 1988, the choir's dress; CPU time of one thread\n",
              bodies.size());
  bench_job("the style's wishes", {}, bodies);
  bench_job("neckline depth 18 cm", {"neckline depth 18 cm"}, bodies);
  const std::vector<Body> fewer = spread(women, (count + 3) / 4);
  bench_job("slit opening 40 cm", {"slit opening 40 cm"}, fewer);
  bench_job("strap width 9 cm", {"strap width 9 cm"}, fewer);
  return 0;
}
