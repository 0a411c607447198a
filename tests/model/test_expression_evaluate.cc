// The values of expressions and their derivatives, at the corners of min, max and abs too.

#include "tests/model/expression_sheet.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <ceres/jet.h>

namespace easewright::tests {

TEST_CASE(
    "min, max and abs differ from the exact ones by at most 0.001 cm, the farther from the corner "
    "the less") {
  Sheet<double> sheet;
  double& a = sheet.measures[static_cast<size_t>(MeasureKey::armhole_girth)];
  double& b = sheet.measures[static_cast<size_t>(MeasureKey::neckline_edge)];
  const Expression least = parsed("min(armhole.girth, neckline.edge)"),
                   most = parsed("max(armhole.girth, neckline.edge)");
  const Expression size = parsed("abs(armhole.girth - neckline.edge)");
  b = 40;
  for (const double gap : {-30.0, -1.0, -0.01, -0.001, -1e-5, 0.0, 1e-5, 0.001, 0.01, 1.0, 30.0}) {
    a = 40 + gap;
    const double within = std::abs(gap) >= 0.01 ? 1e-4 : 1e-3;
    CHECK_THAT(least.evaluate(sheet.facts()), WithinAbs(std::min(a, b), within));
    CHECK_THAT(most.evaluate(sheet.facts()), WithinAbs(std::max(a, b), within));
    CHECK_THAT(size.evaluate(sheet.facts()), WithinAbs(std::abs(gap), within));
    CHECK_THAT(least.evaluate(sheet.facts()) + most.evaluate(sheet.facts()),
               WithinAbs(a + b, 1e-12));
  }
  // An angle is rounded less: 0.1 milliradian.
  sheet.measures[static_cast<size_t>(MeasureKey::shaping_total)] = 0;
  CHECK_THAT(parsed("abs(shaping.total)").evaluate(sheet.facts()), WithinAbs(0, 1.001e-4));
}

TEST_CASE("derivatives by jets agree with differences, at the corners too") {
  using Jet = ceres::Jet<double, 3>;
  const char* const texts[] = {"armhole.girth - 2 * neckline.edge + neckline.depth / 4",
                               "armhole.girth * neckline.depth / neckline.edge",
                               "min(armhole.girth, neckline.edge) - max(neckline.depth, 3 cm)",
                               "max(armhole.girth, neckline.edge, 4 * neckline.depth)",
                               "abs(armhole.girth - neckline.edge)",
                               "-armhole.girth / (2 + neckline.edge / body.bust_girth)",
                               "3 cm - armhole.girth",
                               "8 cm * armhole.girth / neckline.edge"};
  const double gaps[] = {5, 0.3, 1e-3, 3e-4, 0, -3e-4, -1e-3, -0.3};
  for (const char* text : texts) {
    const Expression expression = parsed(text);
    for (const double gap : gaps) {
      const auto place = [&](auto& sheet, auto a, auto b, auto d) {
        sheet.measures[static_cast<size_t>(MeasureKey::armhole_girth)] = a;
        sheet.measures[static_cast<size_t>(MeasureKey::neckline_edge)] = b;
        sheet.values[static_cast<size_t>(ValueKey::neckline_depth)] = d;
      };
      const std::array<double, 3> x = {40 + gap, 40, 10};
      Sheet<Jet> jets;
      place(jets, Jet(x[0], 0), Jet(x[1], 1), Jet(x[2], 2));
      const Jet got = expression.evaluate(jets.facts());
      const auto plain = [&](std::array<double, 3> at) {
        Sheet<double> sheet;
        place(sheet, at[0], at[1], at[2]);
        return expression.evaluate(sheet.facts());
      };
      INFO(text << " gap " << gap);
      CHECK_THAT(got.a, WithinAbs(plain(x), 1e-12));
      for (size_t i = 0; i < 3; ++i) {
        // h well inside the corner's 1e-3; the difference errs by h^2 f''' / 6 and by rounding / h.
        const double h = 2e-6;
        auto up = x, down = x;
        up[i] += h, down[i] -= h;
        CHECK_THAT(got.v[static_cast<int>(i)],
                   WithinAbs((plain(up) - plain(down)) / (2 * h), 1e-4));
      }
    }
  }
}

TEST_CASE("a wide jet gives what a narrow one gives") {
  using Wide = ceres::Jet<double, 28>;
  Sheet<Wide> sheet;
  sheet.measures[static_cast<size_t>(MeasureKey::armhole_girth)] = Wide(46, 17);
  sheet.measures[static_cast<size_t>(MeasureKey::neckline_edge)] = Wide(60, 3);
  const Wide got = parsed("2 * armhole.girth - neckline.edge / 4").evaluate(sheet.facts());
  CHECK(got.a == 77);
  CHECK(got.v[17] == 2);
  CHECK(got.v[3] == -0.25);
  CHECK(got.v.cwiseAbs().sum() == 2.25);
}

}  // namespace easewright::tests
