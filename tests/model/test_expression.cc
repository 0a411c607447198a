// Expressions: arithmetic as the compiler does it, units by their definitions, names by the
// catalogues.

#include "tests/model/expression_sheet.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

namespace easewright::tests {

TEST_CASE("arithmetic is the compiler's own, on the same line of text") {
  struct Line {
    const char* text;
    double value;
  };
  const auto min = [](double a, double b) { return std::min(a, b); };
  const auto max = [](double a, double b) { return std::max(a, b); };
  const auto abs = [](double a) { return std::abs(a); };
#define LINE(...) \
  Line { #__VA_ARGS__, __VA_ARGS__ }
  const Line lines[] = {
      LINE(1.0 + 2.0 * 3.0),
      LINE((1.0 + 2.0) * 3.0),
      LINE(7.0 - 4.0 - 2.0),
      LINE(7.0 - (4.0 - 2.0)),
      LINE(24.0 / 4.0 / 2.0),
      LINE(24.0 / (4.0 / 2.0)),
      LINE(24.0 / 4.0 * 2.0),
      LINE(-3.0 * -2.0),
      LINE(2.0 - -3.0),
      LINE(-(2.0 + 3.0) * 4.0),
      LINE(2.0 * -(3.0 - 5.0)),
      LINE(- -3.0),
      LINE(0.1 + 0.2),
      LINE(1.0 / 3.0 + 1.0 / 7.0),
      LINE(body.bust_girth / 4.0 + body.waist_girth / 8.0),
      LINE(body.bust_girth - body.waist_girth - body.hip_girth),
      LINE(body.bust_girth - (body.waist_girth - body.hip_girth)),
      LINE(2.0 * body.bust_girth),
      LINE(body.bust_girth * 2.0),
      LINE(2.0 * (body.bust_girth + neckline.depth)),
      LINE(body.bust_girth / body.waist_girth),
      LINE(body.bust_girth * body.waist_girth / body.hip_girth),
      LINE(neckline.edge - body.head_girth),
      LINE(body.head_girth - neckline.edge),
      LINE(body.head_girth / neckline.edge),
      LINE((neckline.edge - body.head_girth) / (armhole.girth - armhole.ease)),
      LINE(0.5 * (armhole.girth + 2.0 * (neckline.edge - neckline.depth))),
      LINE(armhole.girth / (1.0 + cloth.stretch)),
      LINE(cloth.width * (1.0 - 0.03) - 2.0 * (armhole.girth + body.hip_girth * 0.25)),
      LINE(-body.bust_girth + -neckline.depth),
      LINE(min(armhole.girth, neckline.edge) + max(neckline.depth, armhole.ease)),
      LINE(max(body.bust_girth, min(body.hip_girth, neckline.edge))),
      LINE(abs(armhole.ease - neckline.depth)),
      LINE(min(3.0, 2.0) * max(body.bust_girth / 4.0, body.waist_girth / 4.0)),
      LINE(neckline.depth -
           (neckline.edge - (armhole.girth - (armhole.ease - (body.hip_girth - body.head_girth))))),
  };
#undef LINE
  for (const Line& line : lines) {
    INFO(line.text);
    // Rounding alone; where a corner is rounded (all of them 1 or more away from it) w^2 / 4 gap.
    const auto calls = [&line](const char* function) {
      return std::string(line.text).find(function) != std::string::npos;
    };
    const bool rounded = calls("min(") || calls("max(") || calls("abs(");
    CHECK_THAT(value_of(line.text), WithinAbs(line.value, rounded ? 1e-6 : 1e-12));
  }
}

TEST_CASE("units are exact by definition (international inch 2.54 cm, SI)") {
  struct Row {
    const char* text;
    double inside;
    Dimension dimension;
  };
  const Row rows[] = {{"1 in", 2.54, kLength},
                      {"1 inch", 2.54, kLength},
                      {"2 inches", 5.08, kLength},
                      {"1\"", 2.54, kLength},
                      {"1 3/4 in", 1.75 * 2.54, kLength},
                      {"3/8 in", 0.375 * 2.54, kLength},
                      {"1½ in", 1.5 * 2.54, kLength},
                      {"⅝ in", 0.625 * 2.54, kLength},
                      {"1 3/4", 1.75, kRatio},
                      {"2.5cm", 2.5, kLength},
                      {"25 mm", 2.5, kLength},
                      {"1.5 m", 150, kLength},
                      {"90 deg", kPi / 2, kAngle},
                      {"90°", kPi / 2, kAngle},
                      {"30 %", 0.3, kRatio},
                      {"30%", 0.3, kRatio},
                      {"34 years", 34, kTime},
                      {"0.5", 0.5, kRatio},
                      {".5 cm", 0.5, kLength},
                      {"3 / 4 in", 0.75 / 2.54, {-1, 0, 0}},  // with spaces a division
                      {"2 cm × 3", 6, kLength},
                      {"6 cm ÷ 3", 2, kLength},
                      {"6 cm − 2 cm", 4, kLength},
                      {"1 in + 1 cm", 3.54, kLength},
                      {"2 cm * 3 cm", 6, {2, 0, 0}},
                      {"+5 cm", 5, kLength}};
  for (const Row& row : rows) {
    INFO(row.text);
    const Expression expression = parsed(row.text);
    CHECK(expression.dimension() == row.dimension);
    CHECK_THAT(expression.evaluate(Facts<double>{}), WithinRel(row.inside, 1e-15));
    CHECK(expression.is_given());
    CHECK(expression.names().empty());
  }
}

TEST_CASE("a constant writes itself so that it reads back the same") {
  const Dimension dimensions[] = {kRatio, kLength, kTime, {2, 0, 0}, {-1, 0, 0}, {1, 1, 0}};
  for (const Dimension d : dimensions) {
    for (const double value : {0.0, 2.5, -2.5, 1e-7, 123456.789, 1.0 / 3}) {
      const Expression constant(value, d);
      INFO(constant.text());
      const Expression again = parsed(constant.text());
      CHECK(again.dimension() == d);
      CHECK(again.evaluate(Facts<double>{}) == value);
      CHECK(constant.evaluate(Facts<double>{}) == value);
    }
  }
  // Angles pass through degrees, so a last bit may go.
  const Expression angle = parsed(Expression(0.3, kAngle).text());
  CHECK(angle.dimension() == kAngle);
  CHECK_THAT(angle.evaluate(Facts<double>{}), WithinRel(0.3, 1e-15));
}

TEST_CASE("an expression's text reads back to the same expression") {
  for (const std::string text : {"armhole.girth - body.armscye_girth",
                                 "min(neckline.depth, 10 cm)  / 2",
                                 "1 3/4 in",
                                 "(1 + cloth.stretch) * neckline.edge"}) {
    const Expression first = parsed("  " + text + "\t");
    CHECK(first.text() == text);
    const Expression second = parsed(first.text());
    CHECK(second.evaluate(Sheet<double>().facts()) == first.evaluate(Sheet<double>().facts()));
    CHECK(second.names().size() == first.names().size());
  }
}

TEST_CASE("every name of every catalogue is known, under its own place and dimension") {
  size_t count = 0;
  const auto check = [&count](
                         const std::string& id, NameKind kind, int index, Dimension dimension) {
    INFO(id);
    const auto name = find_name(id);
    REQUIRE(name);
    CHECK(name->kind == kind);
    CHECK(name->index == index);
    CHECK(name->dimension == dimension);
    CHECK(parsed(id).is_given() == (kind == NameKind::body || kind == NameKind::cloth));
    ++count;
  };
  for (int i = 0; i < kValueKeys; ++i) {
    const ValueInfo& value = info(static_cast<ValueKey>(i));
    check(std::string(value.id), NameKind::value, i, value.dimension);
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const MeasureInfo& measure = info(static_cast<MeasureKey>(i));
    check(std::string(measure.id), NameKind::measure, i, measure.dimension);
  }
  for (int i = 0; i < kBodyKeys; ++i) {
    const BodyMeasureInfo& measure = info(static_cast<BodyKey>(i));
    check("body." + std::string(measure.id), NameKind::body, i, measure.dimension);
  }
  for (int i = 0; i < kClothFacts; ++i) {
    check("cloth." + std::string(cloth_fact(i).id), NameKind::cloth, i, cloth_fact(i).dimension);
  }
  CHECK(all_names().size() == count);
  CHECK(std::set<std::string>(all_names().begin(), all_names().end()).size() == count);
  CHECK_FALSE(find_name("armhole girth"));
  CHECK_FALSE(find_name("bust_girth"));
  CHECK_FALSE(find_name(""));
}

TEST_CASE("names are listed once each, in order") {
  const auto names =
      parsed("armhole.girth - 2 * (body.bust_girth + armhole.girth) - neckline.depth").names();
  REQUIRE(names.size() == 3);
  CHECK(names[0].kind == NameKind::measure);
  CHECK(names[1].kind == NameKind::body);
  CHECK(names[2].kind == NameKind::value);
}

}  // namespace easewright::tests
