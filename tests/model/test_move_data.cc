// The shipped moves and faults: that they are well formed, and that they say what the trade says.
// Limits and labour are held against a trade reference's tables (common practice where no source is
// named: they are what alterers reckon with, not a standard).

#include "cli/read/alter_catalogue.h"
#include "cli/read/moves.h"
#include "model/garment/garment.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>

namespace easewright {
namespace {

const AlterCatalogue& shipped() {
  static const AlterCatalogue catalogue = [] {
    Complaints complaints;
    auto read = read_alter_catalogue(tests::shipped_data(), complaints);
    for (const Complaint& complaint : complaints.in_order()) UNSCOPED_INFO(to_string(complaint));
    REQUIRE(read);
    return *read;
  }();
  return catalogue;
}

const Move& move_named(const std::string& name) {
  for (const Move& move : shipped().moves) {
    if (move.name == name) return move;
  }
  FAIL("there is no move '" << name << "'");
  return shipped().moves.front();
}

double labour(const Move& move, double cm, bool lined) {
  const double minutes = move.minutes_fixed + move.minutes_per_unit * cm;
  return minutes * (lined && move.lined == WhenLined::dearer ? move.lined_factor : 1) / 40;
}

bool holds(const std::vector<Condition>& when, const Switches& switches) {
  return std::all_of(
      when.begin(), when.end(), [&](const Condition& c) { return c.holds(switches); });
}

/// Every way in which parts that moves and faults ask for can be put together.
std::vector<Switches> garments() {
  std::vector<Switches> all = {Switches{}};
  for (const Switch which :
       {Switch::waist, Switch::skirt, Switch::slit, Switch::belt, Switch::lining}) {
    std::vector<Switches> more;
    for (const Switches& switches : all) {
      for (const std::string& option : info(which).options) {
        more.push_back(switches);
        more.back().set(which, option);
      }
    }
    all = std::move(more);
  }
  return all;
}

}  // namespace

TEST_CASE("the shipped moves make every change, and none makes one twice on any garment") {
  const auto& moves = shipped().moves;
  CHECK(moves.size() >= 28);
  std::set<Change> changes;
  for (const Move& move : moves) changes.insert(move.change);
  for (int i = 0; i < kChanges; ++i) {
    INFO(info(static_cast<Change>(i)).name);
    CHECK(changes.count(static_cast<Change>(i)) == 1);
  }
  for (const Switches& switches : garments()) {
    for (const ClothStructure structure : {ClothStructure::woven, ClothStructure::knit}) {
      std::set<Change> made;
      for (const Move& move : moves) {
        const bool of_cloth = move.structure == ClothStructure::any || move.structure == structure;
        if (!of_cloth || !holds(move.when, switches)) continue;
        INFO(move.name);
        CHECK(made.insert(move.change).second);
      }
    }
  }
}

TEST_CASE("every move says how much, what to mark first and what to check after") {
  for (const Move& move : shipped().moves) {
    INFO(move.name);
    CHECK_THAT(
        move.says,
        Catch::Contains("{amount}") || Catch::Contains("{half}") || Catch::Contains("{twice}"));
    for (const std::string* text : {&move.says, &move.mark, &move.check, &move.place}) {
      CHECK(text->size() > 5);
      CHECK(text->back() != '.');
    }
    if (!move.caution.empty()) CHECK(move.caution.back() == '.');
    CHECK(move.source.find("common practice") != std::string::npos);
    // An amount that tapers says so at its other end.
    const std::string definition(info(move.change).definition);
    if (definition.find("to nothing at") != std::string::npos)
      CHECK(move.says.find("{nothing}") != std::string::npos);
  }
}

TEST_CASE("what lets out names its seam, and leaves a line that shows") {
  // 'On sheers, pile and coated cloth any line that leaves holes' can't be let out (cutter's notes,
  // common practice).
  const std::map<Change, SeamKey> outs = {{Change::sides_out, SeamKey::side},
                                          {Change::sides_out_bodice, SeamKey::side},
                                          {Change::sides_out_skirt, SeamKey::side},
                                          {Change::straps_down, SeamKey::shoulder},
                                          {Change::straps_down_arm_end, SeamKey::shoulder},
                                          {Change::waist_down, SeamKey::waist},
                                          {Change::skirt_front_out, SeamKey::waist},
                                          {Change::skirt_back_out, SeamKey::waist},
                                          {Change::waist_front_down, SeamKey::waist},
                                          {Change::hem_down, SeamKey::hem},
                                          {Change::hem_front_down, SeamKey::hem},
                                          {Change::hem_back_down, SeamKey::hem},
                                          {Change::hem_sides_down, SeamKey::hem}};
  for (const Move& move : shipped().moves) {
    INFO(move.name);
    const auto out = outs.find(move.change);
    CHECK(move.let_out_of.has_value() == (out != outs.end()));
    if (out == outs.end()) continue;
    CHECK(*move.let_out_of == out->second);
    CHECK(move.leaves_holes);
    CHECK_FALSE(move.adds_cloth);
  }
}

TEST_CASE("what can't be had without new cloth adds it") {
  // Cutter's notes, 'impossible without new cloth': edge higher, strap wider, overlap wider with
  // the round kept; and the remedies that are pieces set in.
  const std::set<Change> pieced = {Change::strap_extended,
                                   Change::strap_wider_arm,
                                   Change::gusset,
                                   Change::waist_band,
                                   Change::neckline_filled,
                                   Change::slit_insert,
                                   Change::slit_edge_filled,
                                   Change::hem_band};
  for (const Move& move : shipped().moves) {
    INFO(move.name);
    CHECK(move.adds_cloth == (pieced.count(move.change) == 1));
  }
}

TEST_CASE("moves take the time that alterers reckon") {
  // Relative labour, hem of an unlined straight skirt = 1, at an amount that is usual.
  struct Row {
    const char* move;
    double cm;
    bool lined;
    double labour;
  };
  const Row rows[] = {
      {"raise the hem", 1, false, 1.0},
      {"raise the hem and its curved edge", 1, false, 1.8},
      {"lift both straps", 1, false, 0.7},
      {"lift both straps", 1, true, 2.0},
      {"take in the side seams", 1, false, 1.2},
      {"take in the side seams", 1, true, 2.2},
      {"fold the neckline gape into darts", 1, true, 2.5},
      {"stay the neckline with tape", 0.5, true, 2.5},
      {"lower the underarm", 1, true, 3.0},
      {"hollow the front armholes", 0.5, true, 2.9},
      {"take a tuck above the waist seam", 1, false, 2.8},
      {"shorten the elastic", 3, false, 0.8},
      {"thread a longer elastic", 3, false, 0.8},
      {"set gussets under the arms", 1, false, 3.5},
      {"set a strip along the under front", 5, false, 3.5},
      {"fold the armhole gape into a dart", 1, false, 2.0},
  };
  for (const Row& row : rows) {
    INFO(row.move << (row.lined ? ", lined" : ""));
    // The reckoning is in tenths; two minutes are half of one.
    CHECK_THAT(labour(move_named(row.move), row.cm, row.lined), WithinAbs(row.labour, 0.06));
  }
  // Nothing is quicker through a lining, and no move takes longer than a day's half.
  for (const Move& move : shipped().moves) {
    INFO(move.name);
    CHECK(move.lined_factor >= 1);
    CHECK(labour(move, 0, false) * 40 >= 10);
    CHECK(labour(move, 0, true) * 40 <= 240);
  }
}

TEST_CASE("moves go as far as proportions bear") {
  // Largest amounts of one go.
  struct Row {
    const char* move;
    double most;
  };
  const Row rows[] = {
      {"lift both straps", 1.3},                   // shoulder lift front and back each
      {"shorten the straps at the back", 2.5},     // at the back join
      {"lift the straps at the neck end", 1.0},    // 0.3 to 1.0 to nothing at the armhole
      {"let down both straps", 1.0},               // shoulder let out 0.3 to 1
      {"take in the side seams", 2.0},             // sleeveless 2 a seam, then the armhole
      {"let out the side seams", 1.3},             // 0.6 to 1.3 a seam
      {"let out the skirt's sides", 1.3},          // 0.6 to 1.3 a seam
      {"lower the underarm", 1.5},                 // 0.6 steps, at most 1.5 at once
      {"fold the armhole gape into a dart", 2.0},  // close 0.6 to 2
      {"stay the neckline with tape", 0.6},        // tape 0.3 to 0.6 short a half
      {"take a tuck above the waist seam", 2.5},   // waist raised by a tuck
      {"let the waist seam down", 1.3},            // 0.6 to 1.3
      {"lower the skirt at the back waist", 2.0},  // 0.6 to 2
      {"raise the hem", 7.5},                      // then the sides have to follow
  };
  for (const Row& row : rows) {
    INFO(row.move);
    CHECK_THAT(move_named(row.move).most, WithinAbs(row.most, 1e-9));
  }
}

TEST_CASE("work goes from the shoulder down, edges after seams, the hem last") {
  // Length over shoulder, back, bust, side seams, waist level, hips, armhole edge, neckline edge,
  // straps, closures, hem last.
  const std::vector<std::string> stages = {"lift both straps",
                                           "sew darts into the back neckline",
                                           "sew a dart from the side to the bust",
                                           "take in the side seams",
                                           "take a tuck above the waist seam",
                                           "take in the skirt's sides",
                                           "lower the underarm",
                                           "stay the neckline with tape",
                                           "narrow the straps at the arm",
                                           "shorten the elastic",
                                           "raise the hem"};
  CHECK(stages.size() == stages_of_work().size());
  int before = 0;
  for (const std::string& name : stages) {
    INFO(name);
    CHECK(move_named(name).order > before);
    before = move_named(name).order;
  }
  for (const Move& move : shipped().moves) CHECK(move.order <= move_named("raise the hem").order);
}

TEST_CASE("care is taken of the wearer where a move can hurt") {
  // Elastic pressure, trailing hems, cords and belts, hobbling, tight armholes.
  for (const Change change : {Change::elastic_shorter,
                              Change::hem_down,
                              Change::hem_band,
                              Change::belt_shorter,
                              Change::slit_caught,
                              Change::armhole_lower}) {
    for (const Move& move : shipped().moves) {
      INFO(move.name);
      if (move.change == change) CHECK_FALSE(move.caution.empty());
    }
  }
}

TEST_CASE("the shipped faults say how they are taken and read something that some garment has") {
  CHECK(shipped().faults.size() >= 18);
  for (const FaultKind& fault : shipped().faults) {
    INFO(fault.name);
    CHECK(fault.how.size() > 20);
    CHECK(fault.how.back() != '.');
    CHECK_FALSE(fault.source.empty());
    CHECK(fault.error > 0);
    // Half a centimetre to a hand's breadth: what eye and pins give, not a caliper.
    if (fault.reads.dimension() == kLength) CHECK(fault.error >= 0.2);
    if (fault.reads.dimension() == kLength) CHECK(fault.error <= 3);
    Switches switches;
    for (const Condition& c : fault.when) CHECK(switches.set(c.which, c.options.front()));
    for (const Name& name : fault.reads.names()) {
      if (name.kind == NameKind::measure)
        CHECK(has_measure(switches, static_cast<MeasureKey>(name.index)));
    }
  }
}

}  // namespace easewright
