// What is no expression is answered with the place and a word on what would be right, and any text
// at all does no harm.

#include "tests/model/expression_sheet.h"

#include <cmath>
#include <random>
#include <string>
#include <vector>

namespace easewright::tests {
namespace {

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

}  // namespace easewright::tests
