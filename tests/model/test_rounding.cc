// Rounding keeps mates equal (cutter's notes, point 27: eighths are 0.32 cm, joined seams agree to
// 0.1; common practice).
#include "model/rounding.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <cmath>

namespace easewright::tests {
namespace {

using M = MeasureKey;

TEST_CASE("the draft in eighths keeps its mates equal, in every demo that fits") {
  for (const char* file :
       {"examples/sample.yaml", "choir/jobs/alto-2.yaml", "choir/jobs/soprano-1.yaml"}) {
    for (const LengthUnit unit : {LengthUnit::cm, LengthUnit::inch}) {
      INFO(file);
      const FitResult exact = fit(demo_job(file), shipped_catalogue());
      const FitResult rounded = as_rounded(exact, unit);
      CHECK_THAT(rounded.measures[M::bodice_side_mismatch], WithinAbs(0, 0.1));
      CHECK_THAT(rounded.measures[M::skirt_waist_mismatch], WithinAbs(0, 0.1));
      for (size_t i = 0; i < kValueKeys; ++i) {
        const auto key = static_cast<ValueKey>(i);
        if (!exact.has_value[i] || is_derived_mate(key)) continue;
        INFO(info(key).id);
        const double step = reading_step(unit, info(key).dimension);
        CHECK_THAT(rounded.values.at[i], WithinAbs(exact.values.at[i], step / 2 + 1e-9));
        const double steps = rounded.values.at[i] / step;
        const auto& variables = exact.posed->problem.variables;
        const auto at =
            static_cast<size_t>(std::find(exact.posed->keys.begin(), exact.posed->keys.end(), key) -
                                exact.posed->keys.begin());
        if (at == variables.size()) continue;
        const bool on_limit = rounded.values.at[i] == variables[at].lower ||
                              rounded.values.at[i] == variables[at].upper;
        CHECK((on_limit || std::abs(steps - std::round(steps)) < 1e-9));
      }
    }
  }
}

TEST_CASE("19.55 and 19.68 print alike in eighths") {
  const double step = reading_step(LengthUnit::inch, kLength);
  CHECK(std::round(19.55 / step) == std::round(19.68 / step));
  CHECK_THAT(step, WithinAbs(0.3175, 1e-12));
}

TEST_CASE(
    "what rounding loses is said: exact and rounded findings differ by no more than is listed") {
  const FitResult exact = fit(demo_job("examples/sample.yaml"), shipped_catalogue());
  const FitResult rounded = as_rounded(exact, LengthUnit::inch);
  size_t newly = 0;
  for (const Finding& f : rounded.findings)
    newly += f.missed && f.strength <= solver::Level::wish &&
             std::abs(f.miss) > kFeltByRounding * f.tolerance;
  CHECK(lost_by_rounding(exact, rounded).size() == newly);
}

TEST_CASE("fronts from equal panels: which half the overlap is (cutter's notes, point 25, exact)") {
  // P 40 cut, turned t 1.25: half the cut edge gives 1.5 P - 2 t, half the finished edge 1.5 (P -
  // t).
  const FitResult result = fit(demo_job("examples/sample.yaml"), shipped_catalogue());
  const auto across = [&](double overlap) {
    Values<double> v = result.values;
    v[ValueKey::skirt_front_width] = 40 - 1.25;
    v[ValueKey::skirt_overlap] = overlap;
    return measure(result.posed->frame, v)[M::skirt_front_across];
  };
  CHECK_THAT(across(40.0 / 2), WithinAbs(57.5, 1e-9));
  CHECK_THAT(across((40.0 - 1.25) / 2), WithinAbs(58.125, 1e-9));
}

}  // namespace
}  // namespace easewright::tests
