// Where the garment's lines fall on the figure, against the draft's own lengths and the body's own
// heights; the drawing's lines are read back, not its intermediate figures.

#include "garments.h"
#include "model/figure/dressed.h"
#include "outline_check.h"
#include "tests/catch.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

using namespace easewright;
using namespace easewright::figure;
using namespace easewright::tests;
using B = BodyKey;
using V = ValueKey;
using M = MeasureKey;

namespace {

/// A millimetre: what was promised.
constexpr double kMm = 0.1;

std::vector<Point> lines_of(const Dressed& d, View view, LineKind kind) {
  std::vector<Point> all;
  for (const DrawnLine& line : d.view(view).lines) {
    if (line.kind != kind) continue;
    const auto points = flat(line.path, 24);
    all.insert(all.end(), points.begin(), points.end());
  }
  return all;
}

/// All lines of a kind that pass through x = 0, their height there.
std::vector<double> heights_on_centre(const Dressed& d, View view, LineKind kind) {
  std::vector<double> all;
  for (const DrawnLine& line : d.view(view).lines) {
    if (line.kind != kind) continue;
    for (const Point& p : flat(line.path, 24))
      if (std::abs(p.x) < 1e-9) all.push_back(p.y);
  }
  return all;
}

bool holds_near(const std::vector<double>& all, double value) {
  return std::any_of(
      all.begin(), all.end(), [value](double h) { return std::abs(h - value) < kMm; });
}

double lowest(const std::vector<Point>& line) {
  return std::min_element(
             line.begin(), line.end(), [](const Point& a, const Point& b) { return a.y < b.y; })
      ->y;
}

/// Height that lies so far below `upper` along a stretch of cloth of `length` that spans the drop
/// to `lower`; reckoned here from what the drawing states in words.
double fallen(double below, double length, double upper, double lower) {
  return upper - below * (upper - lower) / length;
}

struct Slips {
  int count = 0;
  std::string first;
  void check(bool good, const std::string& what) {
    if (good) return;
    if (count++ < 4) first += (first.empty() ? "" : "; ") + what;
  }
};

void check_levels(const FitResult& r, const Dressed& d, Slips& slips) {
  const CompleteBody& body = r.completed.body;
  const Frame& f = r.posed->frame;
  const std::string who = body.label;
  const Heights& at = d.body.at;
  const auto near = [&](double drawn, double wanted, const std::string& what) {
    slips.check(std::abs(drawn - wanted) < kMm,
                who + ": " + what + " drawn at " + std::to_string(drawn) + ", wanted " +
                    std::to_string(wanted));
  };
  // Neckline in front: side neck to bust point as the draft has it, less its neck's depth, spans
  // front neck point to bust level.
  const double across = f.bust_x - f.neck_half, over = body[B::side_neck_to_bust_point];
  const double neck_to_bust =
      std::sqrt(std::max(over * over - across * across, 1.0)) - (f.neck_half + 0.5);
  const double depth = r.values[V::neckline_depth];
  const double neckline = depth <= neck_to_bust
                              ? fallen(depth, neck_to_bust, at.front_neck, at.bust)
                              : fallen(depth - neck_to_bust,
                                       body[B::front_over_bust] - body[B::side_neck_to_bust_point],
                                       at.bust,
                                       at.waist);
  slips.check(holds_near(heights_on_centre(d, View::front, LineKind::edge), neckline),
              who + ": no neckline at " + std::to_string(neckline));
  const double back =
      fallen(r.values[V::neckline_back_depth], body[B::scye_depth], at.back_neck, at.armpit);
  slips.check(holds_near(heights_on_centre(d, View::back, LineKind::edge), back),
              who + ": no back neckline at " + std::to_string(back));

  // Underarm below the armpit: the lowest point of the armhole in the side view.
  const double down = r.values[V::armhole_drop] + f.armpit_shift;
  const double underarm =
      down <= 0
          ? fallen(body[B::scye_depth] + down, body[B::scye_depth], at.back_neck, at.armpit)
          : fallen(down, body[B::back_waist_length] - body[B::scye_depth], at.armpit, at.waist);
  near(lowest(flat(d.view(View::side).bare.front(), 24)), underarm, "underarm");

  // Strap: its ends along the shoulder line.
  const double shoulder = geometry::arc_length(d.body.shoulder.front());
  const auto along = [&](const Point& end) {
    // How far along the shoulder line the nearest point of it lies.
    double best = 1e9, at_share = 0;
    for (int i = 0; i <= 4000; ++i) {
      const double t = i / 4000.0;
      const double off = geometry::distance(d.body.shoulder.front().at(t), end);
      if (off < best) {
        best = off;
        at_share = t;
      }
    }
    return std::pair(at_share, best);
  };
  const double length = body[B::shoulder_length];
  for (const auto& [end, place] :
       {std::pair(d.anchors.strap_inner, r.values[V::strap_inset]),
        std::pair(d.anchors.strap_outer, r.values[V::strap_inset] + r.values[V::strap_width])}) {
    if (place > length) continue;
    const auto [share, off] = along(end);
    slips.check(off < 0.01, who + ": a strap's end is off the shoulder");
    // Shares of the curve's parameter are shares of its length to 2 mm: it is nearly straight.
    slips.check(std::abs(share - place / length) * shoulder < 0.2, who + ": strap's end");
  }

  if (!d.parts.skirt) return;
  const double floor = body[B::waist_height] - r.values[V::skirt_length];
  for (const View view : {View::front, View::back, View::side})
    near(lowest(lines_of(d, view, LineKind::edge)), floor, "hem");
  near(floor, r.measures[M::skirt_clearance], "hem above the floor");
}

/// Where two drawn edges meet, from above: the height at which the fronts part.
double parting(const Dressed& d) {
  // The under front is out of sight down to the parting: the dashed line's lower end.
  for (const DrawnLine& line : d.view(View::front).lines)
    if (line.kind == LineKind::hidden) return line.path.back().p3.y;
  return 1e9;
}

}  // namespace

TEST_CASE("every level of the garment falls where draft and body have it", "[survey]") {
  const auto bodies = open_bodies(120);
  if (bodies.empty()) {
    WARN("SKIPPED: the open surveys are not there; set EASEWRIGHT_BODIES");
    return;
  }
  for (const std::string& style : shipped_styles()) {
    Slips slips;
    const auto results = fitted(bodies, style);
    CHECK(results.size() > 110);
    for (const FitResult& r : results) {
      const Dressed d = dress(r);
      check_levels(r, d, slips);
      if (!r.posed->frame.wrapped || !d.parts.skirt) continue;
      // The measure counts the bar tack too; the edges themselves part where the overlap is used
      // up.
      const double v_start = r.values[V::slit_start], run = r.values[V::slit_run_in];
      const double used = std::sqrt(r.values[V::skirt_overlap] / (2 * run));
      const double y = v_start + (r.values[V::skirt_length] - v_start) * std::min(used, 1.0);
      slips.check(std::abs(parting(d) - (d.levels.waist - y)) < kMm,
                  r.completed.body.label + ": fronts part at " + std::to_string(parting(d)) +
                      ", wanted " + std::to_string(d.levels.waist - y));
    }
    INFO(style << ": " << slips.count << " slips, first: " << slips.first);
    CHECK(slips.count == 0);
  }
}

TEST_CASE("the garment covers the body and its outlines never cross", "[survey]") {
  auto bodies = open_bodies(120);
  if (bodies.empty()) {
    WARN("SKIPPED: the open surveys are not there; set EASEWRIGHT_BODIES");
    return;
  }
  // Civilians of all sizes and children besides.
  for (const auto& more : {survey_women_nhanes(), survey_men_nhanes(), survey_children_1977()})
    for (size_t i = 0; i < more.size(); i += 60) bodies.push_back(more[i]);
  for (const std::string& style : shipped_styles()) {
    Slips slips;
    for (const FitResult& r : fitted(bodies, style)) {
      const Dressed d = dress(r);
      const std::string who = r.completed.body.label;
      const auto skin = flat(body_outline(d.body)), profile = flat(side_outline(d.body));
      for (int v = 0; v < kViews; ++v) {
        const Elevation& view = d.views[static_cast<size_t>(v)];
        for (const auto* paths : {&view.cloth, &view.bare, &view.belt}) {
          for (const Path& path : *paths) {
            const auto line = flat(path, 8);
            slips.check(all_finite(line), who + ": a point is no number");
            slips.check(open_by(path) < 1e-6 && widest_gap(path) < 1e-6, who + ": open");
            slips.check(crossings(line) == 0,
                        who + ": crosses itself in view " + std::to_string(v));
          }
        }
        for (const DrawnLine& line : view.lines)
          slips.check(all_finite(flat(line.path)) && widest_gap(line.path) < 1e-6,
                      who + ": a line");
      }
      // Cloth outside skin, from just under the arms to the hem (or the waist of a top).
      const double bottom = d.parts.skirt ? d.levels.hem : d.levels.waist;
      for (int i = 1; i < 60; ++i) {
        const double h = bottom + (d.levels.underarm - 0.5 - bottom) * i / 60;
        for (const View view : {View::front, View::back, View::side}) {
          std::vector<double> cloth;
          for (const Path& path : d.view(view).cloth)
            for (const double x : at_height(flat(path, 24), h)) cloth.push_back(x);
          const auto body = at_height(view == View::side ? profile : skin, h);
          slips.check(!cloth.empty() && !body.empty(), who + ": nothing at a height");
          if (cloth.empty() || body.empty()) continue;
          const auto [least, most] = std::minmax_element(cloth.begin(), cloth.end());
          const bool covers = *least < body.front() + 0.05 && *most > body.back() - 0.05;
          // Two fronts that have parted beyond the side can't cover.
          slips.check(
              covers || (view == View::front && r.posed->frame.wrapped && h < d.levels.slit_start),
              who + ": bare at " + std::to_string(h) + " in view " +
                  std::to_string(static_cast<int>(view)));
        }
      }
    }
    INFO(style << ": " << slips.count << " slips, first: " << slips.first);
    CHECK(slips.count == 0);
  }
}

TEST_CASE("what is changed in the draft is seen in the drawing, and only there") {
  const FitResult r = fit(demo_job("choir/jobs/alto-2.yaml"), shipped_catalogue());
  const Frame& frame = r.posed->frame;
  const auto drawn = [&](const Values<double>& v) {
    const auto bodice = draft_bodice<double>(frame, BodiceValues<double>{v.at.data()});
    return dress(frame, v, bodice, measure(frame, v), {});
  };
  const Dressed before = drawn(r.values);
  Values<double> deeper = r.values;
  deeper[V::neckline_depth] += 3;
  const Dressed after = drawn(deeper);
  CHECK(after.levels.neckline < before.levels.neckline - 2);
  CHECK(after.levels.neckline > before.levels.neckline - 3.001);
  CHECK(after.levels.hem == before.levels.hem);
  CHECK(after.levels.underarm == before.levels.underarm);
  Values<double> shorter = r.values;
  shorter[V::skirt_length] -= 8;
  CHECK_THAT(drawn(shorter).levels.hem, WithinAbs(before.levels.hem + 8, 1e-9));
  Values<double> wider = r.values;
  wider[V::bodice_front_underarm] += 2;
  wider[V::bodice_back_underarm] += 2;
  CHECK(drawn(wider).anchors.underarm.x > before.anchors.underarm.x + 0.5);
  // A strip along one front shifts the overlap; the fronts part as high as before.
  const auto bodice = draft_bodice<double>(frame, BodiceValues<double>{r.values.at.data()});
  const Dressed shifted = dress(frame, r.values, bodice, r.measures, {.overlap_shift = -3});
  CHECK_THAT(parting(shifted), WithinAbs(parting(before), 1e-6));
  CHECK(shifted.anchors.opening.x < before.anchors.opening.x - 2);
  // Square, round and V necklines differ between their ends alone.
  for (const char* shape : {"V", "round", "square"}) {
    Overrides overrides;
    overrides.switches = {std::string("neckline ") + shape};
    const FitResult other = fit(demo_job("choir/jobs/alto-2.yaml", overrides), shipped_catalogue());
    const Dressed d = dress(other);
    const auto xs = at_height(flat(d.view(View::front).cloth.back(), 24), d.levels.neckline + 1);
    REQUIRE(xs.size() >= 4);  // shoulder, neck, neck, shoulder
    const double inner = xs[xs.size() / 2];
    const double share = inner / d.anchors.strap_inner.x;
    INFO(shape << ": the neckline is " << inner << " wide a little above its bottom");
    if (std::string(shape) == "V") CHECK(share < 0.3);
    if (std::string(shape) == "round") CHECK((share > 0.3 && share < 0.85));
    if (std::string(shape) == "square") CHECK(share > 0.85);
  }
}

TEST_CASE("any draft within its limits can be drawn") {
  std::mt19937 random(20261125);
  for (const char* job :
       {"choir/jobs/alto-1.yaml", "choir/jobs/bass-1.yaml", "examples/sample.yaml"}) {
    const FitResult r = fit(demo_job(job), shipped_catalogue());
    const Frame& frame = r.posed->frame;
    for (int n = 0; n < 300; ++n) {
      Values<double> v = r.values;
      for (size_t i = 0; i < r.posed->keys.size(); ++i) {
        const solver::Variable& variable = r.posed->problem.variables[i];
        // The ends themselves as often as what lies between.
        const double t = std::uniform_real_distribution<double>(-0.5, 1.5)(random);
        v[r.posed->keys[i]] =
            variable.lower + std::clamp(t, 0.0, 1.0) * (variable.upper - variable.lower);
      }
      const auto bodice = draft_bodice<double>(frame, BodiceValues<double>{v.at.data()});
      const Dressed d = dress(frame, v, bodice, measure(frame, v), {});
      int wrong = 0;
      for (const Elevation& view : d.views) {
        for (const auto* paths : {&view.cloth, &view.bare, &view.belt})
          for (const Path& path : *paths)
            wrong += !all_finite(flat(path)) || open_by(path) > 1e-6 || widest_gap(path) > 1e-6;
        for (const DrawnLine& line : view.lines) wrong += !all_finite(flat(line.path));
      }
      INFO(job << ", draft " << n);
      REQUIRE(wrong == 0);
    }
  }
}
