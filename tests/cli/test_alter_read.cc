// Moves, faults and the garment in hand, as files give them: what is right is read, and each slip
// earns one line with its place. The lines are this program's own words; what they rest on (places)
// can be counted in the text beside them.

#include "cli/read/alter_catalogue.h"
#include "cli/read/catalogue.h"
#include "cli/read/faults.h"
#include "cli/read/in_hand.h"
#include "cli/read/moves.h"
#include "scratch.h"
#include "tests/catch.h"

#include <functional>

using namespace easewright;
using tests::Scratch;

namespace {

const std::string kData = std::string(EASEWRIGHT_SOURCE_DIR) + "/data";

constexpr const char* kMove =
    "group: sides\n"
    "moves:\n"
    "  - move: take in the sides\n"
    "    place: both side seams\n"
    "    change: sides in\n"
    "    least: 0.3 cm\n"
    "    most: 2 cm\n"
    "    let out of: side\n"
    "    adds cloth: yes\n"
    "    cloth: woven\n"
    "    leaves holes: yes\n"
    "    lined: dearer\n"
    "    lined factor: 1.5\n"
    "    minutes: {once: 40, each cm: 8}\n"
    "    order: side seams\n"
    "    when: {skirt: wrapped}\n"
    "    says: sew it {amount} deeper, to {nothing} below; the round loses {four times}\n"
    "    mark: chalk it\n"
    "    check: try it on\n"
    "    caution: Take care.\n"
    "    source: common practice\n";

constexpr const char* kFault =
    "group: bodice\n"
    "faults:\n"
    "  - fault: front neckline gapes\n"
    "    how: pinch it\n"
    "    reads: 2 * neckline.slack\n"
    "    error: 0.5 cm\n"
    "    when: {underwear: full}\n"
    "    source: common practice\n";

constexpr const char* kJob =
    "job: alto 1, tried on\n"
    "body: body.yaml\n"
    "cloth: choir bolt\n"
    "style: concert dress\n"
    "made:\n"
    "  kind: dress\n"
    "  made for: body.yaml\n"
    "  wishes: {neckline depth: 12 cm}\n"
    "  flat:\n"
    "    chest width: 48 cm +- 0.3 cm\n"
    "    overlap: 0 cm\n"
    "  seams:\n"
    "    side: {allowance: 1.5 cm, keep: 0.6 cm}\n"
    "    hem: 1 cm\n"
    "  edges: {armhole: bound, neck: faced, side: overlocked}\n"
    "  holes show: yes\n"
    "faults:\n"
    "  front neckline gapes: 2 cm\n"
    "  armhole tight: {amount: 1 cm, error: 0.4 cm}\n"
    "  back neck stands off: 0 cm +- 3 mm\n";

constexpr const char* kBody =
    "body: alto 1\n"
    "build: woman\n"
    "waist level: natural\n"
    "measures:\n"
    "  bust girth: 95 cm\n"
    "  waist girth: 76 cm\n"
    "  hip girth: 102 cm\n";

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

std::vector<std::string> lines_of(const Complaints& complaints, const Scratch& scratch) {
  std::vector<std::string> lines;
  for (const Complaint& c : complaints.in_order()) {
    std::string line = to_string(c);
    for (size_t at = line.find(scratch.path("")); at != std::string::npos;
         at = line.find(scratch.path("")))
      line.erase(at, scratch.path("").size());
    CHECK(line.find('\n') == std::string::npos);
    lines.push_back(std::move(line));
  }
  return lines;
}

using Read = std::function<void(const YamlNode&, const Source&)>;

std::vector<std::string> complaints_of(const std::string& text, const Read& read) {
  const Scratch scratch;
  Complaints complaints;
  const Source source{"file.yaml", complaints};
  const auto map = parse_yaml(text, source);
  if (map) read(*map, source);
  return lines_of(complaints, scratch);
}

const Catalogue& catalogue() {
  static const Catalogue read = [] {
    Complaints complaints;
    auto all = read_catalogue(kData, complaints);
    REQUIRE(all);
    return *all;
  }();
  return read;
}

const AlterCatalogue& vocabulary() {
  static const AlterCatalogue read = [] {
    Complaints complaints;
    auto all = read_alter_catalogue(kData, complaints);
    for (const Complaint& c : complaints.in_order()) UNSCOPED_INFO(to_string(c));
    REQUIRE(all);
    return *all;
  }();
  return read;
}

struct InHandRead {
  std::optional<LoadedInHand> read;
  std::vector<std::string> lines;
};

InHandRead in_hand_of(const std::string& job, const Overrides& overrides = {}) {
  const Scratch scratch;
  scratch.write("body.yaml", kBody);
  const std::string file = scratch.write("job.yaml", job);
  Complaints complaints;
  InHandRead result;
  const auto loaded = read_job(file, kData, overrides, Draft::optional, complaints);
  if (loaded) result.read = read_in_hand(*loaded, catalogue(), vocabulary(), complaints);
  CHECK(result.read.has_value() == complaints.empty());
  result.lines = lines_of(complaints, scratch);
  return result;
}

void check_only(const std::vector<std::string>& lines, const std::string& begins) {
  for (const std::string& line : lines) UNSCOPED_INFO(line);
  REQUIRE(lines.size() == 1);
  CHECK_THAT(lines[0], Catch::StartsWith(begins));
}

struct Slip {
  std::string what, by;
  std::string line;  ///< the complaint's beginning
};

}  // namespace

TEST_CASE("a move is read with all that it says") {
  std::vector<Move> moves;
  CHECK(complaints_of(kMove, [&](const YamlNode& map, const Source& source) {
          read_moves(map, source, moves);
        }).empty());
  REQUIRE(moves.size() == 1);
  const Move& m = moves.front();
  CHECK(m.name == "take in the sides");
  CHECK(m.place == "both side seams");
  CHECK(m.change == Change::sides_in);
  CHECK_THAT(m.least, WithinAbs(0.3, 1e-12));
  CHECK_THAT(m.most, WithinAbs(2, 1e-12));
  CHECK(m.let_out_of == SeamKey::side);
  CHECK(m.adds_cloth);
  CHECK(m.structure == ClothStructure::woven);
  CHECK(m.leaves_holes);
  CHECK(m.lined == WhenLined::dearer);
  CHECK_THAT(m.lined_factor, WithinAbs(1.5, 1e-12));
  CHECK_THAT(m.minutes_fixed, WithinAbs(40, 1e-12));
  CHECK_THAT(m.minutes_per_unit, WithinAbs(8, 1e-12));
  CHECK(m.order == 40);  // the fourth stage, ten apart
  CHECK(m.when.size() == 1);
  CHECK(m.caution == "Take care.");
}

TEST_CASE("each slip in a moves file is told with its place") {
  const Slip slips[] = {
      {"change: sides in",
       "change: side in",
       "file.yaml:5:13: moves[1].change: there is no such change (did you mean 'sides in'?)"},
      {"    change: sides in\n", "", "file.yaml:3:5: moves[1]: the key 'change' is missing"},
      {"least: 0.3 cm", "least: 0 cm", "file.yaml:6:12: moves[1].least: has to be above 0"},
      {"least: 0.3 cm", "least: 3 cm", "file.yaml:6:12: moves[1].least: is more than 'most'"},
      {"most: 2 cm", "most: 2 deg", "file.yaml:7:11: moves[1].most: '2 deg' is an angle"},
      {"most: 2 cm", "most: .inf", "file.yaml:7:11: moves[1].most: '.inf' is not a length"},
      {"let out of: side",
       "let out of: sides",
       "file.yaml:8:17: moves[1].let out of: 'sides' is not side, shoulder"},
      {"cloth: woven", "cloth: wovn", "file.yaml:10:12: moves[1].cloth: 'wovn' is not any, woven"},
      {"lined: dearer",
       "lined: blocked",
       "file.yaml:13:5: moves[1].lined factor: goes with 'lined: dearer' alone"},
      {"    lined factor: 1.5\n", "", "file.yaml:3:5: moves[1]: the key 'lined factor' is missing"},
      {"lined factor: 1.5",
       "lined factor: 0.5",
       "file.yaml:13:19: moves[1].lined factor: 0.5 is outside 1 to 10"},
      {"once: 40", "once: -1", "file.yaml:14:21: moves[1].minutes.once: -1 is outside 0 to 600"},
      {"each cm: 8",
       "each deg: 8",
       "file.yaml:14:14: moves[1].minutes: the key 'each cm' is missing"},
      {"order: side seams", "order: sides", "file.yaml:15:12: moves[1].order: 'sides' is not"},
      {"{amount}", "{amout}", "file.yaml:17:18: moves[1].says: '{amout}' is none of {amount}"},
      {"{amount}", "{amount", "file.yaml:17:18: moves[1].says: '{amount deeper, to {nothing}' is"},
      {"{nothing}", "{2.5 kg}", "file.yaml:17:38: moves[1].says: '{2.5 kg}' is none of {amount}"},
      {"says: sew it {amount} deeper, to {nothing} below; the round loses {four times}",
       "says: sew it",
       "file.yaml:17:11: moves[1].says: does not say how much: '{amount}' is wanted in it"},
      {"    mark: chalk it\n", "", "file.yaml:3:5: moves[1]: the key 'mark' is missing"},
      {"source: common practice", "source:", "file.yaml:21:5: moves[1].source: is empty"},
      {"skirt: wrapped", "skirt: wrap", "file.yaml:16:19: moves[1].when.skirt: 'wrap' is not"},
      {"place:", "plase:", "file.yaml:3:5: moves[1]: the key 'place' is missing"},
      {"group: sides\n", "", "file.yaml:1:1: the key 'group' is missing"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.line);
    std::vector<Move> moves;
    const auto lines = complaints_of(
        replaced(kMove, slip.what, slip.by),
        [&](const YamlNode& map, const Source& source) { read_moves(map, source, moves); });
    for (const std::string& line : lines) UNSCOPED_INFO(line);
    REQUIRE_FALSE(lines.empty());
    CHECK_THAT(lines[0], Catch::StartsWith(slip.line));
  }
}

TEST_CASE("a change that is an angle wants its limits and minutes in degrees") {
  std::string text = replaced(kMove, "change: sides in", "change: side dart");
  text = replaced(text, "least: 0.3 cm", "least: 3 deg");
  text = replaced(text, "most: 2 cm", "most: 15 deg");
  text = replaced(text, "each cm: 8", "each deg: 1.5");
  std::vector<Move> moves;
  CHECK(complaints_of(text, [&](const YamlNode& map, const Source& source) {
          read_moves(map, source, moves);
        }).empty());
  REQUIRE(moves.size() == 1);
  CHECK_THAT(moves[0].most, WithinAbs(radians(15), 1e-12));
  CHECK_THAT(moves[0].minutes_per_unit, WithinAbs(1.5, 1e-12));
}

TEST_CASE("a second move or fault of one name is refused") {
  std::vector<Move> moves;
  const Read read = [&](const YamlNode& map, const Source& source) {
    read_moves(map, source, moves);
  };
  complaints_of(kMove, read);
  check_only(complaints_of(kMove, read),
             "file.yaml:3:5: moves[1]: there is a move of this name already: take in the sides");
  CHECK(moves.size() == 1);
  std::vector<FaultKind> faults;
  const Read read_faults = [&](const YamlNode& map, const Source& source) {
    read_fault_kinds(map, source, faults);
  };
  CHECK(complaints_of(kFault, read_faults).empty());
  check_only(complaints_of(kFault, read_faults),
             "file.yaml:3:5: faults[1]: there is a fault of this name already");
  CHECK(faults.size() == 1);
}

TEST_CASE("each slip in a faults file is told with its place") {
  const Slip slips[] = {
      {"neckline.slack",
       "neckline.slak",
       "file.yaml:5:16: faults[1].reads: 'neckline.slak' is no name"},
      {"2 * neckline.slack",
       "2 * body.bust_girth",
       "file.yaml:5:12: faults[1].reads: names no draft value and no measure"},
      {"error: 0.5 cm", "error: 5 deg", "file.yaml:6:12: faults[1].error: '5 deg' is an angle"},
      {"error: 0.5 cm", "error: 0 cm", "file.yaml:6:12: faults[1].error: has to be above 0"},
      {"    error: 0.5 cm\n", "", "file.yaml:3:5: faults[1]: the key 'error' is missing"},
      {"    error: 0.5 cm\n",
       "    error: 0.5 cm\n    fine: -1 cm\n",
       "file.yaml:7:11: faults[1].fine: is below 0"},
      {"    error: 0.5 cm\n",
       "    error: 0.5 cm\n    fine: 3 deg\n",
       "file.yaml:7:11: faults[1].fine: '3 deg' is an angle"},
      {"    how: pinch it\n", "", "file.yaml:3:5: faults[1]: the key 'how' is missing"},
      {"underwear: full", "underware: full", "file.yaml:7:12: faults[1].when.underware: there is"},
      {"reads:", "read:", "file.yaml:3:5: faults[1]: the key 'reads' is missing"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.line);
    std::vector<FaultKind> faults;
    const auto lines = complaints_of(
        replaced(kFault, slip.what, slip.by),
        [&](const YamlNode& map, const Source& source) { read_fault_kinds(map, source, faults); });
    for (const std::string& line : lines) UNSCOPED_INFO(line);
    REQUIRE_FALSE(lines.empty());
    CHECK_THAT(lines[0], Catch::StartsWith(slip.line));
  }
}

TEST_CASE("up to where a fault is fine is read, or that it is none in itself") {
  const std::pair<const char*, double> rows[] = {
      {"", 0}, {"    fine: 1.6 cm\n", 1.6}, {"    fine: any\n", solver::kInfinity}};
  for (const auto& [line, fine] : rows) {
    INFO(line);
    std::vector<FaultKind> faults;
    const auto complaints = complaints_of(
        replaced(kFault, "    error: 0.5 cm\n", std::string("    error: 0.5 cm\n") + line),
        [&faults](const YamlNode& map, const Source& source) {
          read_fault_kinds(map, source, faults);
        });
    CHECK(complaints.empty());
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].fine == fine);
  }
}

TEST_CASE("the garment in hand is read with what is said of it") {
  const InHandRead all = in_hand_of(kJob);
  for (const std::string& line : all.lines) UNSCOPED_INFO(line);
  REQUIRE(all.read);
  const InHand& in_hand = all.read->in_hand;
  CHECK(in_hand.kind == MadeKind::dress);
  CHECK(in_hand.made_for->label == "alto 1");
  CHECK(in_hand.made_wishes.size() == 1);
  CHECK(in_hand.holes_show);
  REQUIRE(in_hand.flat.size() == 2);
  CHECK_THAT(in_hand.flat[0].value, WithinAbs(48, 1e-12));
  CHECK_THAT(in_hand.flat[0].error, WithinAbs(0.3, 1e-12));
  CHECK_THAT(in_hand.flat[1].error, WithinAbs(info(FlatKey::overlap).error, 1e-12));
  const auto seam = [&](SeamKey key) { return in_hand.seams[static_cast<size_t>(key)]; };
  // 'seams' counts before 'edges'.
  CHECK_THAT(seam(SeamKey::side)->allowance, WithinAbs(1.5, 1e-12));
  CHECK_THAT(seam(SeamKey::side)->keep, WithinAbs(0.6, 1e-12));
  // A hem of 1 can't keep the usual 1.5 (common practice).
  CHECK_THAT(seam(SeamKey::hem)->keep, WithinAbs(1, 1e-12));
  CHECK_THAT(seam(SeamKey::armhole)->allowance, WithinAbs(0, 1e-12));
  CHECK_THAT(seam(SeamKey::neck)->allowance - seam(SeamKey::neck)->keep, WithinAbs(0, 1e-12));
  CHECK_FALSE(seam(SeamKey::waist));
  REQUIRE(in_hand.faults.size() == 3);
  CHECK_THAT(in_hand.faults[0].error, WithinAbs(in_hand.faults[0].kind->error, 1e-12));
  CHECK_THAT(in_hand.faults[1].error, WithinAbs(0.4, 1e-12));
  CHECK_THAT(in_hand.faults[2].amount, WithinAbs(0, 1e-12));
  CHECK_THAT(in_hand.faults[2].error, WithinAbs(0.3, 1e-12));
}

TEST_CASE("a job that says nothing of the garment leaves all to the fit") {
  const std::string plain =
      "job: a\nbody: body.yaml\ncloth: velvet\nstyle: concert top\nmade:\nfaults:\n";
  const InHandRead all = in_hand_of(plain);
  for (const std::string& line : all.lines) UNSCOPED_INFO(line);
  REQUIRE(all.read);
  CHECK(all.read->in_hand.kind == MadeKind::top);
  CHECK_FALSE(all.read->in_hand.made_for);
  CHECK(all.read->in_hand.flat.empty());
  // A line once stitched stays in velvet (the cloth's own file).
  CHECK(all.read->in_hand.holes_show);
}

TEST_CASE("each slip about the garment in hand is told with its place") {
  const Slip slips[] = {
      {"kind: dress", "kind: coat", "job.yaml:6:9: made.kind: 'coat' is not dress, top or skirt"},
      {"kind: dress",
       "kind: top",
       "job.yaml:6:9: made.kind: a top has no skirt, but the style has"},
      {"made for: body.yaml",
       "made for: alto 1",
       "job.yaml:7:13: made.made for: 'alto 1' is no path to a .yaml file"},
      {"made for: body.yaml",
       "made for: nobody.yaml",
       "job.yaml:7:13: made.made for: nobody.yaml: there is no such file"},
      {"{neckline depth: 12 cm}",
       "{neckline deth: 12 cm}",
       "job.yaml:8:12: made.wishes.neckline deth: there is no draft value or measure of this name "
       "(did you mean 'neckline depth'?)"},
      {"{neckline depth: 12 cm}",
       "{neckline depth: 900 cm}",
       "job.yaml:8:28: made.wishes.neckline depth: 900 cm is outside 1-26 cm"},
      {"{neckline depth: 12 cm}",
       "{neckline depth: -3 cm}",
       "job.yaml:8:28: made.wishes.neckline depth: -3 cm is outside 1-26 cm"},
      {"{neckline depth: 12 cm}",
       "{neckline depth: 12 to 90 cm}",
       "job.yaml:8:28: made.wishes.neckline depth: 90 cm is outside 1-26 cm"},
      {"{neckline depth: 12 cm}",
       "{skirt below knee: 9 m}",
       "job.yaml:8:30: made.wishes.skirt below knee: 900 cm is outside -300-300 cm"},
      {"{neckline depth: 12 cm}",
       "{neckline depth: 12 cm, neckline.depth: 14 cm}",
       "job.yaml:8:35: made.wishes.neckline.depth: is wished for a second time"},
      {"+- 0.3 cm", "+- 70 cm", "job.yaml:10:18: made.flat.chest width: an error of more than 20"},
      {"chest width",
       "chest with",
       "job.yaml:10:5: made.flat.chest with: there is no such flat measurement (did you mean "
       "'chest width'?)"},
      {"chest width: 48 cm +- 0.3 cm",
       "chest width: 48",
       "job.yaml:10:18: made.flat.chest width: 48 has no unit"},
      {"chest width: 48 cm", "chest width: 0 cm", "job.yaml:10:18: made.flat.chest width: 0 cm is"},
      {"chest width: 48 cm",
       "chest width: -48 cm",
       "job.yaml:10:18: made.flat.chest width: -48 cm"},
      {"chest width: 48 cm", "chest width: .nan", "job.yaml:10:18: made.flat.chest width: '.nan'"},
      {"chest width: 48 cm", "chest width: 4.8 m", "job.yaml:10:18: made.flat.chest width: 480 cm"},
      {"+- 0.3 cm", "+- 0 cm", "job.yaml:10:18: made.flat.chest width: the error after '+-'"},
      {"overlap: 0 cm", "chest width: 47 cm", "job.yaml:11:5: made.flat.chest width: is given a"},
      {"allowance: 1.5 cm", "allowance: -1 cm", "job.yaml:13:23: made.seams.side.allowance: -1 cm"},
      {"keep: 0.6 cm", "keep: 2 cm", "job.yaml:13:37: made.seams.side.keep: 2 cm is more than the"},
      {"keep: 0.6 cm", "keep: -1 cm", "job.yaml:13:37: made.seams.side.keep: -1 cm is outside"},
      {"hem: 1 cm", "hemm: 1 cm", "job.yaml:14:5: made.seams.hemm: there is no such seam or edge"},
      {"hem: 1 cm",
       "centre back: 1 cm",
       "job.yaml:14:5: made.seams.centre back: the back is cut on"},
      {"armhole: bound",
       "armhole: bund",
       "job.yaml:15:20: made.edges.armhole: 'bund' is not pressed open, turned, overlocked"},
      {"holes show: yes", "holes show: si", "job.yaml:16:15: made.holes show: 'si' is not yes, no"},
      {"holes show", "hole shows", "job.yaml:16:3: made.hole shows: is no known key (did you mean"},
      {"front neckline gapes",
       "front neckline gaps",
       "job.yaml:18:3: faults.front neckline gaps: there is no such fault (did you mean 'front "
       "neckline gapes'?)"},
      {"front neckline gapes",
       "looks odd",
       "job.yaml:18:3: faults.looks odd: there is no such fault (`easewright list faults`"},
      {"gapes: 2 cm", "gapes: -2 cm", "job.yaml:18:25: faults.front neckline gapes: is below 0"},
      {"gapes: 2 cm", "gapes: 2 m", "job.yaml:18:25: faults.front neckline gapes: more than 80 cm"},
      {"gapes: 2 cm", "gapes: 2 deg", "job.yaml:18:25: faults.front neckline gapes: '2 deg' is an"},
      {"gapes: 2 cm", "gapes: much", "job.yaml:18:25: faults.front neckline gapes: 'much' is not"},
      {"error: 0.4 cm", "error: 0 cm", "job.yaml:19:40: faults.armhole tight.error: has to be"},
      {"{amount: 1 cm, error: 0.4 cm}",
       "{error: 0.4 cm}",
       "job.yaml:19:18: faults.armhole tight: the key 'amount' is missing"},
      {"back neck stands off: 0 cm",
       "armhole tight: 0 cm",
       "job.yaml:20:3: faults.armhole tight: is given a second time"},
      {"back neck stands off",
       "waist seam tight",
       "job.yaml:20:3: faults.waist seam tight: is a fault of garments with waist: seam; this one "
       "has elastic"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.line);
    check_only(in_hand_of(replaced(kJob, slip.what, slip.by)).lines, slip.line);
  }
}

TEST_CASE("a fault or a measurement of a part that the garment has not is refused") {
  const std::string top =
      "job: a\nbody: body.yaml\ncloth: choir bolt\nstyle: concert top\nmade: {flat: {elastic: 70 "
      "cm}}\nfaults: {armhole tight: 1 cm}\n";
  CHECK(in_hand_of(top).lines.empty());
  check_only(in_hand_of(replaced(top, "armhole tight", "skirt pulls over the seat")).lines,
             "job.yaml:6:10: faults.skirt pulls over the seat: this top has no part that it could");
  check_only(in_hand_of(replaced(top, "elastic: 70 cm", "hip width: 50 cm")).lines,
             "job.yaml:5:15: made.flat.hip width: this top has no such part");
  check_only(in_hand_of(replaced(top, "made: {", "made: {seams: {front edge: 1 cm}, ")).lines,
             "job.yaml:5:16: made.seams.front edge: a top has no such seam");
  const std::string skirt =
      "job: a\nbody: body.yaml\ncloth: choir bolt\nstyle: concert dress\nmade: {kind: skirt}\n"
      "faults: {skirt pulls over the seat: 1 cm}\n";
  CHECK(in_hand_of(skirt).lines.empty());
  check_only(in_hand_of(replaced(skirt, "skirt pulls over the seat", "bust tight")).lines,
             "job.yaml:6:10: faults.bust tight: this skirt has no part that it could");
  check_only(
      in_hand_of(replaced(skirt, "{kind: skirt}", "{kind: skirt, seams: {neck: 1 cm}}")).lines,
      "job.yaml:5:29: made.seams.neck: a skirt has no such seam");
  // What the command line changes counts.
  const auto lines = in_hand_of(skirt, {.switches = {"skirt none"}}).lines;
  REQUIRE(lines.size() == 2);
  CHECK_THAT(lines[0],
             Catch::StartsWith("job.yaml:5:14: made.kind: a skirt has a skirt, but the style has"));
  CHECK_THAT(lines[1],
             Catch::StartsWith("job.yaml:6:10: faults.skirt pulls over the seat: this top has no"));
}

TEST_CASE("all slips of a job's sections are told at once, in order") {
  std::string job = replaced(kJob, "chest width", "chest with");
  job = replaced(job, "allowance: 1.5 cm", "allowance: -1 cm");
  job = replaced(job, "armhole tight", "armhole tigt");
  const auto lines = in_hand_of(job).lines;
  for (const std::string& line : lines) UNSCOPED_INFO(line);
  REQUIRE(lines.size() == 3);
  CHECK_THAT(lines[0], Catch::StartsWith("job.yaml:10:5"));
  CHECK_THAT(lines[1], Catch::StartsWith("job.yaml:13:23"));
  CHECK_THAT(lines[2], Catch::StartsWith("job.yaml:19:3"));
}
