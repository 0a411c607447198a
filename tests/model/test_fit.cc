// fit() and check() as a whole: the same answer every time, an answer that stays when solved from
// itself, and the cutter's sample body (data/examples) followed from its file to its findings.
// 'Notes' are the cutter's notes on the model; their figures are worked out by hand.

#include "model/fit.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/population.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

namespace easewright::tests {
namespace {

using solver::Level;
using B = BodyKey;
using K = ValueKey;
using M = MeasureKey;

const std::vector<std::string>& demo_jobs() {
  static const std::vector<std::string> files = {"examples/sample.yaml",
                                                 "choir/jobs/alto-1.yaml",
                                                 "choir/jobs/soprano-2.yaml",
                                                 "choir/jobs/bass-1.yaml",
                                                 "choir/jobs/mezzo-1.yaml"};
  return files;
}

const Finding& finding(const FitResult& result, const std::string& name) {
  const auto at = std::find_if(result.findings.begin(),
                               result.findings.end(),
                               [&](const Finding& f) { return f.name == name; });
  REQUIRE(at != result.findings.end());
  return *at;
}

/// The sample with a draft of its own, put on over the head.
FitResult check_sample(const std::vector<std::pair<ValueKey, double>>& changes) {
  Job job = demo_job("examples/sample.yaml");
  job.style.put_on = {0};
  for (const auto& change : changes) {
    std::erase_if(job.draft, [&](const auto& given) { return given.first == change.first; });
    job.draft.push_back(change);
  }
  return check(job, shipped_catalogue());
}

/// The farthest that two drafts lie apart, in each value's scale.
double apart(const solver::Problem& problem,
             const std::vector<double>& a,
             const std::vector<double>& b) {
  double most = 0;
  for (size_t j = 0; j < a.size(); ++j)
    most = std::max(most, std::abs(a[j] - b[j]) / problem.variables[j].scale);
  return most;
}

solver::Outcome solve_again(const FitResult& result) {
  solver::SolveOptions options;
  options.warm_start = &result.outcome.x;
  options.starts = 1;
  return solver::solve(result.posed->problem, options);
}

}  // namespace

TEST_CASE("rules judged on a draft's own values and measures are its findings") {
  for (const std::string& file : demo_jobs()) {
    INFO(file);
    const FitResult r = fit(demo_job(file), shipped_catalogue());
    const std::vector<Finding> again = findings_at(*r.posed, r.values, r.measures);
    REQUIRE(again.size() == r.findings.size());
    for (size_t i = 0; i < again.size(); ++i) {
      const Finding& a = again[i];
      const Finding& b = r.findings[i];
      INFO(a.name << ", " << b.name);
      CHECK(a.outputs == b.outputs);
      CHECK(a.missed == b.missed);
      CHECK_THAT(a.miss, WithinAbs(b.miss, 1e-9));
      CHECK_THAT(a.value, WithinAbs(b.value, 1e-9));
    }
  }
}

TEST_CASE("same job, same bits") {
  for (const std::string& file : demo_jobs()) {
    INFO(file);
    const FitResult a = fit(demo_job(file), shipped_catalogue());
    const FitResult b = fit(demo_job(file), shipped_catalogue());
    CHECK(a.outcome.x == b.outcome.x);
    CHECK(a.outcome.pull == b.outcome.pull);
    CHECK(a.values.at == b.values.at);
    CHECK(a.measures.at == b.measures.at);
    CHECK(std::equal(
        a.notes.begin(),
        a.notes.end(),
        b.notes.begin(),
        b.notes.end(),
        [](const Note& x, const Note& y) { return x.text == y.text && x.lengths == y.lengths; }));
    CHECK(a.outcome.iterations == b.outcome.iterations);
    REQUIRE(a.findings.size() == b.findings.size());
    for (size_t i = 0; i < a.findings.size(); ++i) {
      CHECK(a.findings[i].name == b.findings[i].name);
      CHECK(a.findings[i].miss == b.findings[i].miss);
    }
  }
}

TEST_CASE("solving from the answer stays there") {
  for (const std::string& file : demo_jobs()) {
    INFO(file);
    const FitResult result = fit(demo_job(file), shipped_catalogue());
    const solver::Outcome again = solve_again(result);
    CHECK(again.status == solver::Status::settled);
    CHECK(apart(result.posed->problem, again.x, result.outcome.x) < 1e-3);
  }
}

TEST_CASE("solving from the answer stays there, for hard wishes and many bodies",
          "[population][survey]") {
  const auto women = survey_women_1988();
  if (women.empty()) {
    WARN("SKIPPED: no survey data of the 1988 women; set EASEWRIGHT_BODIES");
    return;
  }
  const Style style = shipped_style("concert dress");
  const std::vector<std::vector<Wish>> wishes = {{},
                                                 {just("neckline.depth", 18)},
                                                 {just("strap.width", 9)},
                                                 {just("slit.opening_above_knee", 25)},
                                                 {just("armhole.drop", 4)}};
  for (size_t i = 0; i < women.size(); i += 12) {
    for (const auto& more : wishes) {
      Job job = population_job(women[i], style);
      job.wishes = more;
      const FitResult result = fit(job, shipped_catalogue());
      const solver::Outcome again = solve_again(result);
      INFO(women[i].label << ", " << (more.empty() ? "no wish" : more.front().id));
      // Proved, or so near that only the last digits stall.
      for (const solver::Outcome* o : {&result.outcome, &again}) {
        if (o->status != solver::Status::settled && !(o->optimality < 1e-4))
          FAIL_CHECK("optimality residual " << o->optimality);
      }
      // What is missed can't be bought down; along a flat floor of habits the draft may creep.
      for (const Level level : {Level::must, Level::should, Level::wish}) {
        const auto at = static_cast<size_t>(level);
        if (std::abs(again.total[at] - result.outcome.total[at]) > 1e-3)
          FAIL_CHECK("a level's total moves from " << result.outcome.total[at] << " to "
                                                   << again.total[at]);
      }
      const double habits = result.outcome.total[static_cast<size_t>(Level::habit)];
      if (std::abs(again.total[static_cast<size_t>(Level::habit)] - habits) > 1e-3 * (1 + habits))
        FAIL_CHECK("habits move from " << habits);
      if (more.empty() && apart(result.posed->problem, again.x, result.outcome.x) > 0.01)
        FAIL_CHECK("the draft moves");
    }
  }
}

TEST_CASE("the order of the wishes does not matter") {
  const std::vector<Wish> wishes = {just("neckline.depth", 12),
                                    just("strap.width", 4.5),
                                    just("armhole.drop", 1),
                                    just("skirt.length", 72)};
  Job job = demo_job("examples/sample.yaml");
  job.wishes = wishes;
  const FitResult a = fit(job, shipped_catalogue());
  job.wishes.assign(wishes.rbegin(), wishes.rend());
  const FitResult b = fit(job, shipped_catalogue());
  CHECK(apart(a.posed->problem, a.outcome.x, b.outcome.x) < 1e-3);
  for (size_t level = 0; level < solver::kLevels; ++level)
    CHECK_THAT(a.outcome.total[level], WithinAbs(b.outcome.total[level], 1e-3));
}

TEST_CASE("the population's judge notices what it is there to notice") {
  // The judge of the population tests is only as good as this: a result that says what is not so.
  const Catalogue& catalogue = shipped_catalogue();
  const Job job =
      population_job(demo_job("examples/sample.yaml").body, shipped_style("concert dress"));
  const FitResult good = fit(job, catalogue);
  REQUIRE(judge(job, catalogue, good).slips.empty());
  const auto notices = [&](const std::function<void(FitResult&)>& spoil) {
    FitResult bad = good;
    spoil(bad);
    return !judge(job, catalogue, bad).slips.empty();
  };
  CHECK(notices([](FitResult& r) { r.findings.back().missed = true; }));
  CHECK(notices([](FitResult& r) { r.findings.pop_back(); }));
  CHECK(notices([](FitResult& r) { r.findings.push_back(r.findings.back()); }));
  CHECK(notices([](FitResult& r) { r.findings.back().name = "moon is full"; }));
  CHECK(notices([](FitResult& r) { r.findings.back().strength = Level::habit; }));
  CHECK(notices([](FitResult& r) { r.values[K::neckline_depth] += 0.5; }));
  CHECK(notices([](FitResult& r) { r.values[K::skirt_length] = 500; }));
  CHECK(notices([](FitResult& r) { r.values[K::shaping_side] = 0.1; }));  // no side dart here
  CHECK(notices([](FitResult& r) { r.measures[M::armhole_girth] = std::nan(""); }));
  CHECK(notices([](FitResult& r) { r.outcome.pull.front() = solver::kInfinity; }));
  // A rule that is missed by two thousandths of its tolerance, and said to hold.
  FitResult near = good;
  near.values[K::skirt_front_rise] = near.completed.body[B::waist_height_front] -
                                     near.completed.body[B::waist_height] - 2e-3 * 0.3;
  near.measures = measure(near.posed->frame, near.values);
  CHECK_FALSE(judge(job, catalogue, near).slips.empty());
}

TEST_CASE("the sample fits: musts, shoulds and wishes") {
  const FitResult result = fit(demo_job("examples/sample.yaml"), shipped_catalogue());
  CHECK(result.all_hold(Level::wish));
  CHECK(result.outcome.status == solver::Status::settled);
  CHECK(result.switches.is(Switch::put_on, "over the head"));
}

TEST_CASE(
    "what passes what on the sample (notes, point 1): need 97, a bust line of 96 is 1.0 short") {
  // Sides upright, so that bust line and underarm are one round of 96.
  const FitResult result = check_sample({{K::bodice_front_underarm, 24.5},
                                         {K::bodice_front_waist, 24.5},
                                         {K::bodice_back_underarm, 23.5},
                                         {K::bodice_back_waist, 23.5}});
  CHECK_THAT(result.measures[M::dressing_need], WithinAbs(97, 1e-9));
  const Finding& bust = finding(result, "bust line passes shoulders and bust");
  CHECK(bust.missed);
  CHECK_THAT(bust.miss, WithinAbs(-1.0, 1e-9));
  CHECK_THAT(finding(result, "underarm passes shoulders and bust").miss, WithinAbs(-1.0, 1e-9));
  // 'Waist 97 holds': the flat waist with its gathers is wider still.
  CHECK(result.measures[M::bodice_waist] > 97);
  CHECK_FALSE(finding(result, "waist seam passes shoulders and bust").missed);
  // A V of 8 does not pass the head (notes: neck edge 56.9, wanted 59.5), so its rule is missed.
  CHECK(finding(result, "neck edge passes the head").missed);
  // Bust 110, shoulders 112, hip 98: 114, not hip + 2.
  Job broad = demo_job("examples/sample.yaml",
                       {.measures = {"bust girth 110 cm", "shoulder girth 112 cm"}});
  CHECK_THAT(fit(broad, shipped_catalogue()).measures[M::dressing_need], WithinAbs(114, 1e-9));
}

TEST_CASE("the sample's elastic sits at the natural waist (notes, point 3)") {
  // Level ISO in the file, elastic in the style: back length -4.0 (s.d. 1.7), girth -3.3 (2.05),
  // landmarks below the waist +4.0, and it is reported (s.d. of the 1988 women). A fitted seam
  // stays at the level of the file.
  Job job = demo_job("examples/sample.yaml");
  const FitResult elastic = fit(job, shipped_catalogue());
  job.style = shipped_style("fitted dress");
  const FitResult seam = fit(job, shipped_catalogue());
  const CompleteBody& natural = elastic.completed.body;
  const CompleteBody& iso = seam.completed.body;
  CHECK(natural.waist_level == WaistLevel::natural);
  CHECK(iso.waist_level == WaistLevel::iso);
  CHECK_THAT(iso[B::back_waist_length], WithinAbs(41, 1e-12));
  CHECK_THAT(natural[B::back_waist_length] - 41, WithinAbs(-4.0, 1.7));
  CHECK_THAT(natural[B::waist_girth] - 74, WithinAbs(-3.3, 2 * 2.05));
  const Frame& high = elastic.posed->frame;
  const Frame& low = seam.posed->frame;
  for (const double Frame::*level :
       {&Frame::hip_y, &Frame::fold_y, &Frame::crotch_y, &Frame::knee_y})
    CHECK_THAT(high.*level - low.*level, WithinAbs(4.0, 1.7));
  // The waist moved, the body did not: back length and landmarks by about the same. Surface over
  // vertical is 1.045 on the mean back (ANSUR 1988, derived).
  CHECK_THAT(high.knee_y - low.knee_y,
             WithinAbs((41 - natural[B::back_waist_length]) / 1.045, 0.5));
  const auto conversions = [](const FitResult& r) {
    return std::count_if(r.completed.notes.begin(), r.completed.notes.end(), [](const BodyNote& n) {
      return n.kind == BodyNote::Kind::info && n.text.find("natural") != std::string::npos;
    });
  };
  CHECK(conversions(elastic) > 0);
  CHECK(conversions(seam) == 0);
}

TEST_CASE("edges of the sample's armhole (notes, point 8): 15.0 and 16.75 at a cut-in of 4") {
  // Strap 2.5 to 8.5 along a shoulder of 12.5; across front 32.5, across back 35.5.
  const FitResult good = check_sample({});
  CHECK_THAT(good.measures[M::strap_cut_in], WithinAbs(4, 1e-9));
  CHECK_FALSE(finding(good, "front edge lies inside the arm crease").missed);
  CHECK_FALSE(finding(good, "back edge lies inside the arm crease").missed);
  // Right in the middle of the range, to the half centimetre that it leaves on either side.
  for (const double off : {-0.49, 0.49}) {
    const FitResult near =
        check_sample({{K::armhole_front_edge, 15 + off}, {K::armhole_back_edge, 16.75 + off}});
    CHECK_FALSE(finding(near, "front edge lies inside the arm crease").missed);
    CHECK_FALSE(finding(near, "back edge lies inside the arm crease").missed);
  }
  const FitResult plan =
      check_sample({{K::armhole_front_edge, 16.4}, {K::armhole_back_edge, 18.4}});
  CHECK(finding(plan, "front edge lies inside the arm crease").missed);
  CHECK(finding(plan, "back edge lies inside the arm crease").missed);
}

TEST_CASE("bust angle of the sample and of a man (notes, point 9)") {
  const FitResult sample = fit(demo_job("examples/sample.yaml"), shipped_catalogue());
  const BodyValue angle = sample.completed.body.at(B::bust_angle);
  CHECK_THAT(degrees(angle.value), WithinAbs(17.4, 0.1));
  CHECK_THAT(degrees(angle.sd), WithinAbs(3, 1e-9));  // never claimed better than that
  CHECK_THAT(sample.measures[M::shaping_total], WithinAbs(angle.value, 1e-12));
  Body man;
  man.build = Build::man;
  man[B::bust_girth] = BodyValue{100, 0.5, Origin::measured};
  man[B::underbust_girth] = BodyValue{94, 0.5, Origin::measured};
  const FitResult top = fit(population_job(man, shipped_style("concert top")), shipped_catalogue());
  CHECK(degrees(top.completed.body[B::bust_angle]) < 8);
}

TEST_CASE("front and back balance of the sample goes to the waist line (notes, point 10)") {
  // A front that is longer above the bust makes the armholes' difference smaller by as much
  // (geometry). Past the limits of 1.5 and 4.5 the armholes stay and the centre front waist takes
  // the rest, and says so.
  const auto with_front = [](double longer) {
    Job job = demo_job("examples/sample.yaml");
    job.style = shipped_style("fitted dress");  // waist at the level of the file: lengths as taped
    job.body[B::front_over_bust]->value += longer;
    job.body[B::side_neck_to_bust_point]->value += longer;
    return fit(job, shipped_catalogue());
  };
  const auto shift = [&](double longer) {
    const FitResult r = with_front(longer);
    CHECK_THAT(r.values[K::bodice_centre_front],
               WithinAbs(r.measures[M::bodice_balance], 0.2 + 3e-4));
    CHECK_FALSE(finding(r, "front and back armhole keep their balance").missed);
    return r.measures[M::bodice_balance];
  };
  CHECK(std::abs(shift(0)) < 0.6);  // the file's own lengths nearly agree
  CHECK(shift(6) < -0.5);
  CHECK_THAT(shift(7) - shift(6), WithinAbs(-1, 0.12));
  CHECK(shift(-2) > 1);
  CHECK_THAT(shift(-3) - shift(-2), WithinAbs(1, 0.12));
  const auto says = [](const FitResult& r, const char* word) {
    return std::any_of(r.notes.begin(), r.notes.end(), [word](const Note& n) {
      return n.text.find("balance") != std::string::npos && n.text.find(word) != std::string::npos;
    });
  };
  CHECK(says(with_front(6), "longer"));
  CHECK(says(with_front(-2), "shorter"));
}

TEST_CASE(
    "the sample's slope becomes a garment's (notes, point 11): 21 of the silhouette is 18.5") {
  const auto slope = [](SlopeReading reading, double deg) {
    Job job = demo_job("examples/sample.yaml");
    job.body.slope_reading = reading;
    job.body[B::shoulder_slope]->value = radians(deg);
    return degrees(fit(job, shipped_catalogue()).completed.body[B::shoulder_slope]);
  };
  CHECK_THAT(slope(SlopeReading::silhouette, 21), WithinAbs(18.5, 1e-9));
  CHECK_THAT(slope(SlopeReading::bone, 25.7), WithinAbs(20, 1e-9));
  CHECK_THAT(slope(SlopeReading::garment, 20), WithinAbs(20, 1e-9));
}

TEST_CASE(
    "fronts of the skirt (notes, point 25): both fronts across are 1.5 panels less two turns") {
  // Finished halves: two fronts of P - t lapped by half of one are 1.5 (P - t).
  const double panel = 40, turn = 1.25;
  const FitResult r =
      check_sample({{K::skirt_front_width, panel - turn}, {K::skirt_overlap, (panel - turn) / 2}});
  CHECK_THAT(r.measures[M::skirt_front_across], WithinAbs(1.5 * (panel - turn), 1e-9));
  CHECK_THAT(1.5 * (panel - turn), WithinAbs(58.1, 0.05));
  // Lapped by half of the cut edge: 1.5 P - 2 t.
  const FitResult cut =
      check_sample({{K::skirt_front_width, panel - turn}, {K::skirt_overlap, panel / 2}});
  CHECK_THAT(cut.measures[M::skirt_front_across], WithinAbs(57.5, 1e-9));
}

TEST_CASE("a check solves nothing: what the draft gives stays, the rest stands at its habit") {
  const Job job = demo_job("examples/sample.yaml");
  REQUIRE_FALSE(job.draft.empty());
  const FitResult r = check(job, shipped_catalogue());
  for (const auto& [key, amount] : job.draft) CHECK(r.values[key] == amount);
  CHECK(r.values[K::hem_turn] == 0.6);  // the file's own habit
  CHECK(r.values[K::bodice_blouson] == 2);
  CHECK(r.outcome.starts_tried == 0);
}

TEST_CASE("a body that nobody can have is refused, not drafted") {
  Job job = demo_job("examples/sample.yaml");
  job.body[B::waist_girth]->value = 720;
  const FitResult r = fit(job, shipped_catalogue());
  CHECK(has_error(r.completed));
  CHECK(r.posed == nullptr);
  CHECK(r.findings.empty());
  CHECK(std::all_of(r.values.at.begin(), r.values.at.end(), [](double v) { return v == 0; }));
}

}  // namespace easewright::tests
