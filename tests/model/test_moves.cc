// Changes to a made garment: couplings per cm on the cutter's sample draft (cutter's notes, table
// D: 'computed and exact entries within 0.3, the rest with these signs'), inverses, and points 5, 6
// and 20 of the notes.
#include "model/alter/flat.h"
#include "model/alter/moves.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/sample.h"
#include "tests/model/survey.h"

#include <cmath>
#include <string>
#include <vector>

namespace easewright::tests {
namespace {

using K = ValueKey;
using M = MeasureKey;

Frame sample_frame() { return frame_of(sample_body(), {}, {}); }

Made sample_made() { return made_from(sample_frame(), sample_draft()); }

double effect(Change change, double amount, M measure_key) {
  const Made made = sample_made();
  return wear(changed(made, change, amount), made.cut_for).measures[measure_key] -
         wear(made, made.cut_for).measures[measure_key];
}

double effect(Change change, double amount, K value) {
  const Made made = sample_made();
  return wear(changed(made, change, amount), made.cut_for).values[value] -
         wear(made, made.cut_for).values[value];
}

TEST_CASE("a draft that was cut and sewn reads as the draft on the body it was cut for") {
  const Made made = sample_made();
  const Worn worn = wear(made, made.cut_for);
  const auto drafted = measure(made.cut_for, sample_draft());
  for (size_t i = 0; i < kValueKeys; ++i) {
    INFO(info(static_cast<K>(i)).id);
    CHECK_THAT(worn.values.at[i], WithinAbs(sample_draft().at[i], 1e-9));
  }
  for (size_t i = 0; i < kMeasureKeys; ++i) {
    INFO(info(static_cast<M>(i)).id);
    CHECK_THAT(worn.measures.at[i], WithinAbs(drafted.at[i], 1e-9));
  }
}

TEST_CASE("couplings per cm, computed and exact ones (table D, geometry)") {
  struct Row {
    Change change;
    M measure_key;
    double by;
  };
  const Row rows[] = {
      {Change::straps_up, M::neckline_edge, -4},
      {Change::straps_up, M::armhole_girth, -2},
      {Change::straps_up_front, M::neckline_edge, -2},
      {Change::straps_up_front, M::armhole_girth, -1},
      {Change::straps_up_arm_end, M::armhole_girth, -2},
      {Change::sides_in, M::armhole_girth, -2},
      {Change::sides_in, M::bodice_bust, -4},
      {Change::sides_in, M::bodice_waist, -4},
      {Change::sides_in, M::neckline_edge, 0},
      {Change::sides_in_bodice, M::armhole_girth, -2},
      {Change::sides_in_bodice, M::bodice_waist, 0},
      {Change::armhole_lower, M::neckline_edge, 0},
      {Change::armhole_dart, M::armhole_girth, -1},
      {Change::neck_dart, M::neckline_edge, -2},
      {Change::neckline_deeper, M::neckline_edge, 1.9},
      {Change::back_neck_lower, M::neckline_edge, 1.3},
      {Change::strap_narrower_arm, M::armhole_girth, 1.2},
      {Change::waist_tuck, M::neckline_edge, 0},
      {Change::overlap_wider, M::skirt_hip_ease, -1},
      {Change::overlap_wider, M::skirt_waist, -1},
  };
  for (const Row& row : rows) {
    INFO(info(row.change).name << ", " << info(row.measure_key).id);
    CHECK_THAT(effect(row.change, 1.0, row.measure_key), WithinAbs(row.by, 0.3));
  }
  // Stay tape of 0.5 a side; a scoop of 0.5; both edges narrower by 1.
  CHECK_THAT(effect(Change::neck_tape, 0.5, M::neckline_edge), WithinAbs(-1, 1e-9));
  CHECK_THAT(effect(Change::armhole_scoop_front, 0.5, M::armhole_girth), WithinAbs(0.35, 0.3));
  CHECK_THAT(2 * (effect(Change::armhole_scoop_front, 0.5, M::armhole_girth) +
                  effect(Change::armhole_scoop_back, 0.5, M::armhole_girth)),
             WithinAbs(1.2, 0.3));
  // Lowered along upright seams (the draft, whose underarm keeps its width, is tested within 0.3);
  // along the sample's slanting ones the underarm moves in as well.
  Values<double> upright = sample_draft();
  upright[K::bodice_front_waist] = upright[K::bodice_front_underarm];
  upright[K::bodice_back_waist] = upright[K::bodice_back_underarm];
  const Made made = made_from(sample_frame(), upright);
  CHECK_THAT(
      wear(changed(made, Change::armhole_lower, 1), made.cut_for).measures[M::armhole_girth] -
          wear(made, made.cut_for).measures[M::armhole_girth],
      WithinAbs(2.1, 0.35));
  CHECK(effect(Change::armhole_lower, 1, M::armhole_girth) > 1.4);
  CHECK_THAT(effect(Change::side_dart, radians(5), M::bodice_waist), WithinAbs(-3, 0.3));
}

TEST_CASE("couplings per cm, judged ones by their sign (table D, common practice)") {
  CHECK_THAT(effect(Change::straps_up, 1, K::armhole_drop), WithinAbs(-1, 0.5));
  CHECK_THAT(effect(Change::straps_up, 1, K::neckline_depth), WithinAbs(-1, 0.5));
  CHECK_THAT(effect(Change::straps_up_front, 1, K::armhole_drop), WithinAbs(-0.5, 0.25));
  CHECK(effect(Change::straps_up_neck_end, 0.5, K::strap_slope) < radians(-3));
  CHECK(effect(Change::straps_up_arm_end, 0.5, K::strap_slope) > radians(3));
  CHECK(effect(Change::straps_up_neck_end, 0.5, K::armhole_drop) < 0);
  CHECK_THAT(effect(Change::armhole_lower, 1, K::armhole_drop), WithinAbs(1, 0.3));
  // 5.7 degrees at a reach of 10, 5.2 at 11: 1 cm at its reach.
  const HalfBodice<double> front = sample_made().bodice.front;
  CHECK_THAT(effect(Change::armhole_dart, 1, K::shaping_armhole),
             WithinAbs(-radians(5.7) * 10 / geometry::distance(front.pivot, front.notch), 0.002));
  CHECK_THAT(effect(Change::neck_dart, 1, K::shaping_neck), WithinAbs(-radians(5.2), 0.02));
  CHECK_THAT(effect(Change::waist_tuck, 1, K::bodice_blouson), WithinAbs(-1, 1e-9));
  CHECK(effect(Change::elastic_shorter, 1, M::elastic_tightening) > 0);
  CHECK(effect(Change::hem_up, 1, K::skirt_length) < 0);
  CHECK(effect(Change::overlap_wider, 1, M::slit_seated_cover) > 0);
  CHECK(effect(Change::armhole_lower, 1, M::bodice_side) < -0.5);
  CHECK(effect(Change::armhole_scoop_front, 0.5, M::armhole_front_inside) > 0);
}

TEST_CASE("sides in and out again are the garment of before (point 5, common practice)") {
  const Made made = sample_made();
  const Made in = changed(made, Change::sides_in, 1.0);
  const Worn before = wear(made, made.cut_for), taken = wear(in, made.cut_for);
  CHECK_THAT(taken.measures[M::bodice_bust] - before.measures[M::bodice_bust], WithinAbs(-4, 0.05));
  CHECK_THAT(taken.measures[M::armhole_girth] - before.measures[M::armhole_girth],
             WithinAbs(-2, 0.2));
  const Worn out = wear(changed(in, Change::sides_out, 1.0), made.cut_for);
  for (size_t i = 0; i < kMeasureKeys; ++i) {
    INFO(info(static_cast<M>(i)).id);
    CHECK_THAT(out.measures.at[i], WithinAbs(before.measures.at[i], 0.01));
  }
}

TEST_CASE("a change and its inverse return the start, on many bodies") {
  std::vector<Frame> frames = {sample_frame()};
  const auto women = survey_women_1988();
  if (women.empty()) WARN("SKIPPED: no survey data of the 1988 women; set EASEWRIGHT_BODIES");
  for (size_t i = 0; i < women.size(); i += 60) {
    frames.push_back(
        frame_of(complete(women[i], WaistLevel::natural, shipped_catalogue().bodies).body, {}, {}));
  }
  for (const Frame& frame : frames) {
    const Made made = made_from(frame, sample_draft());
    const Worn before = wear(made, frame);
    for (int i = 0; i < kChanges; ++i) {
      const auto change = static_cast<Change>(i);
      const Change back = inverse_of(change);
      if (back == Change::count) continue;
      INFO(info(change).name);
      const Worn again = wear(changed(changed(made, change, 0.7), back, 0.7), frame);
      for (size_t k = 0; k < kMeasureKeys; ++k) {
        INFO(info(static_cast<M>(k)).id);
        CHECK_THAT(again.measures.at[k], WithinAbs(before.measures.at[k], 1e-6));
      }
    }
  }
}

TEST_CASE("every change is finite and has no jumps, on many bodies") {
  const auto women = survey_women_1988();
  if (women.empty()) WARN("SKIPPED: no survey data of the 1988 women; set EASEWRIGHT_BODIES");
  std::vector<Frame> frames = {sample_frame()};
  for (size_t i = 0; i < women.size(); i += 110) {
    frames.push_back(
        frame_of(complete(women[i], WaistLevel::natural, shipped_catalogue().bodies).body, {}, {}));
  }
  for (const Frame& frame : frames) {
    const Made made = made_from(frame, sample_draft());
    for (int i = 0; i < kChanges; ++i) {
      const auto change = static_cast<Change>(i);
      const double unit = info(change).dimension == kAngle ? radians(1) : 0.05;
      Worn last = wear(made, frame);
      for (int step = 1; step <= 20; ++step) {
        const Worn now = wear(changed(made, change, step * unit), frame);
        for (size_t k = 0; k < kMeasureKeys; ++k) {
          INFO(info(change).name << " by step " << step << ", " << info(static_cast<M>(k)).id);
          REQUIRE(std::isfinite(now.measures.at[k]));
          // Nothing moves more than 40 cm for a cm (radii of edges are longer).
          if (info(static_cast<M>(k)).dimension != kLength ||
              static_cast<M>(k) == M::slit_edge_radius)
            continue;
          CHECK(std::abs(now.measures.at[k] - last.measures.at[k]) < 2.0);
        }
        last = now;
      }
    }
  }
}

TEST_CASE("tapered take-up is held to 5 degrees of the strap (point 6, common practice, derived)") {
  Move move;
  move.name = "take up the strap at the neck end";
  move.change = Change::straps_up_neck_end;
  move.least = 0.2, move.most = 1.3;
  const auto limits = limits_of(move, sample_made());  // strap 6: 0.52
  REQUIRE(limits);
  CHECK_THAT(limits->most, WithinAbs(0.52, 0.01));
}

TEST_CASE("letting out is held to the allowance less what must stay (trade reference 12a)") {
  Move move;
  move.name = "let out the side seams";
  move.change = Change::sides_out;
  move.let_out_of = SeamKey::side;
  move.least = 0.2, move.most = 3;
  Made made = sample_made();
  made.seam(SeamKey::side) = {1.5, 0.6};
  REQUIRE(limits_of(move, made));
  // Two seams of 1.5 kept to 0.6 give 3.6 (trade reference, oracle 36).
  CHECK_THAT(4 * limits_of(move, made)->most, WithinAbs(3.6, 1e-9));
  made.seam(SeamKey::side) = {0.7, 0.6};
  CHECK_FALSE(limits_of(move, made));
  CHECK_THAT(why_impossible(move, made), Catch::Contains("must stay"));
  move.lined = WhenLined::blocked;
  made.seam(SeamKey::side) = {1.5, 0.6};
  made.switches.set(Switch::lining, "lined");
  CHECK_FALSE(limits_of(move, made));
}

TEST_CASE("another body reads another drop and depth from the same cloth (geometry)") {
  const Made made = sample_made();
  CompleteBody longer = sample_body();
  longer.at(BodyKey::front_over_bust).value += 1;
  longer.at(BodyKey::back_waist_length).value += 1;
  longer.at(BodyKey::scye_depth).value += 1;  // the armpit stays above the waist as it was
  const Worn worn = wear(made, frame_of(longer, {}, {}));
  const Worn own = wear(made, made.cut_for);
  CHECK_THAT(worn.values[K::bodice_blouson] - own.values[K::bodice_blouson], WithinAbs(-1, 0.05));
  CHECK_THAT(worn.values[K::neckline_depth] - own.values[K::neckline_depth], WithinAbs(0, 0.05));
  // A fuller bust than the cloth was shaped for leaves the rest in neck and armhole.
  CompleteBody fuller = sample_body();
  fuller.at(BodyKey::bust_angle).value += radians(4);
  const Worn gaping = wear(made, frame_of(fuller, {}, {}));
  CHECK(gaping.measures[M::neckline_slack] > own.measures[M::neckline_slack] + 0.2);
  CHECK(gaping.measures[M::armhole_slack] > own.measures[M::armhole_slack] + 0.2);
}

TEST_CASE("flat readings of a garment give the garment back, and say when one is off") {
  const Made made = sample_made();
  const auto flat = measure_flat(made);
  Values<double> usual = sample_draft();
  usual[K::neckline_depth] += 1.5, usual[K::strap_width] -= 1, usual[K::armhole_drop] += 0.7;
  usual[K::bodice_front_underarm] += 0.8, usual[K::skirt_length] += 5, usual[K::slit_start] -= 3;
  std::vector<FlatReading> readings;
  for (int i = 0; i < kFlatKeys; ++i) {
    const auto key = static_cast<FlatKey>(i);
    if (has_flat(made.kind, made.switches, key))
      readings.push_back({key, flat[static_cast<size_t>(i)], info(key).error});
  }
  const FromFlat back = made_from_flat(made.cut_for, usual, MadeKind::dress, readings);
  const auto again = measure_flat(back.made);
  for (const FlatReading& r : readings) {
    INFO(info(r.key).name);
    CHECK_THAT(again[static_cast<size_t>(r.key)], WithinAbs(r.value, 0.02));
  }
  for (const double residual : back.residuals) CHECK(std::abs(residual) < 0.1);
  // A front length that is 4 off does not go with the other readings.
  for (FlatReading& r : readings) {
    if (r.key == FlatKey::front_length) r.value += 6;
  }
  const FromFlat off = made_from_flat(made.cut_for, usual, MadeKind::dress, readings);
  double most = 0;
  for (const double residual : off.residuals) most = std::max(most, std::abs(residual));
  CHECK(most > 3);
}

}  // namespace
}  // namespace easewright::tests
