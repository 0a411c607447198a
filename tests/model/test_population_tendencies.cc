// What a cutter expects of many bodies. Each tendency names what drives it; the bodies are the open
// 1988 women (Gordon et al. 1989).

#include "model/rules/expression_evaluate.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/population.h"
#include "tests/model/survey.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <numeric>

#include <tbb/parallel_for.h>

namespace easewright::tests {
namespace {

using solver::Level;
using B = BodyKey;
using K = ValueKey;
using M = MeasureKey;

bool skip(const std::vector<Body>& women) {
  if (women.empty()) WARN("SKIPPED: no survey data of the 1988 women; set EASEWRIGHT_BODIES");
  return women.empty();
}

std::vector<Body> every(size_t n, const std::vector<Body>& all) {
  std::vector<Body> some;
  for (size_t i = 0; i < all.size(); i += n) some.push_back(all[i]);
  return some;
}

double mean(const std::vector<double>& v) {
  return std::accumulate(v.begin(), v.end(), 0.0) / static_cast<double>(v.size());
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const double ma = mean(a), mb = mean(b);
  double ab = 0, aa = 0, bb = 0;
  for (size_t i = 0; i < a.size(); ++i) {
    ab += (a[i] - ma) * (b[i] - mb);
    aa += (a[i] - ma) * (a[i] - ma);
    bb += (b[i] - mb) * (b[i] - mb);
  }
  return ab / std::sqrt(aa * bb);
}

/// fit() of every body, on all processors; `read` takes what it needs of each.
template <typename Row>
std::vector<Row> fit_all(const std::vector<Body>& bodies,
                         const Style& style,
                         const std::vector<Wish>& wishes,
                         const std::function<Row(const FitResult&)>& read) {
  std::vector<Row> rows(bodies.size());
  tbb::parallel_for(size_t{0}, bodies.size(), [&](size_t i) {
    Job job = population_job(bodies[i], style);
    job.wishes = wishes;
    rows[i] = read(fit(job, shipped_catalogue()));
  });
  return rows;
}

const Finding& finding(const FitResult& result, const std::string& name) {
  const auto at = std::find_if(result.findings.begin(),
                               result.findings.end(),
                               [&](const Finding& f) { return f.name == name; });
  if (at == result.findings.end()) std::abort();  // a rule of the shipped data was renamed
  return *at;
}

/// One body with a neckline wish.
struct Deep {
  bool missed = false;   ///< the wish
  bool stopped = false;  ///< the rule that is asked about is at its limit
  double angle_deg = 0;  ///< bust angle
  double front_cm = 0;   ///< front neck point to bust level
};

std::vector<Deep> wish_deep(const std::vector<Body>& bodies,
                            const Style& style,
                            double depth,
                            const std::string& rule) {
  return fit_all<Deep>(bodies, style, {just("neckline.depth", depth)}, [&](const FitResult& r) {
    const Frame& f = r.posed->frame;
    const Finding& stop = finding(r, rule);
    return Deep{finding(r, "neckline depth").missed,
                stop.tight || stop.missed,
                degrees(f.theta),
                f.front_neck_y - f.neck_depth - f.bust_y};
  });
}

struct Split {
  std::vector<double> missed, held;
};
Split split(const std::vector<Deep>& rows, double Deep::*member) {
  Split s;
  for (const Deep& row : rows) (row.missed ? s.missed : s.held).push_back(row.*member);
  return s;
}

double stopped_share(const std::vector<Deep>& rows) {
  const auto missed =
      std::count_if(rows.begin(), rows.end(), [](const Deep& r) { return r.missed; });
  const auto stopped =
      std::count_if(rows.begin(), rows.end(), [](const Deep& r) { return r.missed && r.stopped; });
  return static_cast<double>(stopped) / static_cast<double>(missed);
}

}  // namespace

TEST_CASE("without underwear to hide, a fuller bust stops a deep neckline: it gapes",
          "[population][survey]") {
  // Shaping left in the edge and the hollow it runs over both grow with the bust angle (published
  // contouring allowances are for a standard figure). Unstayed, so that no tape takes it up.
  const auto women = survey_women_1988();
  if (skip(women)) return;
  Style style = shipped_style("concert dress");
  style.switches.set(Switch::underwear, "none");
  style.switches.set(Switch::stay, "none");
  const auto rows = wish_deep(every(2, women), style, 16, "front neckline does not gape");
  const Split angle = split(rows, &Deep::angle_deg);
  REQUIRE(angle.missed.size() > 100);
  REQUIRE(angle.held.size() > 20);
  CHECK(mean(angle.missed) > mean(angle.held) + 2);
  CHECK(stopped_share(rows) > 0.99);
}

TEST_CASE("with underwear to hide, a short front stops a deep neckline: the cup shows",
          "[population][survey]") {
  // The neckline ends 4.5 cm above the bust level (common practice), so what decides is how far the
  // bust lies below the neck, not its angle: full busts lie lower and may be cut deeper.
  const auto women = survey_women_1988();
  if (skip(women)) return;
  const auto rows =
      wish_deep(every(2, women), shipped_style("concert dress"), 16, "neckline hides a full cup");
  const Split front = split(rows, &Deep::front_cm), angle = split(rows, &Deep::angle_deg);
  REQUIRE(front.missed.size() > 100);
  REQUIRE(front.held.size() > 100);
  CHECK(stopped_share(rows) > 0.99);
  CHECK(mean(front.missed) < mean(front.held) - 2);
  CHECK(mean(angle.missed) < mean(angle.held));
  // Who can have it is decided by that length alone, but for what the shoulder ease lends
  // (0 to 0.8 cm, and a fifth of a tolerance): 16 + 4.5.
  for (const Deep& row : rows) {
    if (row.front_cm < 16 + 4.5 - 0.8 - 0.5) CHECK(row.missed);
    if (row.front_cm > 16 + 4.5 + 0.8 + 0.5) CHECK_FALSE(row.missed);
  }
}

TEST_CASE("armholes follow the bodies' armscyes", "[population][survey]") {
  struct Row {
    double girth = 0, armscye = 0, cut_in = 0;
  };
  const auto women = survey_women_1988();
  if (skip(women)) return;
  const auto rows =
      fit_all<Row>(women, shipped_style("concert dress"), {}, [](const FitResult& r) -> Row {
        const CompleteBody& body = r.completed.body;
        return {r.measures[M::armhole_girth],
                body[B::armscye_girth],
                body[B::shoulder_length] - r.values[K::strap_inset] - r.values[K::strap_width]};
      });
  std::vector<double> girth, armscye;
  for (const Row& row : rows) {
    girth.push_back(row.girth);
    armscye.push_back(row.armscye);
    // Trade: 2 to 4 over the armscye, and 1.14 for each cm that the strap ends inside the shoulder
    // point. 'Holds' means to a thousandth of a tolerance (0.3 and 0.5 cm).
    const double ease = row.girth - row.armscye - 1.14 * row.cut_in;
    if (ease < 2 - 3e-4 - 1e-9 || ease > 4 + 5e-4 + 1e-9) FAIL_CHECK("armhole ease " << ease);
  }
  CHECK(correlation(girth, armscye) > 0.8);
  // Trade: a finished sleeveless armhole is 0.42 to 0.48 of the bust, the full shoulder's. That is
  // the mean figure's; single bodies have armscyes of 0.35 to 0.47 of their bust.
  double ratio = 0;
  for (size_t i = 0; i < rows.size(); ++i)
    ratio += (rows[i].girth - 1.14 * rows[i].cut_in) / women[i][B::bust_girth]->value;
  ratio /= static_cast<double>(rows.size());
  CHECK(ratio > 0.42);
  CHECK(ratio < 0.48);
}

TEST_CASE("slack of the front neckline never falls as it deepens, on a hundred bodies",
          "[population][survey]") {
  const auto women = survey_women_1988();
  if (skip(women)) return;
  const Style style = shipped_style("concert dress");
  const auto some = every(11, women);
  REQUIRE(some.size() >= 100);
  for (const Body& body : some) {
    const FitResult habit = check(population_job(body, style), shipped_catalogue());
    Values<double> v = habit.values;
    double slack = -1e9, contour = -1e9;
    for (double depth = 1; depth <= 26; depth += 0.5) {
      v[K::neckline_depth] = depth;
      const auto m = measure(habit.posed->frame, v);
      if (!(m[M::neckline_slack] > slack) || !(m[M::neckline_slack_contour] > contour))
        FAIL_CHECK(body.label << " at depth " << depth);
      slack = m[M::neckline_slack];
      contour = m[M::neckline_slack_contour];
    }
  }
}

TEST_CASE("raising the slit bares the lap of broad seated hips first", "[population][survey]") {
  // Fixed cut: everything by habit (an overlap of a quarter of the hip), only the start of the
  // curve rises. Trade: seated, a free edge stays put beyond the crest of the other thigh only.
  const auto women = survey_women_1988();
  if (skip(women)) return;
  const Style style = shipped_style("concert dress");
  const double starts[] = {32, 25, 20, 15};
  std::vector<size_t> bared;
  for (const double start : starts) {
    std::vector<double> breadth[2], share[2];
    for (const Body& body : every(2, women)) {
      Job job = population_job(body, style);
      job.draft = {{K::slit_start, start}};
      const FitResult r = check(job, shipped_catalogue());
      const bool bare = finding(r, "fronts cover the lap when seated").missed;
      const double seated = r.completed.body[B::hip_breadth_sitting];
      breadth[bare].push_back(seated);
      share[bare].push_back(seated / r.completed.body[B::hip_girth]);
    }
    INFO("slit from " << start << ": " << breadth[1].size() << " bared");
    REQUIRE(breadth[1].size() > 20);
    REQUIRE(breadth[0].size() > 20);
    CHECK(mean(breadth[1]) > mean(breadth[0]) + 1);
    CHECK(mean(share[1]) > mean(share[0]));
    bared.push_back(breadth[1].size());
  }
  CHECK(std::is_sorted(bared.begin(), bared.end()));
  CHECK(bared.back() > bared.front());
}

TEST_CASE("what passes over the head, against another way to measure it", "[population][survey]") {
  // Cutter's notes, point 1 (derived from the same survey by another program): shoulder girth less
  // 6 averages 96.8, an ellipse of shoulder-bone breadth by chest depth 95.7; need less bust
  // averages 6.6, p95 11.7; hip + 2 is too small in 39 %, by over 3 in 14 %, and needlessly large
  // by over 3 in 33 %.
  const SurveyTable table = read_survey("ansur1988-women");
  if (table.rows.empty()) {
    WARN("SKIPPED: no survey data of the 1988 women; set EASEWRIGHT_BODIES");
    return;
  }
  const auto shoulders = table.column("shoulder_girth"), bust = table.column("bust_girth"),
             hip = table.column("hip_girth"), breadth = table.column("biacromial_breadth"),
             depth = table.column("chest_depth");
  std::vector<double> raised, ellipse, beyond_bust;
  double small = 0, very_small = 0, large = 0;
  const auto n = static_cast<double>(bust.size());
  for (size_t i = 0; i < bust.size(); ++i) {
    raised.push_back(shoulders[i] - 6);
    const double a = breadth[i] / 2, b = depth[i] / 2;  // Ramanujan's first formula
    ellipse.push_back(kPi * (3 * (a + b) - std::sqrt((3 * a + b) * (a + 3 * b))));
    const double need = dressing_need(bust[i], shoulders[i]);
    CHECK(need >= bust[i] + 4);
    CHECK(need >= shoulders[i] - 6);
    beyond_bust.push_back(need - bust[i]);
    small += hip[i] + 2 < need;
    very_small += hip[i] + 2 < need - 3;
    large += hip[i] + 2 > need + 3;
  }
  CHECK_THAT(mean(raised), WithinAbs(96.8, 0.05));
  CHECK_THAT(mean(ellipse), WithinAbs(95.7, 0.05));
  CHECK_THAT(mean(beyond_bust), WithinAbs(6.6, 0.05));
  std::sort(beyond_bust.begin(), beyond_bust.end());
  CHECK_THAT(beyond_bust[bust.size() * 95 / 100], WithinAbs(11.7, 0.1));
  CHECK_THAT(100 * small / n, WithinAbs(39, 0.5));
  CHECK_THAT(100 * very_small / n, WithinAbs(14, 0.5));
  CHECK_THAT(100 * large / n, WithinAbs(33, 0.5));
  // And the model asks for it: the frame's need is this one.
  const Body body = survey_women_1988().front();
  const FitResult r =
      fit(population_job(body, shipped_style("concert dress")), shipped_catalogue());
  CHECK_THAT(r.measures[M::dressing_need],
             WithinAbs(std::max(bust[0] + 4, shoulders[0] - 6), 1e-9));
}

}  // namespace easewright::tests
