// How far a move can go on a garment in hand, and why it can't be done there at all: cutter's
// notes, point 6, table E and the list 'impossible without new cloth' (common practice), and a
// trade reference's let-outs.
#include "model/alter/altered.h"
#include "model/alter/moves.h"
#include "tests/catch.h"
#include "tests/model/sample.h"

#include <cmath>
#include <utility>
#include <vector>

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

TEST_CASE("straps that go up are held to what point 6 leaves them (common practice)") {
  // Drop - s >= 0.5, blouson >= s, bust point within 1.0; the head pass is a rule.
  const Made made = sample_made();
  const Worn now = wear(made, made.cut_for);
  const auto ranges = guards(made, now);
  const auto broken = [&](const Made& after) {
    const auto at = guarded(after, wear(after, made.cut_for));
    std::vector<bool> out;
    for (size_t i = 0; i < kGuards; ++i)
      out.push_back(at[i] < ranges[i].lo - 1e-9 || at[i] > ranges[i].hi + 1e-9);
    return out;
  };
  // Drop 1.0, s 0.8: refused by drop 0.2. The sample has no blouson to give either.
  CHECK(broken(changed(made, Change::straps_up, 0.8)) == std::vector<bool>{true, true, false});
  Values<double> easy = sample_draft();
  easy[K::bodice_blouson] = 2, easy[K::armhole_drop] = 2.4;
  const Made roomy = made_from(sample_frame(), easy);
  const auto of_roomy = [&](Change change, double by) {
    const Made after = changed(roomy, change, by);
    return guarded(after, wear(after, roomy.cut_for));
  };
  // Parallel the fullness goes up as far as the straps, the front alone as far, the back alone
  // carries nothing with it, and a taper half.
  CHECK_THAT(of_roomy(Change::straps_up, 1.2)[2], WithinAbs(1.2, 1e-6));
  CHECK_THAT(of_roomy(Change::straps_up_front, 1.2)[2], WithinAbs(1.2, 1e-6));
  CHECK_THAT(of_roomy(Change::straps_up_back, 1.2)[2], WithinAbs(0, 1e-6));
  CHECK_THAT(of_roomy(Change::straps_up_arm_end, 0.4)[2], WithinAbs(0.2, 1e-6));
  CHECK_THAT(of_roomy(Change::straps_up, 0.8)[0], WithinAbs(1.6, 0.02));
  CHECK_THAT(of_roomy(Change::straps_up, 0.8)[1], WithinAbs(1.2, 1e-6));
  CHECK(guards(roomy, wear(roomy, roomy.cut_for))[2].hi == 1.0);
}

TEST_CASE("a finished edge that has to be opened takes its time (common practice)") {
  Made made = sample_made();
  made.switches.set(Switch::lining, "unlined");
  Move move;
  move.least = 0.2, move.most = 1, move.minutes_fixed = 60;
  const auto minutes = [&](Change change, SeamKey edge, Finish finish) {
    Made finished = made;
    finished.finishes[static_cast<size_t>(edge)] = finish;
    move.change = change;
    const auto limits = limits_of(move, finished);
    REQUIRE(limits);
    return limits->minutes_fixed;
  };
  const auto lower = [&](Finish f) { return minutes(Change::armhole_lower, SeamKey::armhole, f); };
  CHECK(lower(Finish::turned) == 60);
  CHECK(lower(Finish::faced) > 60);
  CHECK(lower(Finish::bound) > lower(Finish::faced));
  // Where a seam runs into it a part is opened, and an edge that a move does not touch costs none.
  const double crossed = minutes(Change::straps_up, SeamKey::armhole, Finish::bound);
  CHECK(crossed > 60);
  CHECK(crossed < lower(Finish::bound));
  CHECK(minutes(Change::waist_tuck, SeamKey::armhole, Finish::bound) == 60);
  CHECK(minutes(Change::neckline_deeper, SeamKey::armhole, Finish::bound) == 60);
  CHECK(minutes(Change::hem_up, SeamKey::hem, Finish::bound) > 60);
  // A lining faces its own edges: that is in a move's labour already.
  made.switches.set(Switch::lining, "lined");
  CHECK(lower(Finish::faced) == 60);
  CHECK(lower(Finish::bound) > 60);
  // A closure in the side seam is taken out and set in again.
  made.switches.set(Switch::put_on, "side opening");
  CHECK(minutes(Change::sides_in, SeamKey::neck, Finish::bound) >= 90);
}

TEST_CASE("a knit's edge is drawn in further than a woven's (point 28, common practice)") {
  // Bound edges 5 to 12 % short.
  Made made = sample_made();
  made.switches.set(Switch::lining, "unlined");
  made.cloth.stretch = 0.4;
  Move move;
  move.least = 0.1, move.most = 9;
  for (const auto& [change, edge] : {std::pair{Change::armhole_eased, M::armhole_front},
                                     std::pair{Change::neck_tape, M::neckline_front}}) {
    move.change = change;
    const double share = limits_of(move, made)->most / wear(made, made.cut_for).measures[edge];
    CHECK(share >= 0.05);
    CHECK(share <= 0.12);
  }
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
