// Expressions: arithmetic as the compiler does it, units by their definitions, derivatives by
// differences, and any text at all without harm.

#include "model/body/measures.h"
#include "model/cloth.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"
#include "model/rules/expression.h"
#include "model/rules/expression_evaluate.h"
#include "tests/catch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <set>
#include <string>

#include <ceres/jet.h>

namespace easewright {
namespace {

// Figures under the names that expressions use, so that one line of text is an expression of ours
// and of C++.
struct {
  double bust_girth = 92, waist_girth = 74, hip_girth = 98.25, head_girth = 56.5,
         shoulder_slope = 0.3;
} const body;
struct {
  double width = 140, stretch = 0.25;
} const cloth;
struct {
  double depth = 9.75, edge = 61.5;
} const neckline;
struct {
  double girth = 46.2, ease = 2.75;
} const armhole;

template <typename T>
struct Sheet {
  std::array<T, kValueKeys> values{};
  std::array<T, kMeasureKeys> measures{};
  std::array<double, kBodyKeys> bodies{};
  std::array<double, kClothFacts> cloths{};

  Sheet() {
    const auto at = [](auto key) { return static_cast<size_t>(key); };
    bodies[at(BodyKey::bust_girth)] = body.bust_girth;
    bodies[at(BodyKey::waist_girth)] = body.waist_girth;
    bodies[at(BodyKey::hip_girth)] = body.hip_girth;
    bodies[at(BodyKey::head_girth)] = body.head_girth;
    bodies[at(BodyKey::shoulder_slope)] = body.shoulder_slope;
    for (size_t i = 0; i < kClothFacts; ++i) {
      if (cloth_fact(static_cast<int>(i)).id == "width") cloths[i] = cloth.width;
      if (cloth_fact(static_cast<int>(i)).id == "stretch") cloths[i] = cloth.stretch;
    }
    values[at(ValueKey::neckline_depth)] = T(neckline.depth);
    measures[at(MeasureKey::neckline_edge)] = T(neckline.edge);
    measures[at(MeasureKey::armhole_girth)] = T(armhole.girth);
    measures[at(MeasureKey::armhole_ease)] = T(armhole.ease);
  }
  Facts<T> facts() const { return {values.data(), measures.data(), bodies.data(), cloths.data()}; }
};

Expression parsed(const std::string& text) {
  ExpressionError error;
  const auto expression = Expression::parse(text, &error);
  INFO(text << ": column " << error.column << ": " << error.message);
  REQUIRE(expression);
  return *expression;
}

double value_of(const std::string& text) { return parsed(text).evaluate(Sheet<double>().facts()); }

ExpressionError error_of(const std::string& text) {
  ExpressionError error;
  INFO(text);
  REQUIRE_FALSE(Expression::parse(text, &error));
  CHECK(error.column <= text.size());
  CHECK_FALSE(error.message.empty());
  return error;
}

void check_error(const std::string& text, size_t column, const std::vector<std::string>& says) {
  const ExpressionError error = error_of(text);
  INFO(text << ": " << error.message);
  CHECK(error.column == column);
  for (const std::string& part : says) CHECK_THAT(error.message, Catch::Contains(part));
}

}  // namespace

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

TEST_CASE("dimensions are checked when read, and the message says both") {
  check_error("armhole.girth + 15 deg",
              14,
              {"add a length and an angle", "'armhole.girth' is a length", "'15 deg' is an angle"});
  check_error("armhole.girth + 2", 14, {"a length and a ratio", "write '2 cm'"});
  check_error("body.age - 40", 9, {"a time and a ratio", "write '40 years'"});
  check_error("min(armhole.girth, cloth.stretch)", 19, {"compare a length and a ratio"});
  check_error("max(2, body.hip_girth)", 7, {"a ratio and a length", "write '2 cm'"});
  check_error("armhole.girth * armhole.girth - neckline.edge", 30, {"a length^2 and a length"});
  CHECK(parsed("armhole.girth / neckline.edge").dimension() == kRatio);
  CHECK(parsed("armhole.girth * neckline.edge / body.hip_girth").dimension() == kLength);
  CHECK(parsed("abs(body.shoulder_slope)").dimension() == kAngle);
}

TEST_CASE("an unknown name is answered with the nearest known one") {
  struct Row {
    const char* written;
    const char* meant;
  };
  const Row rows[] = {{"armhole.girht", "armhole.girth"},
                      {"neckline.dept", "neckline.depth"},
                      {"bust_girth", "body.bust_girth"},
                      {"body.bust", "body.bust_girth"},
                      {"strap.with", "strap.width"},
                      {"Armhole.Girth", "armhole.girth"},
                      {"armhole_girth", "armhole.girth"},
                      {"armhole girth", "armhole.girth"},
                      {"body.hip.girth", "body.hip_girth"},
                      {"cloth.bias_growht", "cloth.bias_growth"},
                      {"hip girth", "body.hip_girth"},
                      {"neckline back depth", "neckline.back_depth"}};
  for (const Row& row : rows) {
    const ExpressionError error = error_of(std::string("2 * ") + row.written);
    INFO(row.written << ": " << error.message);
    CHECK(error.column == 4);
    CHECK_THAT(error.message, Catch::Contains(std::string("did you mean '") + row.meant + "'"));
  }
  CHECK_THAT(error_of("zebra").message, !Catch::Contains("did you mean"));
  CHECK(nearest_name(std::string(5000, 'a')).empty());
}

TEST_CASE("an error says where, what, and what would be right") {
  check_error("", 0, {"ends", "a number or a name"});
  check_error("   ", 3, {"ends"});
  check_error("2 cm +", 6, {"ends", "a number or a name"});
  check_error("(2 cm + 3 cm", 12, {"')'"});
  check_error("2 cm)", 4, {"')'"});
  check_error("2 kg", 2, {"'kg' is no unit", "cm, mm, m, in, deg"});
  check_error("2,5 cm", 1, {"decimal", "point"});
  check_error("1.2.3 cm", 3, {"one decimal point"});
  check_error("armhole.girth neckline.edge", 14, {"'neckline.edge'", "operator"});
  check_error("2 cm ^ 2", 5, {"powers"});
  check_error("2 cm > 1 cm", 5, {"'>='"});
  check_error("armhole.girth >= 2 cm", 14, {"'>='", "operator or the end"});
  check_error("3 cm / 0", 5, {"divides by zero"});
  check_error("armhole.girth / (2 - 2)", 14, {"divides by zero"});
  check_error("3/0 in", 0, {"no number"});
  check_error("1e400 cm", 0, {"no number"});
  check_error("1e300 * 1e300", 6, {"beyond"});
  check_error("min 2", 0, {"min(a, b)"});
  check_error("min(2 cm)", 8, {"at least two"});
  check_error("abs(2 cm, 3 cm)", 10, {"one argument"});
  check_error("sqrt(2)", 0, {"no function", "min, max and abs"});
  check_error("2 cm $", 5, {"'$'"});
  check_error("2 cm €", 5, {"'€'"});
  check_error("2 cm \xff", 5, {"no text"});
  check_error("2 cm + in", 7, {"'in'"});
  CHECK_FALSE(Expression::parse("2 kg", nullptr));
}

TEST_CASE("depth and length have a limit, and the limit answers") {
  CHECK_THAT(error_of(std::string(1500, '(')).message, Catch::Contains("nested too deeply"));
  CHECK_THAT(error_of(std::string(1500, '-')).message, Catch::Contains("nested too deeply"));
  CHECK_THAT(error_of(std::string(100000, '1')).message, Catch::Contains("at most"));
  // A tower that needs more of the stack than there is: a - (a - (a - ...
  std::string tower, power = "armhole.girth";
  for (int i = 0; i < 20; ++i) tower += "neckline.edge - (";
  tower += "neckline.edge" + std::string(20, ')');
  CHECK_THAT(error_of(tower).message, Catch::Contains("nested too deeply"));
  for (int i = 0; i < 12; ++i) power += " * armhole.girth";
  CHECK_THAT(error_of(power).message, Catch::Contains("no quantity of a garment"));
  // One that just fits gives the alternating sum.
  std::string fits;
  for (int i = 0; i < Expression::kMostDepth - 1; ++i) fits += "neckline.edge - (";
  fits += "neckline.edge" + std::string(Expression::kMostDepth - 1, ')');
  CHECK_THAT(value_of(fits), WithinAbs(Expression::kMostDepth % 2 == 0 ? 0 : neckline.edge, 1e-9));
}

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

TEST_CASE("any text gives a value or an error") {
  constexpr unsigned kSeed = 20240817;
  WARN("seed " << kSeed);
  std::mt19937 random(kSeed);
  const std::vector<std::string> words = {"armhole.girth",
                                          "body.bust_girth",
                                          "cloth.stretch",
                                          "neckline.depth",
                                          "2",
                                          "3/4",
                                          "1 1/2",
                                          "0",
                                          "1e308",
                                          "cm",
                                          "in",
                                          "deg",
                                          "%",
                                          "years",
                                          "+",
                                          "-",
                                          "*",
                                          "/",
                                          "(",
                                          ")",
                                          ",",
                                          "min(",
                                          "max(",
                                          "abs(",
                                          ">=",
                                          "<=",
                                          "=",
                                          "+-",
                                          "to",
                                          "in",
                                          "x",
                                          ".",
                                          "½",
                                          "\"",
                                          "°",
                                          "−",
                                          "×",
                                          "\xe2",
                                          "\xff",
                                          "\n",
                                          "armhole girth",
                                          "..",
                                          "_"};
  const Sheet<double> sheet;
  size_t values = 0, errors = 0;
  for (int i = 0; i < 60000; ++i) {
    std::string text;
    const auto length = random() % 14;
    for (unsigned k = 0; k < length; ++k) {
      if (random() % 8 == 0) {
        text += static_cast<char>(random() % 256);
      } else {
        text += words[random() % words.size()];
      }
      if (random() % 2 == 0) text += ' ';
    }
    ExpressionError error;
    const auto expression = Expression::parse(text, &error);
    if (expression) {
      ++values;
      const double value = expression->evaluate(sheet.facts());
      const auto again = Expression::parse(expression->text(), &error);
      REQUIRE(again);
      const double second = again->evaluate(sheet.facts());
      if (!(value == second || (std::isnan(value) && std::isnan(second)))) FAIL(text);
    } else {
      ++errors;
      if (error.message.empty() || error.column > text.size()) FAIL(text);
    }
  }
  // Both happen, or the loop proves nothing.
  CHECK(values > 500);
  CHECK(errors > 500);
}

}  // namespace easewright
