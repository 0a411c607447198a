// Files with random mistakes. Whatever they hold, reading ends with a value or with complaints of
// one line each; a job that reads well is fitted and reported. Fixed seed, printed.
// EASEWRIGHT_SOAK=1 tries far more of them.

#include "cli/read/alter_catalogue.h"
#include "cli/read/catalogue.h"
#include "cli/read/data_folder.h"
#include "cli/read/faults.h"
#include "cli/read/in_hand.h"
#include "cli/read/job.h"
#include "cli/read/moves.h"
#include "cli/read/rules.h"
#include "cli/read/values.h"
#include "cli/write/alter.h"
#include "cli/write/json.h"
#include "cli/write/report.h"
#include "scratch.h"
#include "tests/catch.h"

#include <random>

using namespace easewright;
using tests::Scratch;

namespace {

constexpr unsigned kSeed = 61;
const std::string kData = std::string(EASEWRIGHT_SOURCE_DIR) + "/data";

class Mutator {
 public:
  explicit Mutator(unsigned seed) : random_(seed) {}

  size_t below(size_t n) { return n == 0 ? 0 : random_() % n; }

  std::string mutate(std::string text) {
    const size_t count = 1 + below(3);
    for (size_t i = 0; i < count; ++i) one(text);
    return text;
  }

 private:
  void one(std::string& text) {
    static const char* const snippets[] = {
        "\n",     ": ",    "- ", "{",   "}",      "[",    "]",        "&x ",  "*x",
        "!!int ", "---\n", "'",  "\"",  "#",      "%",    " +- ",     ".inf", ".nan",
        "1e999",  "0",     "-1", "/ 0", " cm",    " in",  " deg",     "\t",   "|",
        ">",      "null",  "~",  "999", "0.0001", "\xff", "\xc3\xa9", "<<: ", "? ",
        "body.x", "min(",  ", ", "1/0", ")",      "\r\n"};
    const size_t at = below(text.size() + 1);
    switch (below(8)) {
      case 0:  // a byte
        if (!text.empty()) text[below(text.size())] = static_cast<char>(random_() & 0xFF);
        break;
      case 1:  // a bit
        if (!text.empty()) text[below(text.size())] ^= static_cast<char>(1 << below(8));
        break;
      case 2:  // cut out
        text.erase(at, 1 + below(12));
        break;
      case 3:  // put in
        text.insert(at, snippets[below(std::size(snippets))]);
        break;
      case 4: {  // a line twice, elsewhere
        const size_t from = text.rfind('\n', at);
        const size_t begin = from == std::string::npos ? 0 : from + 1;
        const std::string line = text.substr(begin, text.find('\n', begin) - begin);
        text.insert(at, line + "\n");
        break;
      }
      case 5: {  // a number changed
        const size_t digit = text.find_first_of("0123456789", at);
        if (digit != std::string::npos) text[digit] = static_cast<char>('0' + below(10));
        break;
      }
      case 6: {  // a number scaled
        const size_t digit = text.find_first_of("0123456789", at);
        if (digit != std::string::npos) text.insert(digit, below(2) == 0 ? "0." : "1");
        break;
      }
      default:  // the rest lost
        if (below(10) == 0) text.resize(at);
    }
  }

  std::mt19937 random_;
};

void check_lines(const Complaints& complaints) {
  for (const Complaint& c : complaints.in_order()) {
    const std::string line = to_string(c);
    CHECK(line.find('\n') == std::string::npos);
    CHECK(line.find('\033') == std::string::npos);
    CHECK_FALSE(c.text.empty());
  }
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

void check_report(const LoadedJob& loaded, const Catalogue& all) {
  Judged judged;
  judged.file = loaded.file;
  judged.job = &loaded.job;
  judged.result = fit(loaded.job, all);
  if (has_error(judged.result.completed)) return;  // refused by the program
  if (has_answer(judged.result)) {
    judged.doubts = uncertainty(loaded.job, all, judged.result);
    judged.effects = wish_effects(judged.result);
    judged.tell_effects = judged.tell_all = true;
  }
  for (const std::string& line : tests::lines_of(write_report(judged, Colour::off))) {
    INFO(line);
    CHECK(columns(line) <= kColumns);
  }
  CHECK_FALSE(write_json({judged}, "fit").empty());
}

void check_plan(const LoadedJob& loaded, const InHand& in_hand, const AlterCatalogue& vocabulary) {
  Altered altered;
  altered.file = loaded.file;
  altered.job = &loaded.job;
  altered.in_hand = &in_hand;
  altered.tell_all = true;
  altered.result = alter(loaded.job, in_hand, catalogue(), vocabulary);
  if (altered.result.posed == nullptr) return;  // refused by the program
  for (const std::string& line : tests::lines_of(write_alteration(altered, Colour::off))) {
    INFO(line);
    CHECK(columns(line) <= kColumns);
  }
  CHECK_FALSE(write_alteration_json(altered).empty());
}

int rounds(int quick) { return tests::soaking() ? 60 * quick : quick; }

}  // namespace

TEST_CASE("jobs, bodies, styles and cloths with random mistakes end in a value or in complaints") {
  INFO("seed " << kSeed);
  Mutator mutator(kSeed);
  const std::string job =
      "job: alto 2\nbody: body.yaml\ncloth: cloth.yaml\nstyle: style.yaml\nunits: in\nswitches: "
      "{put on: side opening}\n"
      "wishes:\n  neckline depth: at most 12 cm\n  strap width: 4 to 6 cm\n"
      "  slit start: {from: body.knee_height / 2, to: 40 cm, tolerance: 1 cm, strength: should}\n";
  const std::pair<const char*, std::string> files[] = {
      {"job.yaml", job},
      {"body.yaml", tests::bytes_of(kData + "/choir/bodies/alto-2.yaml")},
      {"style.yaml", tests::bytes_of(kData + "/styles/concert-dress.yaml")},
      {"cloth.yaml", tests::bytes_of(kData + "/cloths/choir-bolt.yaml")},
  };
  const Scratch scratch;
  int good = 0, bad = 0;
  for (int round = 0; round < rounds(1500); ++round) {
    const size_t changed = mutator.below(std::size(files));
    for (size_t i = 0; i < std::size(files); ++i) {
      scratch.write(files[i].first,
                    i == changed ? mutator.mutate(files[i].second) : files[i].second);
    }
    INFO("round " << round << ", " << files[changed].first << ":\n"
                  << tests::bytes_of(scratch.path(files[changed].first)));
    Complaints complaints;
    const auto loaded = read_job(scratch.path("job.yaml"), kData, {}, Draft::optional, complaints);
    REQUIRE(loaded.has_value() == complaints.empty());
    check_lines(complaints);
    if (loaded) check_report(*loaded, catalogue());
    ++(loaded ? good : bad);
  }
  // Neither all refused nor all accepted: both ways are tried.
  CHECK(good > 100);
  CHECK(bad > 100);
}

TEST_CASE("rules and values with random mistakes end in a value or in complaints") {
  INFO("seed " << kSeed);
  Mutator mutator(kSeed + 1);
  Complaints none;
  const auto loaded = read_job(tests::choir_job("alto-2"), kData, {}, Draft::optional, none);
  REQUIRE(loaded);
  std::vector<std::string> files = yaml_files(kData + "/rules");
  files.push_back(kData + "/tables/values.yaml");
  int good = 0, bad = 0;
  for (int round = 0; round < rounds(400); ++round) {
    const std::string& file = files[mutator.below(files.size())];
    const bool is_values = file == files.back();
    const std::string text = mutator.mutate(tests::bytes_of(file));
    INFO("round " << round << ", " << file);
    Complaints complaints;
    const Source source{file, complaints};
    Catalogue changed = catalogue();
    if (const auto map = parse_yaml(text, source)) {
      if (is_values) {
        read_values(*map, source, changed.values);
      } else {
        changed.rules.clear();
        read_rules(*map, source, changed.rules);
      }
    }
    check_lines(complaints);
    if (complaints.empty()) check_report(*loaded, changed);
    ++(complaints.empty() ? good : bad);
  }
  CHECK(good > 40);
  CHECK(bad > 40);
}

TEST_CASE("garments in hand with random mistakes end in a plan or in complaints") {
  INFO("seed " << kSeed);
  Mutator mutator(kSeed + 3);
  Complaints none;
  const auto vocabulary = read_alter_catalogue(kData, none);
  REQUIRE(vocabulary);
  const std::string job =
      "job: alto 2\nbody: body.yaml\ncloth: choir bolt\nstyle: concert dress\nmade:\n  kind: "
      "dress\n"
      "  made for: body.yaml\n  wishes: {neckline depth: 12 cm}\n  flat:\n    chest width: 51 cm\n"
      "    strap width: 5 cm +- 0.2 cm\n  seams:\n    side: {allowance: 1.5 cm, keep: 0.6 cm}\n"
      "    hem: 1 cm\n  edges: {armhole: bound}\n  holes show: no\nfaults:\n  armhole tight: 1 cm\n"
      "  front neckline gapes: {amount: 1 cm, error: 0.5 cm}\n";
  const Scratch scratch;
  scratch.write("body.yaml", tests::bytes_of(kData + "/choir/bodies/alto-2.yaml"));
  int good = 0, bad = 0;
  for (int round = 0; round < rounds(1500); ++round) {
    const std::string text = mutator.mutate(job);
    scratch.write("job.yaml", text);
    INFO("round " << round << ":\n" << text);
    Complaints complaints;
    const auto loaded = read_job(scratch.path("job.yaml"), kData, {}, Draft::optional, complaints);
    const auto in_hand =
        loaded ? read_in_hand(*loaded, catalogue(), *vocabulary, complaints) : std::nullopt;
    REQUIRE(in_hand.has_value() == complaints.empty());
    check_lines(complaints);
    ++(in_hand ? good : bad);
    // A plan takes its time: some of those that read well.
    if (in_hand && good % (tests::soaking() ? 20 : 100) == 1)
      check_plan(*loaded, in_hand->in_hand, *vocabulary);
  }
  CHECK(good > 100);
  CHECK(bad > 100);
}

TEST_CASE("moves and faults with random mistakes end in a value or in complaints") {
  INFO("seed " << kSeed);
  Mutator mutator(kSeed + 4);
  std::vector<std::string> files = yaml_files(kData + "/moves");
  const size_t moves = files.size();
  for (std::string& file : yaml_files(kData + "/faults")) files.push_back(std::move(file));
  int good = 0, bad = 0;
  for (int round = 0; round < rounds(1000); ++round) {
    const size_t at = mutator.below(files.size());
    const std::string text = mutator.mutate(tests::bytes_of(files[at]));
    INFO("round " << round << ", " << files[at]);
    Complaints complaints;
    const Source source{files[at], complaints};
    AlterCatalogue read;
    if (const auto map = parse_yaml(text, source)) {
      if (at < moves) {
        read_moves(*map, source, read.moves);
      } else {
        read_fault_kinds(*map, source, read.faults);
      }
    }
    check_lines(complaints);
    for (const Move& move : read.moves) {
      CHECK(move.change != Change::count);
      CHECK(move.least > 0);
      CHECK(move.least <= move.most);
    }
    for (const FaultKind& fault : read.faults) CHECK(fault.error > 0);
    ++(complaints.empty() ? good : bad);
  }
  CHECK(good > 40);
  CHECK(bad > 40);
}

TEST_CASE("text for the command line's what-if is answered whatever it is") {
  INFO("seed " << kSeed);
  Mutator mutator(kSeed + 2);
  for (int round = 0; round < rounds(1000); ++round) {
    const Overrides overrides{.wishes = {mutator.mutate("neckline depth at least 20 cm")},
                              .measures = {mutator.mutate("bust girth 94 cm +- 1 cm")},
                              .switches = {mutator.mutate("side dart sewn")}};
    INFO(overrides.wishes[0] << " / " << overrides.measures[0] << " / " << overrides.switches[0]);
    Complaints complaints;
    const auto loaded =
        read_job(tests::choir_job("alto-2"), kData, overrides, Draft::optional, complaints);
    CHECK(loaded.has_value() == complaints.empty());
  }
}
