// Which measures decide the fit: table F of a cutter's notes ('ask, or widen the error') against
// what the program advises to tape. The notes rank by experience; the advice is computed from the
// errors of the estimates and the slopes of the rules.

#include "model/uncertainty.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/population.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

namespace easewright::tests {
namespace {

using B = BodyKey;

/// Table F, those that are measures of a body here. 'Natural waist level' is the back and front
/// waist length; 'armpit level front and back' the scye depth and the armpit's height; 'waist to
/// floor at three places', the three waist heights.
const std::vector<BodyKey>& table_f() {
  static const std::vector<BodyKey> keys = {
      B::side_neck_to_bust_point,
      B::bust_point_width,
      B::front_over_bust,
      B::front_waist_length,
      B::back_waist_length,
      B::shoulder_girth,
      B::across_front,
      B::across_back,
      B::scye_depth,
      B::armpit_height,
      B::shoulder_slope,
      B::underbust_girth,
      B::waist_height,
      B::waist_height_front,
      B::waist_height_back,
      B::hip_breadth_sitting,
      B::buttock_knee_length,
      B::head_girth,
      B::underwear_strap_width,
  };
  return keys;
}

constexpr BodyKey kUsual[] = {B::bust_girth, B::waist_girth, B::hip_girth, B::stature, B::age};

bool is_in_table_f(BodyKey key) {
  return std::find(table_f().begin(), table_f().end(), key) != table_f().end();
}

}  // namespace

TEST_CASE("what is to be taped first is what a cutter asks for first (table F)", "[survey]") {
  const std::vector<Body> women = survey_women_1988();
  if (women.empty()) {
    WARN("SKIPPED: the open survey of 1988 is not there");
    return;
  }
  const Style style = shipped_style("concert dress");
  size_t named = 0, listed = 0;
  std::map<std::string, int> counts;
  for (size_t i = 0; i < women.size(); i += 40) {
    // The tapes that everybody takes; all else is estimated, in the table or not.
    Body body = women[i];
    for (int k = 0; k < kBodyKeys; ++k) {
      const auto key = static_cast<BodyKey>(k);
      if (std::find(std::begin(kUsual), std::end(kUsual), key) == std::end(kUsual))
        body[key].reset();
    }
    const Job job = population_job(body, style);
    const FitResult result = fit(job, shipped_catalogue());
    if (result.posed == nullptr) continue;
    for (const TapeAdvice& advice : uncertainty(job, shipped_catalogue(), result).advice) {
      ++named;
      listed += is_in_table_f(advice.key) ? 1 : 0;
      ++counts[std::string(info(advice.key).id)];
    }
  }
  std::string told;
  for (const auto& [key, count] : counts) told += " " + key + " " + std::to_string(count);
  REQUIRE(named >= 40);
  // Most of what is named stands in the table; chance would name the table's 19 of 51 measures.
  CHECK(listed * 2 > named);
  WARN(listed << " of " << named << " stand in the table:" << told);
}

}  // namespace easewright::tests
