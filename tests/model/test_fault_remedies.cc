// Remedies against the fault and remedy tables of the trade: each named remedy, done to a dress
// that was made by a fit, makes what the fault reads less, and by about what geometry says where it
// says something. Sources stand in the rows.

#include "cli/read/alter_catalogue.h"
#include "model/alter/moves.h"
#include "model/fit.h"
#include "model/pose.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <cmath>
#include <string>

namespace easewright {
namespace {

const AlterCatalogue& vocabulary() {
  static const AlterCatalogue catalogue = [] {
    Complaints complaints;
    auto read = read_alter_catalogue(tests::shipped_data(), complaints);
    REQUIRE(read);
    return *read;
  }();
  return catalogue;
}

const FaultKind& fault_named(const std::string& name) {
  for (const FaultKind& fault : vocabulary().faults) {
    if (fault.name == name) return fault;
  }
  FAIL("there is no fault '" << name << "'");
  return vocabulary().faults.front();
}

/// A dress of the demo as its fit gives it, on the body that it was made for.
struct Dress {
  FitResult fitted;
  Made made;

  explicit Dress(const std::string& job)
      : fitted(fit(tests::demo_job(job), tests::shipped_catalogue())),
        made(made_from(fitted.posed->frame, fitted.values)) {}

  double reads(const FaultKind& fault, const Made& garment) const {
    const Worn worn = wear(garment, fitted.posed->frame);
    return reading_of(fault, fitted.posed->frame, worn);
  }
};

}  // namespace

TEST_CASE("published and common remedies make what they are named for less") {
  struct Row {
    const char* fault;
    Change remedy;
    double amount;  ///< cm
    double least;   ///< by how much less at least, cm; 0: just less
    const char* source;
  };
  const Row rows[] = {
      {"front neckline gapes", Change::neck_tape, 0.5, 0.7, "stay 0.3 to 0.6 a half; geometry"},
      {"front neckline gapes", Change::neck_dart, 0.8, 1.2, "dart; fold on the half, geometry"},
      {"front neckline gapes", Change::straps_up_neck_end, 0.5, 0, "lift at the neck end"},
      {"back neck stands off", Change::back_neck_dart, 0.5, 0.8, "0.6 to 1.5 in back neck darts"},
      {"armhole tight", Change::armhole_lower, 0.6, 0.8, "lower 0.6: girth grows 2 d, bound"},
      {"armhole tight", Change::sides_out, 0.5, 0.8, "let out e: each armhole grows 2 e"},
      {"armhole tight", Change::gusset, 1, 0.8, "a piece set in"},
      {"armhole cuts at the front crease", Change::armhole_scoop_front, 0.5, 0.4, "scoop 0.3-0.6"},
      {"armhole gapes in front", Change::armhole_dart, 1.0, 0.8, "close 0.6 to 2 into a dart"},
      {"armhole gapes in front", Change::armhole_eased, 0.4, 0.3, "ease"},
      {"underarm too high", Change::armhole_lower, 1.0, 0.7, "lower"},
      {"underarm too low", Change::straps_up, 1.0, 0.7, "take up the shoulder: drop -1"},
      {"underwear shows at the side", Change::straps_up, 1.0, 0.7, "take up the shoulder"},
      {"straps slip off the shoulder", Change::straps_up_arm_end, 0.4, 0.2, "sloping shoulder"},
      {"red line over the shoulder", Change::straps_up_neck_end, 0.4, 0.2, "square shoulder"},
      {"bust tight", Change::sides_out, 0.5, 1.7, "let out e: bust grows 4 e"},
      {"bust tight", Change::sides_out_bodice, 0.5, 0.5, "let out at the underarm"},
      {"folds under the bust", Change::waist_front_up, 1.0, 0.7, "take up what sags below"},
      {"front hitches up at the waist", Change::waist_front_down, 1.0, 0.7, "drop the front waist"},
      {"front hem higher than the back", Change::waist_front_down, 1.0, 0.7, "front waist dropped"},
      {"front hem lower than the back",
       Change::hem_front_up,
       1.0,
       0.9,
       "hem levelled from the floor"},
      {"front hem lower than the back", Change::hem_back_down, 1.0, 0.9, "hem let down, geometry"},
      {"front hem higher than the back",
       Change::hem_front_down,
       1.0,
       0.9,
       "front lengthened 1-2.5"},
      {"front hem higher than the back", Change::hem_back_up, 1.0, 0.9, "hem levelled, geometry"},
      {"skirt lower in front than at the sides", Change::hem_front_up, 1.0, 0.9, "levelled"},
      {"skirt higher in front than at the sides", Change::hem_front_down, 1.0, 0.9, "lengthened"},
      {"skirt higher in front than at the sides", Change::hem_sides_up, 1.0, 0.9, "geometry"},
      {"skirt higher behind than at the sides", Change::hem_sides_up, 1.0, 0.9, "dips: relevel"},
      {"fold across the back waist", Change::waist_back_up, 1.0, 0.7, "lower centre back waist"},
      {"bodice bags over the waist", Change::waist_tuck, 1.0, 0.8, "take up; blouson -1"},
      {"waist rides up", Change::waist_down, 1.0, 0.8, "add 1 blouson"},
      {"waist elastic tight", Change::elastic_longer, 2.0, 1.5, "lengthen the elastic 2 to 3"},
      {"waist elastic loose", Change::elastic_shorter, 2.0, 1.5, "shorten the elastic"},
      {"skirt pulls over the seat", Change::sides_out_skirt, 0.5, 1.5, "let side out, 4 edges"},
      {"slit bares the lap when seated", Change::slit_insert, 5, 4, "add overlap 5 to 10"},
      {"slit bares the knee when seated", Change::slit_insert, 5, 4, "add overlap 5 to 10"},
      {"slit opens too high standing", Change::slit_insert, 5, 0, "add overlap 5 to 10"},
      {"slit bares the knee when seated", Change::slit_edge_filled, 3, 0, "hem edge wider"},
      {"skirt too long for the floor", Change::hem_up, 2, 1.8, "hem up"},
      {"hem below the knee", Change::hem_up, 2, 1.8, "hem up"},
      {"belt ends hang too low", Change::belt_shorter, 10, 4, "cut from both ends"},
      {"underwear shows at the neckline", Change::neckline_filled, 2, 1.7, "infill"},
      {"neck edge does not pass the head", Change::neckline_deeper, 2, 2, "deeper: edge +1.9 a cm"},
  };
  const Dress dress("choir/jobs/alto-2.yaml");
  for (const Row& row : rows) {
    INFO(row.fault << ", " << info(row.remedy).name << ": " << row.source);
    const FaultKind& fault = fault_named(row.fault);
    const double before = dress.reads(fault, dress.made);
    const double after = dress.reads(fault, changed(dress.made, row.remedy, row.amount));
    CHECK(after < before - std::max(row.least, 1e-3));
  }
}

TEST_CASE(
    "a dress on the body that it was made for shows none of the faults that it was fitted "
    "against") {
  const Dress dress("choir/jobs/alto-2.yaml");
  for (const char* name : {"armhole tight",
                           "bust tight",
                           "tight under the bust",
                           "skirt pulls over the seat",
                           "slit bares the lap when seated",
                           "slit bares the knee when seated",
                           "underwear shows at the side",
                           "neck edge does not pass the head",
                           "folds under the bust",
                           "front hem lower than the back",
                           "waist rides up",
                           "underarm too high"}) {
    INFO(name);
    CHECK(dress.reads(fault_named(name), dress.made) <= 0.21);  // their rules' tolerances
  }
}

}  // namespace easewright
