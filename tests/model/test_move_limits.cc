// How far a move can go on a garment in hand, and why it can't be done there at all: cutter's
// notes, point 6, table E and the list 'impossible without new cloth' (common practice), and a
// trade reference's let-outs.
#include "model/alter/moves.h"
#include "tests/catch.h"
#include "tests/model/sample.h"

#include <cmath>
#include <utility>

namespace easewright::tests {
namespace {

using K = ValueKey;
using M = MeasureKey;

Frame sample_frame() { return frame_of(sample_body(), {}, {}); }

Made sample_made() { return made_from(sample_frame(), sample_draft()); }

TEST_CASE("let-outs use up their allowance, what was taken in can be let out again") {
  Move out;
  out.change = Change::sides_out, out.let_out_of = SeamKey::side;
  out.least = 0.2, out.most = 3;
  Made made = sample_made();
  made.seam(SeamKey::side) = {1.5, 0.6};
  const Made twice = changed(made, Change::sides_out, 0.5);
  REQUIRE(limits_of(out, twice));
  CHECK_THAT(limits_of(out, twice)->most, WithinAbs(0.4, 1e-9));
  CHECK_FALSE(limits_of(out, changed(twice, Change::sides_out_bodice, 0.3)));
  const Made in = changed(made, Change::sides_in, 0.8);
  CHECK_THAT(limits_of(out, in)->most, WithinAbs(1.7, 1e-9));
  // To nothing at the waist: there the seam holds no more than before.
  CHECK_THAT(limits_of(out, changed(made, Change::sides_in_bodice, 0.8))->most,
             WithinAbs(0.9, 1e-9));
}

TEST_CASE("tapered take-up is held to 5 degrees of the strap (point 6, common practice, derived)") {
  // 3 -> 0.26, 6 -> 0.52, full 12.5 -> 1.09; a strap of 5, wanted 1.0 tapered -> 0.44.
  const std::pair<double, double> rows[] = {{3, 0.26}, {5, 0.44}, {6, 0.52}, {12.5, 1.09}};
  for (const auto& [width, most] : rows) {
    INFO("strap " << width);
    Values<double> draft = sample_draft();
    draft[K::strap_width] = width;
    if (width > 9) draft[K::strap_inset] = 0;
    const Made made = made_from(sample_frame(), draft);
    for (const Change change : {Change::straps_up_neck_end, Change::straps_up_arm_end}) {
      Move move;
      move.change = change, move.least = 0.2, move.most = 1.3;
      const auto limits = limits_of(move, made);
      REQUIRE(limits);
      CHECK_THAT(limits->most, WithinAbs(most, 0.01));
      // 5 degrees is what that turns it by.
      const double turned =
          std::abs(changed(made, change, limits->most).values[K::strap_slope] - radians(18.5));
      CHECK_THAT(turned, WithinAbs(radians(5), radians(0.3)));
    }
  }
  // Drop 1.0, straps up by 0.8: refused by a drop of 0.2, below the 0.5 that has to stay.
  const Made up = changed(sample_made(), Change::straps_up, 0.8);
  CHECK_THAT(wear(up, up.cut_for).values[K::armhole_drop], WithinAbs(0.2, 0.02));
}

TEST_CASE("letting out is held to the allowance less what must stay (trade reference 12a)") {
  Move move;
  move.change = Change::sides_out, move.let_out_of = SeamKey::side;
  move.least = 0.2, move.most = 3;
  Made made = sample_made();
  made.seam(SeamKey::side) = {1.5, 0.6};
  REQUIRE(limits_of(move, made));
  // Two seams of 1.5 kept to 0.6 give 3.6 (trade reference, oracle 36).
  CHECK_THAT(4 * limits_of(move, made)->most, WithinAbs(3.6, 1e-9));
  made.seam(SeamKey::side) = {0.7, 0.6};
  CHECK_FALSE(limits_of(move, made));
  CHECK_THAT(why_impossible(move, made), Catch::Contains("must stay"));
}

TEST_CASE("what is impossible says why ('impossible without new cloth', common practice)") {
  struct Row {
    Change change;
    const char* why;
    void (*prepare)(Made&, Move&);
  };
  const Row rows[] = {
      {Change::overlap_wider, "no skirt", [](Made& m, Move&) { m.kind = MadeKind::top; }},
      {Change::hem_up, "no skirt", [](Made& m, Move&) { m.switches.set(Switch::skirt, "none"); }},
      {Change::neck_dart, "no bodice", [](Made& m, Move&) { m.kind = MadeKind::skirt; }},
      {Change::slit_caught,
       "not wrapped",
       [](Made& m, Move&) { m.switches.set(Switch::skirt, "closed"); }},
      {Change::elastic_longer,
       "no elastic",
       [](Made& m, Move&) { m.switches.set(Switch::waist, "seam"); }},
      {Change::belt_shorter,
       "no belt",
       [](Made& m, Move&) { m.switches.set(Switch::belt, "none"); }},
      {Change::sides_out_bodice,
       "lining",
       [](Made&, Move& move) { move.lined = WhenLined::blocked; }},
      {Change::hem_down,
       "leave holes",
       [](Made& m, Move& move) { m.holes_show = true, move.leaves_holes = true; }},
      {Change::neck_tape,
       "only a knit",
       [](Made&, Move& move) { move.structure = ClothStructure::knit; }},
      {Change::neck_dart,
       "not on a knit",
       [](Made& m, Move& move) { m.cloth.stretch = 0.25, move.structure = ClothStructure::woven; }},
      {Change::strap_narrower_arm,
       "no room",
       [](Made& m, Move&) { m.values[K::strap_width] = 1.6; }},
      {Change::straps_up_neck_end,
       "too narrow",
       [](Made& m, Move&) { m.values[K::strap_width] = 1.6; }},
      {Change::straps_down,
       "must stay",
       [](Made& m, Move& move) {
         m.seam(SeamKey::shoulder) = {0.6, 0.6}, move.let_out_of = SeamKey::shoulder;
       }},
      {Change::side_dart,
       "no room",
       [](Made& m, Move& move) { m.bodice.figures.waist_share = 0.01, move.least = radians(3); }},
  };
  for (const Row& row : rows) {
    INFO(info(row.change).name);
    Made made = sample_made();
    Move move;
    move.change = row.change, move.least = 0.2, move.most = 1;
    if (row.change != Change::side_dart) CHECK(limits_of(move, made));
    CHECK(why_impossible(move, made).empty());
    row.prepare(made, move);
    CHECK_FALSE(limits_of(move, made));
    CHECK_THAT(why_impossible(move, made), Catch::Contains(row.why));
  }
  // Nothing makes a recut edge rise: no change is the inverse of one.
  for (const Change change : {Change::armhole_lower,
                              Change::armhole_scoop_front,
                              Change::armhole_scoop_back,
                              Change::neckline_deeper,
                              Change::back_neck_lower,
                              Change::strap_narrower_arm,
                              Change::strap_narrower_neck})
    CHECK(inverse_of(change) == Change::count);
}

TEST_CASE("a lining makes its moves dearer, and an eased edge takes less (table E)") {
  Move move;
  move.change = Change::armhole_eased, move.least = 0.1, move.most = 3;
  move.lined = WhenLined::dearer, move.lined_factor = 1.5, move.minutes_fixed = 40;
  Made made = sample_made();
  const double edge = wear(made, made.cut_for).measures[M::armhole_front];
  made.switches.set(Switch::lining, "unlined");
  CHECK_THAT(limits_of(move, made)->most, WithinAbs(0.03 * edge, 1e-6));
  CHECK(limits_of(move, made)->minutes_fixed == 40);
  made.switches.set(Switch::lining, "lined");
  CHECK_THAT(limits_of(move, made)->most, WithinAbs(0.02 * edge, 1e-6));
  CHECK(limits_of(move, made)->minutes_fixed == 60);
}

}  // namespace
}  // namespace easewright::tests
