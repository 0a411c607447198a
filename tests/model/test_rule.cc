// Ranges: which side is the expression, which limits it has, and what an error says.

#include "model/body/measures.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"
#include "model/rules/expression_evaluate.h"
#include "model/rules/rule.h"
#include "tests/catch.h"

#include <random>
#include <string>

namespace easewright {
namespace {

Range ranged(const std::string& text) {
  ExpressionError error;
  auto range = parse_range(text, &error);
  INFO(text << ": column " << error.column << ": " << error.message);
  REQUIRE(range);
  return *range;
}

void check_error(const std::string& text, size_t column, const std::vector<std::string>& says) {
  ExpressionError error;
  INFO(text);
  REQUIRE_FALSE(parse_range(text, &error));
  INFO(error.message);
  CHECK(error.column == column);
  for (const std::string& part : says) CHECK_THAT(error.message, Catch::Contains(part));
}

}  // namespace

TEST_CASE("a range has an expression, a least and a most, however it is written") {
  struct Row {
    const char* text;
    const char* expression;
    const char* lo;  // empty: open
    const char* hi;
  };
  const Row rows[] = {
      {"armhole.ease >= 2 cm", "armhole.ease", "2 cm", ""},
      {"armhole.ease <= 4 cm", "armhole.ease", "", "4 cm"},
      {"2 cm <= armhole.ease", "armhole.ease", "2 cm", ""},
      {"4 cm >= armhole.ease", "armhole.ease", "", "4 cm"},
      {"2 cm <= armhole.ease <= 4 cm", "armhole.ease", "2 cm", "4 cm"},
      {"4 cm >= armhole.ease >= 2 cm", "armhole.ease", "2 cm", "4 cm"},
      {"armhole.ease in 2 cm to 4 cm", "armhole.ease", "2 cm", "4 cm"},
      {"strap.inset / 2 in 1 cm to 2 in", "strap.inset / 2", "1 cm", "2 in"},
      {"neckline.depth in 4 in to 6 in", "neckline.depth", "4 in", "6 in"},
      {"armhole.ease = 3 cm", "armhole.ease", "3 cm", "3 cm"},
      {"3 cm = armhole.ease", "armhole.ease", "3 cm", "3 cm"},
      {"armhole.ease ≥ 2 cm", "armhole.ease", "2 cm", ""},
      {"neckline.edge >= body.head_girth + 3 cm", "neckline.edge", "body.head_girth + 3 cm", ""},
      {"body.head_girth + 3 cm <= neckline.edge", "neckline.edge", "body.head_girth + 3 cm", ""},
      {"bodice.waist >= dressing.need", "bodice.waist", "dressing.need", ""},
      {"dressing.need <= bodice.waist",
       "dressing.need",
       "",
       "bodice.waist"},  // both vary: the left one stays
      {"  armhole.girth - body.armscye_girth  in  1 cm  to  4 cm ",
       "armhole.girth - body.armscye_girth",
       "1 cm",
       "4 cm"},
  };
  for (const Row& row : rows) {
    INFO(row.text);
    const Range range = ranged(row.text);
    CHECK(range.expression.text() == row.expression);
    CHECK((range.lo ? range.lo->text() : "") == row.lo);
    CHECK((range.hi ? range.hi->text() : "") == row.hi);
  }
  CHECK(ranged("  armhole.ease >= 2 cm ").text == "armhole.ease >= 2 cm");
}

TEST_CASE("a target with a tolerance has limits on both sides of it") {
  for (const char* text : {"armhole.ease = 3 cm +- 0.5 cm",
                           "armhole.ease = 3 cm ± 5 mm",
                           "3 cm = armhole.ease +/- 0.5 cm"}) {
    const Range range = ranged(text);
    CHECK_THAT(range.lo->evaluate(Facts<double>{}), WithinAbs(2.5, 1e-15));
    CHECK_THAT(range.hi->evaluate(Facts<double>{}), WithinAbs(3.5, 1e-15));
    CHECK(range.lo->is_given());
  }
  std::array<double, kBodyKeys> body{};
  body[static_cast<size_t>(BodyKey::bust_girth)] = 92;
  const Range range = ranged("bodice.bust = body.bust_girth + 6 cm +- body.bust_girth / 46");
  const Facts<double> facts{nullptr, nullptr, body.data(), nullptr};
  CHECK_THAT(range.lo->evaluate(facts), WithinAbs(96, 1e-12));
  CHECK_THAT(range.hi->evaluate(facts), WithinAbs(100, 1e-12));
  CHECK(range.lo->names().size() == 1);
  // The text that a joined limit gives itself reads back to the same.
  const auto again = Expression::parse(range.lo->text(), nullptr);
  REQUIRE(again);
  CHECK_THAT(again->evaluate(facts), WithinAbs(96, 1e-12));
}

TEST_CASE("a range's error says where, what, and what would be right") {
  check_error("armhole.ease", 12, {"'>=', '<=', '=' or 'in'"});
  check_error("armhole.ease >= 15 deg",
              16,
              {"compare a length with an angle", "'armhole.ease' is a length"});
  check_error("armhole.ease >= 2", 16, {"a length with a ratio", "write '2 cm'"});
  check_error("armhole.ease in 2 cm to 15 deg", 24, {"a length with an angle"});
  check_error("armhole.ease = 3 cm +- 10 %", 23, {"a length with a ratio"});
  check_error("armhole.ease in 2 cm", 20, {"'to'"});
  check_error("armhole.ease > 2 cm", 13, {"'>='"});
  check_error("2 cm <= armhole.ease >= 1 cm", 21, {"same way"});
  check_error("2 cm <= 3 cm <= armhole.ease", 8, {"middle"});
  check_error("armhole.ease >= 2 cm 3", 21, {"'3'"});
  check_error("3 cm +- 0.5 cm = armhole.ease", 5, {"'+-'"});
  check_error("body.bust_girth >= 80 cm", 0, {"no draft value or measure"});
  check_error("armhole.ease in 5 cm to 3 cm", 0, {"least is above the most"});
  check_error("armhole.ease = 3 cm +- -1 cm", 0, {"least is above the most"});
  check_error("armhole.eese >= 2 cm", 0, {"did you mean 'armhole.ease'"});
  check_error("", 0, {"ends"});
  CHECK_FALSE(parse_range("armhole.ease", nullptr));
}

TEST_CASE("any text gives a range or an error") {
  constexpr unsigned kSeed = 7150421;
  WARN("seed " << kSeed);
  std::mt19937 random(kSeed);
  const std::vector<std::string> operands = {
      "armhole.ease", "neckline.edge", "body.bust_girth", "2 cm", "3 in", "4", "15 deg"};
  const std::vector<std::string> signs = {
      ">=", "<=", "=", "+-", "in", "to", "+", "-", "*", "/", "≥", "±"};
  const std::vector<std::string> others = {
      "(", ")", "min(", ",", ">", "\xe2\x89", "armhole", ".", "½"};
  size_t ranges = 0, errors = 0;
  for (int i = 0; i < 60000; ++i) {
    std::string text;
    const auto length = random() % 9;
    for (unsigned k = 0; k < length; ++k) {
      const auto& words = random() % 16 == 0 ? others : k % 2 == 0 ? operands : signs;
      text += words[random() % words.size()] + (random() % 8 == 0 ? "" : " ");
    }
    ExpressionError error;
    const auto range = parse_range(text, &error);
    if (range) {
      ++ranges;
      const auto again = parse_range(range->text, &error);
      if (!again || again->expression.text() != range->expression.text()) FAIL(text);
      if (!range->lo && !range->hi) FAIL(text);
    } else {
      ++errors;
      if (error.message.empty() || error.column > text.size()) FAIL(text);
    }
  }
  CHECK(ranges > 100);
  CHECK(errors > 1000);
}

}  // namespace easewright
