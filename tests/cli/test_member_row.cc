// A member as a row and back. Oracle: the member itself, to the decimals that a row has; and every
// form that a cure can take, made by hand.

#include "cli/read/member_row.h"
#include "cli/write/member_row.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <cmath>

using namespace easewright;
using namespace easewright::tests;

namespace {

struct Group {
  Job job;
  Terms terms;
};

Group group_of(const char* file, const Overrides& overrides = {}) {
  Group group{demo_job(file, overrides), {}};
  group.terms = terms_of(group.job, shipped_catalogue());
  return group;
}

/// How far a number may be off after it was rounded to this many decimals, in a float besides.
double margin(double value, Dimension dimension) {
  const double rounding = 0.5 * std::pow(10.0, -decimals_of(dimension));
  const double inside = dimension == kAngle ? radians(rounding) : rounding;
  return inside + 1e-6 * std::abs(value);
}

void check_near(float read, float written, Dimension dimension) {
  REQUIRE(std::isnan(read) == std::isnan(written));
  if (std::isnan(read)) return;
  const auto wanted = static_cast<double>(written);
  CHECK_THAT(static_cast<double>(read), Catch::WithinAbs(wanted, margin(wanted, dimension)));
}

}  // namespace

TEST_CASE("a member reads back from its row, and its row is the same again") {
  int misses = 0, cures = 0;
  for (const char* file : {"choir/jobs/alto-1.yaml",
                           "choir/jobs/soprano-2.yaml",
                           "choir/jobs/bass-1.yaml",
                           "choir/jobs/mezzo-1.yaml"}) {
    INFO(file);
    const Group group = group_of(file);
    auto drafted = draft_member(group.job, group.job.body, shipped_catalogue(), group.terms);
    REQUIRE(drafted.member);
    Member& member = *drafted.member;
    member.row = 12;
    member.label = "alto \"1\", the tall";
    const std::string row = write_member(member, group.terms);
    CHECK(row.find('\n') == row.size() - 1);
    const auto read = read_member(row, group.terms);
    REQUIRE(read);
    REQUIRE(read->member);
    CHECK(read->row == 12);
    const Member& again = *read->member;
    CHECK(again.label == member.label);
    CHECK(again.build == member.build);
    CHECK(again.put_on == member.put_on);
    CHECK(again.proved == member.proved);
    CHECK(again.explained);
    REQUIRE(again.misses.size() == member.misses.size());
    for (size_t i = 0; i < member.misses.size(); ++i) {
      CHECK(again.misses[i].term == member.misses[i].term);
      CHECK(again.misses[i].amount == Approx(member.misses[i].amount).epsilon(1e-4));
      CHECK(again.misses[i].cures == member.misses[i].cures);
      cures += static_cast<int>(member.misses[i].cures.size());
      ++misses;
    }
    for (size_t i = 0; i < kValueKeys; ++i)
      check_near(again.values[i], member.values[i], info(static_cast<ValueKey>(i)).dimension);
    for (size_t i = 0; i < kMeasureKeys; ++i)
      check_near(again.measures[i], member.measures[i], info(static_cast<MeasureKey>(i)).dimension);
    for (size_t i = 0; i < kBodyKeys; ++i)
      check_near(again.body[i], member.body[i], info(static_cast<BodyKey>(i)).dimension);
    REQUIRE((again.sureness && member.sureness));
    CHECK(again.sureness->toss_ups == member.sureness->toss_ups);
    CHECK(again.sureness->estimated == member.sureness->estimated);
    CHECK(again.sureness->least_term == member.sureness->least_term);
    CHECK(again.sureness->least == Approx(member.sureness->least).margin(5e-5));
    CHECK(again.sureness->missed == Approx(member.sureness->missed).margin(5e-5));
    CHECK(write_member(again, group.terms) == row);
  }
  CHECK(misses >= 2);
  CHECK(cures >= 2);
}

TEST_CASE("every form of a cure reads back") {
  const Group group = group_of(
      "choir/jobs/alto-2.yaml",
      {.wishes = {
           "neckline depth 12 cm", "strap width at least 4 cm", "shaping neck at most 2 deg"}});
  const auto wish = [&](const char* id) {
    const int at = group.terms.find_wish(id);
    REQUIRE(at >= 0);
    return static_cast<std::uint16_t>(at);
  };
  using Kind = CureStep::Kind;
  using solver::Side;
  const auto limit = static_cast<std::uint16_t>(ValueKey::armhole_drop);
  const auto angle = static_cast<std::uint16_t>(ValueKey::blade_neck);
  const auto dart = static_cast<std::uint16_t>(Switch::side_dart);
  const auto put_on = static_cast<std::uint16_t>(Switch::put_on);
  const auto deg = static_cast<float>(radians(1.5));
  struct Form {
    MemberStep step;
    const char* text;
  };
  const Form forms[] = {
      {{Kind::wish, Side::lower, false, 0, wish("neckline.depth"), 8.6F},
       "wish neckline depth 8.6 cm"},
      {{Kind::wish, Side::lower, true, 0, wish("neckline.depth"), 8.6F},
       "wish neckline depth at least 8.6 cm"},
      {{Kind::wish, Side::upper, true, 0, wish("neckline.depth"), 13.0F},
       "wish neckline depth at most 13 cm"},
      {{Kind::wish, Side::lower, false, 0, wish("strap.width"), 3.25F},
       "wish strap width at least 3.25 cm"},
      {{Kind::wish, Side::upper, false, 0, wish("shaping.neck"), deg},
       "wish shaping neck at most 1.5 deg"},
      {{Kind::limit, Side::upper, false, 0, limit, 7}, "limit armhole drop at most 7 cm"},
      {{Kind::limit, Side::lower, false, 0, angle, deg}, "limit blade neck at least 1.5 deg"},
      {{Kind::option, Side::lower, false, 1, dart, 0}, "switch side dart sewn"},
      {{Kind::option, Side::lower, false, 2, put_on, 0}, "switch put on side opening"},
  };
  for (const Form& a : forms) {
    MemberCure one{{a.step}, 1};
    CHECK(write_cure(one, group.terms) == a.text);
    const auto read = read_cure(a.text, group.terms);
    REQUIRE(read);
    CHECK(*read == one);
    for (const Form& b : forms) {
      const MemberCure two{{a.step, b.step}, 2};
      const auto both = read_cure(write_cure(two, group.terms), group.terms);
      REQUIRE(both);
      CHECK(*both == two);
    }
  }
  for (const char* text : {"",
                           "wish",
                           "wish hem 3 cm",
                           "limit armhole drop 7 cm",
                           "switch side dart left",
                           "wish neckline depth 8.6 deg",
                           "wish neckline depth 8.6 cm and",
                           "wish neckline depth 8.6 cm x"})
    CHECK_FALSE(read_cure(text, group.terms));
}

TEST_CASE("a cure of a member changes the job as its explanation did") {
  // Two ways to one job: by the words of a fitted result (explain.h), and by the member's alone.
  int compared = 0;
  for (const char* file : {"choir/jobs/alto-1.yaml", "choir/jobs/soprano-2.yaml"}) {
    const Group group = group_of(file);
    const FitResult result = fit(group.job, shipped_catalogue());
    const auto explanations = explain(group.job, shipped_catalogue(), result);
    const auto drafted = draft_member(group.job, group.job.body, shipped_catalogue(), group.terms);
    REQUIRE(drafted.member);
    size_t at = 0;
    for (const MemberMiss& miss : drafted.member->misses) {
      if (group.terms.all[miss.term].strength > solver::Level::wish) continue;
      REQUIRE(at < explanations.size());
      const Explanation& e = explanations[at++];
      REQUIRE(e.cures.size() == miss.cures.size());
      for (size_t i = 0; i < e.cures.size(); ++i) {
        const FitResult one =
            fit(with_cure(group.job, result, e.cures[i].steps), shipped_catalogue());
        const FitResult two =
            fit(with_cure(group.job, group.terms, miss.cures[i]), shipped_catalogue());
        for (size_t v = 0; v < kValueKeys; ++v)
          CHECK_THAT(two.values.at[v], Catch::WithinAbs(one.values.at[v], 2e-3));
        ++compared;
      }
    }
  }
  CHECK(compared >= 2);
}

TEST_CASE("a body that was refused has a row as well") {
  const Group group = group_of("choir/jobs/alto-2.yaml");
  const std::string row =
      write_refused(7, "row 7", "b.csv:8:1: hip girth: 9 cm is outside 45-190 cm, or so");
  const auto read = read_member(row, group.terms);
  REQUIRE(read);
  CHECK_FALSE(read->member);
  CHECK(read->row == 7);
  CHECK(read->label == "row 7");
  CHECK(read->refused == "b.csv:8:1: hip girth: 9 cm is outside 45-190 cm, or so");
  // As many cells as the first row names.
  const auto commas = [](const std::string& text) {
    std::string buffer;
    std::vector<CsvCell> cells;
    split_record(text.substr(0, text.size() - 1), ',', 1, buffer, cells);
    return cells.size();
  };
  CHECK(commas(row) == commas(member_header()));
}

TEST_CASE("what is no row is refused") {
  const Group group = group_of("choir/jobs/alto-2.yaml");
  const auto drafted =
      draft_member(group.job, group.job.body, shipped_catalogue(), group.terms, {.explain = false});
  REQUIRE(drafted.member);
  const std::string row = write_member(*drafted.member, group.terms);
  REQUIRE(read_member(row, group.terms));
  CHECK_FALSE(read_member("", group.terms));
  CHECK_FALSE(read_member(row.substr(0, row.size() / 2), group.terms));
  CHECK_FALSE(read_member("x" + row, group.terms));
  std::string other = row;
  const size_t at = other.find("over the head");
  REQUIRE(at != std::string::npos);
  other.replace(at, 4, "sver");
  CHECK_FALSE(read_member(other, group.terms));
}
