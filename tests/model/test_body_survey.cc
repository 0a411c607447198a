// complete() against the surveys: least squares on their rows, published regressions, errors over
// claimed s.d. Surveys: ANSUR 1988 (Gordon et al. 1989, NATICK/TR-89/044), ANSUR II 2012
// (NATICK/TR-15/007), NHANES 2017-2020, AnthroKids (Snyder et al. 1977).
#include "body_samples.h"
#include "derive_body_tables.h"
#include "survey.h"
#include "tests/catch.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Core>

using namespace easewright;
using enum BodyKey;

namespace {

const std::vector<BodyKey> kFive = {bust_girth, waist_girth, hip_girth, stature, back_waist_length};

bool no_survey() {
  if (!read_survey("ansur1988-women").rows.empty()) return false;
  WARN("SKIPPED: the open surveys are not there; set EASEWRIGHT_BODIES");
  return true;
}

/// Residual s.d. of an ordinary least squares fit of one measure on others, n - k - 1 degrees of
/// freedom.
double least_squares_sd(const std::vector<Body>& people,
                        BodyKey target,
                        const std::vector<BodyKey>& predictors) {
  const auto n = static_cast<Eigen::Index>(people.size());
  const auto k = static_cast<Eigen::Index>(predictors.size());
  Eigen::MatrixXd x(n, k + 1);
  Eigen::VectorXd y(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Body& body = people[static_cast<size_t>(i)];
    x(i, 0) = 1;
    for (Eigen::Index j = 0; j < k; ++j)
      x(i, j + 1) = body[predictors[static_cast<size_t>(j)]]->value - 90;
    y(i) = body[target]->value;
  }
  const Eigen::VectorXd coefficients = (x.transpose() * x).ldlt().solve(x.transpose() * y);
  return std::sqrt((y - x * coefficients).squaredNorm() / static_cast<double>(n - k - 1));
}

/// The mean person of a group, each tape exact.
Body mean_body(const std::vector<Body>& people, const std::vector<BodyKey>& keys) {
  Body body = keeping(people[0], {});
  for (const BodyKey key : keys) {
    double sum = 0;
    for (const Body& one : people) sum += one[key]->value;
    body[key] = BodyValue{.value = sum / static_cast<double>(people.size())};
  }
  return body;
}

/// Differences from the truth in claimed s.d.
struct Errors {
  int n = 0, beyond_two = 0;
  double sum = 0, squares = 0;
  void add(double z) { ++n, sum += z, squares += z * z, beyond_two += std::abs(z) > 2; }
  double bias() const { return sum / n; }
  double spread() const { return std::sqrt(squares / n - bias() * bias()); }
  double root_mean_square() const { return std::sqrt(squares / n); }
};

/// Of every measure that was taken and not kept.
std::array<Errors, kBodyKeys> errors_of(const std::vector<Body>& people,
                                        const std::vector<BodyKey>& kept,
                                        const BodyTables& tables) {
  std::array<Errors, kBodyKeys> errors;
  for (const Body& person : people) {
    const CompleteBody full = complete(keeping(person, kept), person.waist_level, tables).body;
    for (int i = 0; i < kBodyKeys; ++i) {
      const auto key = static_cast<BodyKey>(i);
      if (!person[key] || full.at(key).origin != Origin::estimated || key == age ||
          key == shoulder_slope)
        continue;
      errors[static_cast<size_t>(i)].add((person[key]->value - full[key]) / full.at(key).sd);
    }
  }
  return errors;
}

Errors all_of(const std::array<Errors, kBodyKeys>& errors) {
  Errors all;
  for (const Errors& e : errors)
    all.n += e.n, all.sum += e.sum, all.squares += e.squares, all.beyond_two += e.beyond_two;
  return all;
}

}  // namespace

TEST_CASE("what exact tapes leave unknown is what least squares leaves", "[estimate][survey]") {
  // A second method: ordinary least squares on the survey's rows, by this test. 3 %: the table's
  // s.d. of what is left is corrected for selection, and its ISO measures carry the interpolation's
  // error.
  if (no_survey()) return;
  struct Group {
    Build build;
    WaistLevel level;
  };
  for (const Group& g : {Group{Build::woman, WaistLevel::natural},
                         Group{Build::woman, WaistLevel::iso},
                         Group{Build::man, WaistLevel::natural},
                         Group{Build::man, WaistLevel::iso}}) {
    const auto people = g.build == Build::woman ? survey_women_1988_at(g.level, SurveyTape::exact)
                                                : survey_men_1988_at(g.level, SurveyTape::exact);
    const CompleteBody full = completed(mean_body(people, kFive), g.level).body;
    for (const BodyKey target : {armscye_girth,
                                 scye_depth,
                                 upper_arm_girth,
                                 underbust_girth,
                                 neck_base_girth,
                                 side_neck_to_bust_point,
                                 bust_point_width,
                                 across_back,
                                 shoulder_length,
                                 head_girth,
                                 thigh_girth,
                                 crotch_height,
                                 hip_breadth,
                                 front_waist_length}) {
      INFO(people[0].label << " " << to_string(g.level) << " " << info(target).id);
      CHECK_THAT(full.at(target).sd, WithinRel(least_squares_sd(people, target, kFive), 0.03));
    }
    // A subset has its own regression: without the back length the scye depth is known less well
    // (1.25 for 1.04).
    const CompleteBody four =
        completed(mean_body(people, {bust_girth, waist_girth, hip_girth, stature}), g.level).body;
    CHECK_THAT(four.at(scye_depth).sd,
               WithinRel(least_squares_sd(
                             people, scye_depth, {bust_girth, waist_girth, hip_girth, stature}),
                         0.03));
  }
}

TEST_CASE("five ISO tapes leave what the survey's summary says", "[estimate]") {
  // Open half of the 1988 women, ordinary least squares by another program: target, mean, residual
  // s.d. on bust, waist, hip, stature and back waist length at the ISO level. Last digit 0.01; 3 %
  // as above.
  struct Row {
    BodyKey key;
    double mean, sd;
  };
  const Row rows[] = {{armscye_girth, 37.2, 1.34},
                      {scye_depth, 18.6, 1.04},
                      {upper_arm_girth, 29.2, 1.26},
                      {underbust_girth, 77.2, 2.35},
                      {front_waist_length, 35.4, 1.37},
                      {neck_base_girth, 34.6, 1.18},
                      {side_neck_to_bust_point, 26.9, 1.66},
                      {bust_point_width, 18.6, 1.34},
                      {across_back, 35.1, 2.09},
                      {shoulder_length, 14.5, 1.02},
                      {head_girth, 54.6, 1.34}};
  Body mean;
  mean.waist_level = WaistLevel::iso;
  const std::pair<BodyKey, double> five[] = {{bust_girth, 90.9},
                                             {waist_girth, 76.0},
                                             {hip_girth, 96.8},
                                             {stature, 163.0},
                                             {back_waist_length, 40.8}};
  for (const auto& [key, value] : five) mean[key] = BodyValue{.value = value};
  const CompleteBody full = completed(mean, WaistLevel::iso).body;
  for (const Row& row : rows) {
    INFO(info(row.key).id);
    CHECK_THAT(full[row.key], WithinAbs(row.mean, 0.1 * row.sd + 0.05));
    CHECK_THAT(full.at(row.key).sd, WithinAbs(row.sd, 0.03 * row.sd + 0.005));
  }
}

TEST_CASE("errors over claimed s.d. are standard over the survey", "[estimate][survey]") {
  if (no_survey()) return;
  const std::vector<Body> groups[] = {survey_women_1988_at(WaistLevel::iso, SurveyTape::home),
                                      survey_women_1988_at(WaistLevel::natural, SurveyTape::home),
                                      survey_men_1988_at(WaistLevel::iso, SurveyTape::home)};
  for (const auto& group : groups) {
    const auto errors = errors_of(group, kFive, shipped_body_tables());
    for (int i = 0; i < kBodyKeys; ++i) {
      const Errors& e = errors[static_cast<size_t>(i)];
      const auto key = static_cast<BodyKey>(i);
      if (e.n == 0 || key == back_reach)
        continue;  // the survey's negative reaches are refused: one-sided
      INFO(group[0].label << " " << to_string(group[0].waist_level) << " " << info(key).id
                          << ": bias " << e.bias() << " spread " << e.spread());
      // The seated belly and hips at one waist differ a little between soldiers and the public.
      const bool seated = key == abdominal_depth_sitting || key == hip_breadth_sitting;
      CHECK(std::abs(e.bias()) < (seated ? 0.25 : 0.1));
      CHECK(
          e.spread() >
          0.88);  // waist and armpit height: 0.89, for the tape's error in stature that isn't there
      CHECK(e.spread() < 1.1);
      const double beyond = static_cast<double>(e.beyond_two) / e.n;  // 4.6 % of a normal
      CHECK(beyond > 0.015);
      CHECK(beyond < 0.065);
    }
    CHECK_THAT(all_of(errors).root_mean_square(), WithinAbs(1, 0.06));
  }
}

TEST_CASE("tables of one half of the people hold for the other half", "[estimate][survey]") {
  if (no_survey()) return;
  BodyTables half = shipped_body_tables();
  half.women = derive_moments(Build::woman, Half::first);
  REQUIRE_FALSE(half.women.variables.empty());
  const auto women = survey_women_1988_at(WaistLevel::iso, SurveyTape::home);
  std::vector<Body> others;
  for (size_t i = 1; i < women.size(); i += 2) others.push_back(women[i]);
  for (const auto& kept :
       {kFive, std::vector<BodyKey>{bust_girth}, std::vector<BodyKey>{stature, hip_girth}}) {
    const Errors all = all_of(errors_of(others, kept, half));
    INFO("bias " << all.bias());
    CHECK_THAT(all.root_mean_square(), WithinAbs(1, 0.1));
  }
}

TEST_CASE("natural waist, ISO and navel lie as far apart as surveyed", "[estimate][survey]") {
  // 1988 women: from the natural waist to ISO 4.0 (s.d. 1.7) lower and 3.3 more; to the navel 7.4
  // (2.1) and 6.6. On average over these slim women; the tables stand for people half public, with
  // more belly under a natural waist of the same size, so that girths come out up to 0.2 of their
  // claimed s.d. larger.
  if (no_survey()) return;
  struct Row {
    WaistLevel to;
    double lower, lower_sd, more;
  };
  const auto natural = survey_women_1988_at(WaistLevel::natural, SurveyTape::exact);
  for (const Row& row :
       {Row{WaistLevel::iso, 4.0, 1.7, 3.3}, Row{WaistLevel::navel, 7.4, 2.1, 6.6}}) {
    const auto truth = survey_women_1988_at(row.to, SurveyTape::exact);
    double lower = 0, more = 0, claimed = 0;
    Errors girth, height, length;
    for (size_t i = 0; i < natural.size(); ++i) {
      const Body known = keeping(natural[i],
                                 {waist_girth,
                                  waist_height,
                                  back_waist_length,
                                  front_waist_length,
                                  bust_girth,
                                  underbust_girth,
                                  hip_girth,
                                  stature});
      const CompleteBody full = completed(known, row.to).body;
      CHECK(full.at(waist_height).origin == Origin::converted);
      lower += natural[i][waist_height]->value - full[waist_height];
      more += full[waist_girth] - natural[i][waist_girth]->value;
      claimed += full.at(waist_girth).sd;
      girth.add((truth[i][waist_girth]->value - full[waist_girth]) / full.at(waist_girth).sd);
      height.add((truth[i][waist_height]->value - full[waist_height]) / full.at(waist_height).sd);
      length.add((truth[i][back_waist_length]->value - full[back_waist_length]) /
                 full.at(back_waist_length).sd);
      CHECK(full.at(waist_height).sd <
            row.lower_sd * 1.5);  // no worse than the plain difference, but in the tails
    }
    const auto n = static_cast<double>(natural.size());
    CHECK_THAT(lower / n, WithinAbs(row.lower, 0.2));
    CHECK_THAT(more / n, WithinAbs(row.more, 0.2 * claimed / n));
    for (const Errors& e : {girth, height, length}) {
      CHECK(std::abs(e.bias()) < 0.2);
      CHECK_THAT(e.spread(), WithinAbs(0.95, 0.1));
    }
  }
}

TEST_CASE("the public's waist is found from stature and hip", "[estimate][survey]") {
  // Soldiers' own moments made it 0.8 (women) and 1.6 (men) s.d. too small, 6 and 8 cm. The tables
  // are half-way to the public, so something is left. Rows unweighted.
  const std::vector<Body> groups[] = {survey_women_nhanes(), survey_men_nhanes()};
  if (groups[0].empty()) {
    WARN("SKIPPED: NHANES is not there; set EASEWRIGHT_BODIES");
    return;
  }
  for (const auto& group : groups) {
    const Errors waist = errors_of(
        group, {stature, hip_girth}, shipped_body_tables())[static_cast<size_t>(waist_girth)];
    const Errors tall = errors_of(
        group, {waist_girth, hip_girth}, shipped_body_tables())[static_cast<size_t>(stature)];
    for (const Errors& e : {waist, tall}) {
      CHECK(std::abs(e.bias()) < 0.5);
      CHECK(e.spread() > 0.75);
      CHECK(e.spread() < 1.1);
    }
  }
}

TEST_CASE("a later survey agrees where it measured alike", "[estimate][survey]") {
  // ANSUR II, 2012, bigger people. Of the measures whose rules did not change (stature, hand and
  // landmark heights agree within 3 mm by stature): armpit, navel and crotch height, thigh girth,
  // from stature and girths.
  const std::vector<Body> groups[] = {survey_women_2012(), survey_men_2012()};
  if (groups[0].empty()) {
    WARN("SKIPPED: ANSUR II is not there; set EASEWRIGHT_BODIES");
    return;
  }
  for (const auto& group : groups) {
    const auto errors =
        errors_of(group, {stature, bust_girth, waist_girth, hip_girth}, shipped_body_tables());
    for (const BodyKey key : {armpit_height, waist_height, crotch_height, thigh_girth}) {
      const Errors& e = errors[static_cast<size_t>(key)];
      INFO(group[0].label << " " << info(key).id << ": bias " << e.bias() << " spread "
                          << e.spread());
      CHECK(std::abs(e.bias()) < 0.8);
      CHECK(e.spread() > 0.75);
      CHECK(e.spread() < 1.15);
    }
  }
}

TEST_CASE("children are estimated with an s.d. that covers them", "[estimate][survey]") {
  // AnthroKids 1977, US children aged 2 to 19; nothing of it is in the tables.
  const auto children = survey_children_1977();
  if (children.empty()) {
    WARN("SKIPPED: AnthroKids is not there; set EASEWRIGHT_BODIES");
    return;
  }
  for (const auto& kept : {std::vector<BodyKey>{stature}, std::vector<BodyKey>{age}}) {
    const auto errors = errors_of(children, kept, shipped_body_tables());
    for (int i = 0; i < kBodyKeys; ++i) {
      const Errors& e = errors[static_cast<size_t>(i)];
      if (e.n < 100) continue;
      INFO(info(static_cast<BodyKey>(i)).id << ": bias " << e.bias() << " spread " << e.spread());
      CHECK(std::abs(e.bias()) < 1.3);
      CHECK(static_cast<double>(e.beyond_two) < 0.25 * e.n);
    }
    CHECK(all_of(errors).root_mean_square() < 1.1);
  }
  const Completed one = completed(keeping(children[0], {stature}), WaistLevel::navel);
  CHECK(std::any_of(one.notes.begin(), one.notes.end(), [](const BodyNote& note) {
    return note.kind == BodyNote::Kind::warning &&
           note.text.find("no table of children") != std::string::npos;
  }));
}
