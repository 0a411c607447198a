// Published figures and closed forms that the draft has to agree with, by their number in the
// trade reference. Where each is held:
//
//    1, 4      neck of blocks: here (the model's half width, depth and rise among them); the rest
//              of those block drafts is no part of the model
//    2         bust angle formula: test_bust_angle.cc; waist darts: no part of the model
//    3, 5-7, 9, 10  whole block and skirt drafts, grading: no part of the model
//    8         armhole depth by arm girth: here, as a cross-check of the drafted depth
//   11, 12     dart angles: test_bust_angle.cc, test_garment.cc;  13: test_garment.cc
//   14         circle skirts: no such skirt yet; flare of a straight one: here
//   15-17, 37  hems and steps: test_garment.cc
//   18, 19, 34 mean body: test_body_tables.cc;  20-22 cups: test_body_cup.cc
//   23, 24     size table: test_body_size_table.cc;  35 two waists: test_body_sanity.cc
//   25         waist pass: here;  26 tolerance by age: here;  27 pressures: here
//   31         stretch: here; widths of cloth wait for the cutting plan, as 30 (repeats) does
//   32, 33     ties on a child: here
//   36         lowered armhole: here; letting out waits for alterations, as 28 and 29 do
//   38         neck opening of 50: here
//
// 'From memory' marks sources that were not at hand.

#include "model/body/size_table.h"
#include "model/fit.h"
#include "model/rules/expression_evaluate.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/population.h"
#include "tests/model/sample.h"
#include "tests/model/shipped_body_tables.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <string>

namespace easewright::tests {
namespace {

using solver::Level;
using B = BodyKey;
using K = ValueKey;
using M = MeasureKey;

Body body_of(Build build, const std::vector<std::pair<BodyKey, double>>& tapes) {
  Body body;
  body.build = build;
  for (const auto& [key, value] : tapes)
    body[key] = BodyValue{value, info(key).default_sd, Origin::measured};
  return body;
}

/// The mean woman of 1988 (Gordon et al. 1989).
Body mean_woman() {
  return body_of(Build::woman,
                 {{B::bust_girth, 90.71},
                  {B::underbust_girth, 76.97},
                  {B::waist_girth, 72.55},
                  {B::hip_girth, 96.7},
                  {B::stature, 162.9},
                  {B::shoulder_girth, 102.7},
                  {B::armscye_girth, 37.13},
                  {B::scye_depth, 18.6},
                  {B::back_waist_length, 36.7},
                  {B::neck_base_girth, 34.6},
                  {B::upper_arm_girth, 29.16},
                  {B::shoulder_length, 14.5}});
}

Frame frame_with(const std::vector<std::pair<BodyKey, double>>& values,
                 const Switches& switches = {}) {
  CompleteBody body = sample_body();
  for (const auto& [key, value] : values) body.at(key).value = value;
  return frame_of(body, {}, switches);
}

const Finding& finding(const FitResult& result, const std::string& name) {
  const auto at = std::find_if(result.findings.begin(),
                               result.findings.end(),
                               [&](const Finding& f) { return f.name == name; });
  REQUIRE(at != result.findings.end());
  return *at;
}

const Rule& rule_named(const std::string& name) {
  const auto& rules = shipped_catalogue().rules;
  const auto at =
      std::find_if(rules.begin(), rules.end(), [&](const Rule& r) { return r.name == name; });
  REQUIRE(at != rules.end());
  return *at;
}

double number(const std::string& expression) {
  const auto e = Expression::parse(expression, nullptr);
  REQUIRE(e);
  return e->evaluate(Facts<double>{});
}

constexpr double kKpaPerMmhg = 0.133322387415;  // exact by definition of the conventional mmHg

}  // namespace

TEST_CASE("oracles 1 and 4: the neck lies among those of published blocks") {
  // Bunka (from memory): front half width B/24 + 3.4, depth 0.5 more, back half width 0.2 more and
  // a third of it high; 6.86, 7.36, 7.06, 2.35 at B 83. Aldrich (from memory), size 12, neck 37,
  // B 88: front 6.7 and 7.2 deep, back 7.2 and 1.5 high.
  const auto bunka = [](double bust) { return bust / 24 + 3.4; };
  CHECK_THAT(bunka(83), WithinAbs(6.86, 0.01));
  CHECK_THAT(bunka(83) + 0.5, WithinAbs(7.36, 0.01));
  CHECK_THAT((bunka(83) + 0.2) / 3, WithinAbs(2.35, 0.01));
  const Frame f = frame_with({{B::neck_base_girth, 37}, {B::bust_girth, 88}});
  CHECK(f.neck_half >= 6.7);
  CHECK(f.neck_half <= bunka(88) + 0.2);
  CHECK(f.neck_depth >= 7.2);
  CHECK(f.neck_depth <= bunka(88) + 0.5);
  CHECK(f.neck_rise >= 1.5);
  CHECK(f.neck_rise <= (bunka(88) + 0.2) / 3);
}

TEST_CASE("the armpit of the draft is the body's (derived from the 1988 women)", "[survey]") {
  // At a drop of 1 the bust lies 4.7 below the underarm, p5 1.5, p95 8.0 (cutter's notes, point 4);
  // what the armscye moves is left out.
  const auto women = survey_women_1988();
  if (women.empty()) {
    WARN("SKIPPED: no survey data of the 1988 women; set EASEWRIGHT_BODIES");
    return;
  }
  std::vector<double> above;
  double as_drafted = 0;
  for (const Body& body : women) {
    const auto whole = complete(body, WaistLevel::natural, shipped_catalogue().bodies);
    const Frame f = frame_of(whole.body, {}, {});
    above.push_back(f.armpit_y + f.armpit_shift - 1 - f.bust_y);
    as_drafted += (above.back() - f.armpit_shift) / static_cast<double>(women.size());
  }
  std::sort(above.begin(), above.end());
  const double mean =
      std::accumulate(above.begin(), above.end(), 0.0) / static_cast<double>(above.size());
  CHECK_THAT(mean, WithinAbs(4.7, 0.3));
  CHECK_THAT(above[above.size() * 5 / 100], WithinAbs(1.5, 0.4));
  CHECK_THAT(above[above.size() * 95 / 100], WithinAbs(8.0, 0.4));
  WARN("bust below the underarm at drop 1: " << mean << "; as drafted " << as_drafted);
}

TEST_CASE("oracle 8: the drafted armhole is as deep as blocks have it") {
  // Arm girth / 4 + 14 (US patent 4,899,448) is 21.29 at 29.16; blocks of bust 88 to 91 have 21.0
  // (Bunka and Aldrich, from memory); a sleeveless one is raised by 1 to 1.5 (common practice).
  CHECK_THAT(29.16 / 4 + 14, WithinAbs(21.29, 0.01));
  const FitResult r =
      fit(population_job(mean_woman(), shipped_style("concert dress")), shipped_catalogue());
  REQUIRE(r.posed);
  const double depth = r.posed->frame.back_neck_y - r.posed->frame.armpit_y +
                       r.values[K::armhole_drop];  // back neck point down to the underarm
  CHECK(depth > 21.0 - 1.5 - 0.5);
  CHECK(depth < 21.29 + 0.5);
}

TEST_CASE("oracle 14: 5 at each side hem raises the hem girth by 20 (common practice, exact)") {
  const Frame f = frame_with({});
  Values<double> v = sample_draft();
  v[K::skirt_flare] = 0;
  const double straight = measure(f, v)[M::skirt_hem];
  CHECK_THAT(straight, WithinAbs(measure(f, v)[M::skirt_hip], 1e-6));
  v[K::skirt_flare] = 5;
  CHECK_THAT(measure(f, v)[M::skirt_hem] - straight, WithinAbs(20, 1e-6));
}

TEST_CASE("oracle 25: waist 72.55, need 102.12, elastic 0.9 of the waist") {
  // Extension 56.4 % (ANSUR 1988 and 2012 means, derived); a flat seam of hip + 2 gathers 1.435.
  const Frame f = frame_with({{B::waist_girth, 72.55},
                              {B::bust_girth, 94.7},
                              {B::shoulder_girth, 108.12},
                              {B::hip_girth, 102.12},
                              {B::bust_angle, 0},
                              {B::blade_angle, 0}});
  Values<double> v = sample_draft();
  v[K::elastic_length] = 0.9 * 72.55;
  v[K::blade_neck] = v[K::blade_shoulder] = v[K::blade_armhole] = 0;
  v[K::bodice_front_waist] = v[K::bodice_back_waist] = 104.12 / 4;
  v[K::bodice_front_underarm] = v[K::bodice_back_underarm] = 104.12 / 4;  // upright: a level waist
  const auto m = measure(f, v);
  CHECK_THAT(m[M::dressing_need], WithinAbs(102.12, 1e-9));
  CHECK_THAT(100 * m[M::dressing_strain], WithinAbs(56.4, 0.1));
  CHECK_THAT(m[M::bodice_waist], WithinAbs(104.12, 1e-6));
  CHECK_THAT(m[M::gather_ratio], WithinAbs(1.435, 0.001));
}

TEST_CASE("oracle 26: load borne at the waist by age, through the rule's own limit") {
  // mmHg = 32.37 - 0.287 age (published abstract, 124 women of 19 to 87): 26.63, 20.89, 15.15,
  // 12.28. The rule is in kPa.
  const Rule& rule = rule_named("elastic presses no more than is borne");
  REQUIRE(rule.range.hi);
  for (const auto& [age, mmhg] :
       {std::pair(20.0, 26.63), std::pair(40.0, 20.89), std::pair(70.0, 12.28)}) {
    std::array<double, kBodyKeys> body{};
    body[static_cast<size_t>(B::age)] = age;
    const double kpa =
        rule.range.hi->evaluate(Facts<double>{nullptr, nullptr, body.data(), nullptr});
    CHECK_THAT(kpa / kKpaPerMmhg, WithinAbs(mmhg, 0.01));
  }
}

TEST_CASE("oracle 27: pressures of published belts come out of the elastic's tightening") {
  // 18 gf/cm2 is 1.765 kPa, at a mean tightening of 3.6 % (KAKENHI report 06780028, belt of 2.5);
  // 17.5 +- 2.1 mmHg is 2.333 kPa, under a band 5 % short (Sen'i Gakkaishi 47(6)): a second source,
  // that nothing was set by.
  CHECK_THAT(18 * 9.80665e-3 / 1e-4 / 1e3, WithinAbs(1.765, 0.001));
  CHECK_THAT(17.5 * kKpaPerMmhg, WithinAbs(2.333, 0.001));
  const auto pressure = [](double tightening) {
    const Frame f = frame_with({});
    Values<double> v = sample_draft();
    v[K::elastic_length] = (1 - tightening) * f.waist() / (1 + f.cloth.elastic_growth);
    return measure(f, v)[M::elastic_pressure];
  };
  CHECK_THAT(pressure(0.036), WithinAbs(1.765, 0.01));
  CHECK_THAT(pressure(0.05), WithinAbs(2.333, 2.1 * kKpaPerMmhg));
}

TEST_CASE("oracle 31: stretch by hand, as an expression") {
  CHECK_THAT(number("(5 in - 4 in) / 4 in"), WithinAbs(0.25, 1e-12));
  CHECK_THAT(number("(7 in - 4 in) / 4 in"), WithinAbs(0.75, 1e-12));
  CHECK_THAT(number("(14 in - 10 in) / 10 in"), WithinAbs(40.0 / 100, 1e-12));
}

TEST_CASE("oracles 32 and 33: a tied belt on a child's dress is refused, at any length") {
  // EN 14682 to age 14, ASTM F1816 sizes 2T to 16, as authorities summarise them: the project
  // blocks any tie on a child's size until the standards have been checked. A cord of 8 cm too.
  for (const double age : {4.0, 6.0, 8.0, 12.0}) {
    Job job = population_job(body_of(Build::child, {{B::age, age}}), shipped_style("junior dress"));
    const FitResult without = fit(job, shipped_catalogue());
    REQUIRE(without.posed);
    CHECK(without.all_hold(Level::must));
    CHECK_FALSE(without.has_value[static_cast<size_t>(K::belt_length)]);

    job.style.switches.set(Switch::belt, "tied");
    const FitResult tied = fit(job, shipped_catalogue());
    const Finding& refused = finding(tied, "no tied belt on a child's size");
    CHECK(refused.missed);
    CHECK(refused.strength == Level::must);
    CHECK_FALSE(tied.all_hold(Level::must));
    CHECK(std::any_of(tied.notes.begin(), tied.notes.end(), [&](const Note& note) {
      return note.text == refused.rule->caution;
    }));

    ValueOverride cord;
    cord.key = K::belt_length;
    cord.habit = cord.least = cord.most = Expression(8, kLength);
    cord.fixed = true;
    job.style.overrides.push_back(cord);
    CHECK(finding(fit(job, shipped_catalogue()), "no tied belt on a child's size").missed);
  }
  // A grown woman may tie hers.
  const FitResult woman =
      fit(population_job(mean_woman(), shipped_style("concert dress")), shipped_catalogue());
  for (const Finding& f : woman.findings) CHECK(f.name != "no tied belt on a child's size");
}

TEST_CASE("oracle 36: an armhole lowered by 1 with upright edges is larger by 2 (geometry)") {
  // No bust angle, so that the side panel stands upright and does not turn outwards.
  const Frame f = frame_with({{B::bust_angle, 0}, {B::blade_angle, 0}});
  const auto lowered = [&](double front_foot, double back_foot) {
    Values<double> w = sample_draft();
    w[K::blade_neck] = w[K::blade_shoulder] = w[K::blade_armhole] = 0;
    w[K::bodice_front_waist] = w[K::bodice_front_underarm] = w[K::armhole_front_edge] + front_foot;
    w[K::bodice_back_waist] = w[K::bodice_back_underarm] = w[K::armhole_back_edge] + back_foot;
    const auto before = measure(f, w);
    w[K::armhole_drop] += 1;
    const auto after = measure(f, w);
    CHECK_THAT(after[M::bodice_bust], WithinAbs(before[M::bodice_bust], 1e-9));
    CHECK_THAT(after[M::bodice_side] - before[M::bodice_side], WithinAbs(-1, 1e-9));
    return after[M::armhole_girth] - before[M::armhole_girth];
  };
  // The edges run down from under the strap's end; with a foot of 1 cm they are upright all the
  // way and each grows by the centimetre itself. With a foot of 7 to 9 cm, as drafted, by somewhat
  // less: 2 is the bound ('about 2' in common practice).
  CHECK_THAT(lowered(1, 1), WithinAbs(2.0, 0.05));
  CHECK(lowered(9.5, 6.75) < 2.0);
  CHECK(lowered(9.5, 6.75) > 1.5);
}

TEST_CASE("oracle 38: a neck opening of 50 over a head of 56.1 is 6.1 short, and the allowance") {
  // Head girth: mean of 2012. The allowance is 3 (common practice: 2 to 4). The opening is demanded
  // as strictly as the head's pass, and closer: so it is the pass that is missed.
  Body body = mean_woman();
  body[B::head_girth] = BodyValue{56.1, 0.5, Origin::measured};
  Job job = population_job(body, shipped_style("concert dress"));
  Wish opening = just("neckline.edge", 50, 0.1);
  opening.strength = Level::must;
  job.wishes = {opening};
  const FitResult r = fit(job, shipped_catalogue());
  CHECK_FALSE(r.all_hold(Level::must));
  const Finding& head = finding(r, "neck edge passes the head");
  CHECK(head.missed);
  CHECK_THAT(head.miss, WithinAbs(-6.1 - 3, 0.1));
  CHECK_FALSE(finding(r, "neckline edge").missed);
  for (const Route& route : r.routes) CHECK_FALSE(route.passes);
}

TEST_CASE("armholes of a published size table lie where the trade has them") {
  // ASTM D5585-95 (from memory), armscye over bust 0.44 at size 10. Finished sleeveless: armscye
  // + 1 to + 4 and 0.42 to 0.48 of the bust (common practice), for a full shoulder: the 1.14 that
  // each cm of cut-in adds (trial on 1,104 bodies) is taken off.
  std::string error;
  const auto table = parse_size_table(shipped_text("bodies-d5585-95.csv"), &error);
  REQUIRE(table);
  REQUIRE(table->sizes.size() >= 8);
  for (const std::string& size : table->sizes) {
    const auto body = size_body(*table, size);
    REQUIRE(body);
    const double bust = (*body)[B::bust_girth]->value, armscye = (*body)[B::armscye_girth]->value;
    const FitResult r =
        fit(population_job(*body, shipped_style("concert dress")), shipped_catalogue());
    INFO("size " << size);
    REQUIRE(r.posed);
    CHECK(r.all_hold(Level::should));
    const double full = r.measures[M::armhole_girth] - 1.14 * r.measures[M::strap_cut_in];
    CHECK(full >= armscye + 1);
    CHECK(full <= armscye + 4 + 1e-3);
    CHECK(full / bust > 0.42);
    // Of the table's small sizes 0.48 of the bust is less than armscye + 4: then the armscye rules.
    CHECK(full / bust < std::max(0.48, (armscye + 4 + 1e-3) / bust));
  }
}

TEST_CASE("garment slopes lie where blocks have them") {
  // Bone points of the mean woman 25.77 deg (heights 139.65 and 133.36, length 14.47, Gordon et al.
  // 1989); blocks 22 front and 18 back, mean 20 (Bunka, from memory), 23 in ASTM D5585-95 (from
  // memory); silhouettes 22.3 and 23.6 (337 students), which a garment's follows 2.5 flatter.
  Body body = mean_woman();
  body.slope_reading = SlopeReading::bone;
  body[B::shoulder_slope] =
      BodyValue{std::asin((139.65 - 133.36) / 14.47), radians(3), Origin::measured};
  const FitResult r =
      fit(population_job(body, shipped_style("concert dress")), shipped_catalogue());
  CHECK_THAT(degrees(r.completed.body[B::shoulder_slope]), WithinAbs(20, 0.3));
  CHECK_THAT(degrees(r.values[K::strap_slope]), WithinAbs(20, 3.1));
}

}  // namespace easewright::tests
