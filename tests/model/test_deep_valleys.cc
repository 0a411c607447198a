// Two women on whom the deepest valley is easily passed by, found by general-purpose solvers: what
// they miss at wish level when musts and shoulds hold, from NLopt 2.7.1 (SLSQP, one program a
// level) and Ipopt 3.11 on the same garment with the same derivatives (tests/bench, bench_peers).

#include "model/fit.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <string>
#include <vector>

namespace easewright {
namespace {

struct Found {
  std::string body;
  std::vector<std::string> wishes;
  double wish_total;  ///< the lower of the two solvers', in tolerances
};

// kHolds is how far answers may differ and still count as the same.
void no_worse(const Body& body, const Found& found) {
  Job job = tests::demo_job("choir/jobs/alto-2.yaml", {.wishes = found.wishes});
  job.body = body;
  const FitResult result = fit(job, tests::shipped_catalogue());
  REQUIRE(result.posed);
  const auto& total = result.outcome.total;
  CHECK(total[static_cast<size_t>(solver::Level::must)] <= solver::kHolds);
  CHECK(total[static_cast<size_t>(solver::Level::should)] <= solver::kHolds);
  CHECK(total[static_cast<size_t>(solver::Level::wish)] <= found.wish_total + solver::kHolds);
}

}  // namespace

TEST_CASE("the valleys that other solvers find are found", "[population][survey]") {
  const std::vector<Found> all = {
      {"women 1988 no 221", {}, 1.469508},
      {"women 1988 no 221", {"neckline depth 18 cm"}, 7.787758},
      {"women 1988 no 221", {"slit opening 40 cm"}, 28.934666},
      {"women 1988 no 221", {"strap width 9 cm"}, 1.237565},
      {"women 1988 no 751", {"strap width 9 cm"}, 2.482651},
  };
  const std::vector<Body> women = survey_women_1988();
  if (women.empty()) {
    WARN("SKIPPED: no survey data; set EASEWRIGHT_BODIES");
    return;
  }
  for (const Found& found : all) {
    CAPTURE(found.body, found.wishes);
    const auto body = std::find_if(
        women.begin(), women.end(), [&](const Body& b) { return b.label == found.body; });
    REQUIRE(body != women.end());
    no_worse(*body, found);
  }
}

}  // namespace easewright
