// Quantities in and out. Oracles: exact unit definitions (1 in = 2.54 cm, international yard and
// pound agreement of 1959; 180 deg = pi rad) and the fractions of a tape.

#include "cli/read/quantity.h"
#include "cli/write/quantity.h"
#include "tests/catch.h"

#include <random>

using namespace easewright;

namespace {

struct Row {
  const char* text;
  Dimension dimension;
  double inside;
};

}  // namespace

TEST_CASE("a quantity is read in every unit it may be written in") {
  const Row rows[] = {
      {"34.5 cm", kLength, 34.5},      {"345 mm", kLength, 34.5},
      {"0.345 m", kLength, 34.5},      {"34.5cm", kLength, 34.5},
      {"  34.5   cm ", kLength, 34.5}, {"-2 cm", kLength, -2},
      {".5 cm", kLength, 0.5},         {"1 in", kLength, 2.54},
      {"13 5/8 in", kLength, 34.6075}, {"13-5/8 in", kLength, 34.6075},
      {"5/8 in", kLength, 1.5875},     {"13 5/8\"", kLength, 34.6075},
      {"5 ft 4 in", kLength, 162.56},  {"5 ft", kLength, 152.4},
      {"180 deg", kAngle, kPi},        {"18.5 \u00b0", kAngle, 18.5 * kPi / 180},
      {"12 %", kRatio, 0.12},          {"1.44", kRatio, 1.44},
      {"34 years", kTime, 34},         {"1 year", kTime, 1},
  };
  for (const Row& row : rows) {
    INFO(row.text);
    std::string why;
    const auto value = parse_quantity(row.text, row.dimension, why);
    REQUIRE(value);
    CHECK_THAT(*value, WithinAbs(row.inside, 1e-12 * (1 + std::abs(row.inside))));
  }
}

TEST_CASE("what is no quantity is refused with a word on what would be right") {
  struct Bad {
    const char* text;
    Dimension dimension;
    const char* says;
  };
  const Bad rows[] = {
      {"12", kLength, "12 has no unit (write '12 cm'"},
      {"13 5/8", kLength, "has no unit"},
      {"12,5 cm", kLength, "write '12.5 cm', with a point"},
      {"12 deg", kLength, "is an angle; a length is wanted"},
      {"12 cm", kAngle, "is a length; an angle is wanted"},
      {"12 parsec", kLength, "'parsec' is no unit"},
      {"twelve cm", kLength, "is not a length"},
      {".inf", kLength, "is not a length"},
      {"inf cm", kLength, "is not a length"},
      {"nan cm", kLength, "is not a length"},
      {".nan", kRatio, "is not a ratio"},
      {"1e5 cm", kLength, "'e' is no unit"},
      {"1/0 in", kLength, "is not a length"},
      {"12 cm 3", kLength, "goes on after the quantity"},
      {"5 ft 4", kLength, "has no unit"},
      {"12 cm cm", kLength, "goes on after the quantity"},
      {"99999 cm", kLength, "out of all proportion"},
      {"1..2 cm", kLength, "is no unit"},
      {"", kLength, "is not a length"},
      {"-", kLength, "is not a length"},
      {"--3 cm", kLength, "is not a length"},
      {"010", kLength, "has no unit"},
  };
  for (const Bad& row : rows) {
    INFO(row.text);
    std::string why;
    CHECK_FALSE(parse_quantity(row.text, row.dimension, why));
    CHECK_THAT(why, Catch::Contains(row.says));
    CHECK(why.find('\n') == std::string::npos);
  }
}

TEST_CASE("a measure may bring its error") {
  std::string why;
  const auto measured = parse_measured("98 cm +- 1/2 in", kLength, why);
  REQUIRE(measured);
  CHECK(measured->value == 98);
  REQUIRE(measured->sd);
  CHECK_THAT(*measured->sd, WithinAbs(1.27, 1e-12));
  CHECK(parse_measured("98 cm \u00b1 10 mm", kLength, why)->sd == 1.0);
  CHECK_FALSE(parse_measured("98 cm", kLength, why)->sd);
  CHECK_FALSE(parse_measured("98 cm +- 0 cm", kLength, why));
  CHECK_FALSE(parse_measured("98 cm +- -1 cm", kLength, why));
  CHECK_FALSE(parse_measured("98 cm +-", kLength, why));
  CHECK_FALSE(parse_measured("98 cm +- 2 deg", kLength, why));
}

TEST_CASE("inches are written in the eighths of a tape, in lowest terms") {
  const std::pair<double, const char*> rows[] = {
      {13.625, "13 5/8"},
      {13.5, "13 1/2"},
      {13.25, "13 1/4"},
      {13, "13"},
      {0.125, "1/8"},
      {0, "0"},
      {-0.75, "-3/4"},
      {-0.01, "0"},
      {13.999, "14"},
      {0.0624, "0"},
      {0.0626, "1/8"},
      {12.9376, "13"},
      {-1.5, "-1 1/2"},
      {12.9374, "12 7/8"},
  };
  for (const auto& [inches, text] : rows) {
    CHECK(write_number(inches * kCmPerInch, kLength, {LengthUnit::inch}) == text);
  }
}

TEST_CASE("what is written reads back to half of what the last figure counts") {
  std::mt19937 random(20240501);  // fixed seed
  INFO("seed 20240501");
  std::uniform_real_distribution<double> lengths(-300, 300);
  for (int i = 0; i < 2000; ++i) {
    const double cm = lengths(random);
    std::string why;
    const auto inches =
        parse_quantity(write_quantity(cm, kLength, {LengthUnit::inch}), kLength, why);
    REQUIRE(inches);
    CHECK_THAT(*inches, WithinAbs(cm, kCmPerInch / 16 + 1e-9));
    const auto metric = parse_quantity(write_quantity(cm, kLength, {}), kLength, why);
    REQUIRE(metric);
    CHECK_THAT(*metric, WithinAbs(cm, 0.05 + 1e-9));
  }
}

TEST_CASE("every eighth of an inch reads back exactly") {
  for (int eighths = -200; eighths <= 1600; ++eighths) {
    const double cm = eighths / 8.0 * kCmPerInch;
    std::string why;
    const auto back = parse_quantity(write_quantity(cm, kLength, {LengthUnit::inch}), kLength, why);
    REQUIRE(back);
    CHECK_THAT(*back, WithinAbs(cm, 1e-9));
  }
}

TEST_CASE("amounts are never rounded to nothing") {
  CHECK(write_amount(0.04, kLength, {}) == "0.04 cm");
  CHECK(write_amount(-0.003, kLength, {}) == "0.003 cm");
  CHECK(write_amount(0.1, kLength, {LengthUnit::inch}) == "under 1/8 in");
  CHECK(write_amount(1.26, kLength, {}) == "1.3 cm");
}

TEST_CASE("ranges read as they are said") {
  const double none = solver::kInfinity;
  CHECK(write_wanted(4, none, kLength, {}) == "at least 4 cm");
  CHECK(write_wanted(-none, 6, kLength, {}) == "at most 6 cm");
  CHECK(write_wanted(4, 6, kLength, {}) == "4 to 6 cm");
  CHECK(write_wanted(5, 5, kLength, {}) == "5 cm");
  CHECK(write_wanted(0.25, 0.5, kRatio, {.ratio = RatioStyle::percent}) == "25 to 50 %");
  CHECK(write_wanted(-none, none, kLength, {}) == "anything");
}
