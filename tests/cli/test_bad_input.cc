// Each kind of bad input earns one clear line with file, line, column and key, and all of them are
// told at once, in order. The lines are this program's own words: they are held here so that nobody
// changes them unawares. What they rest on (places) can be counted in the text beside them.

#include "cli/read/data_folder.h"
#include "cli/read/job.h"
#include "cli/read/rules.h"
#include "cli/read/values.h"
#include "scratch.h"
#include "tests/catch.h"

using namespace easewright;
using tests::Scratch;

namespace {

const std::string kData = std::string(EASEWRIGHT_SOURCE_DIR) + "/data";

constexpr const char* kBody =
    "body: alto 2\n"
    "build: woman\n"
    "waist level: natural\n"
    "shoulder slope read from: silhouette\n"
    "measures:\n"
    "  bust girth: 95 cm\n"
    "  waist girth: 76 cm\n"
    "  hip girth: 102 cm\n"
    "  shoulder slope: 22 deg\n";

constexpr const char* kJob =
    "job: alto 2, dress\n"
    "body: body.yaml\n"
    "cloth: choir bolt\n"
    "style: concert dress\n";

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

/// Complaints about a job and a body, the scratch folder cut off.
std::vector<std::string> complaints_of(const std::string& job,
                                       const std::string& body,
                                       const Overrides& overrides = {}) {
  const Scratch scratch;
  scratch.write("body.yaml", body);
  const std::string file = scratch.write("job.yaml", job);
  Complaints complaints;
  const auto loaded = read_job(file, kData, overrides, Draft::optional, complaints);
  CHECK(loaded.has_value() == complaints.empty());
  std::vector<std::string> lines;
  for (const Complaint& c : complaints.in_order()) {
    std::string line = to_string(c);
    for (size_t at = line.find(scratch.path("")); at != std::string::npos;
         at = line.find(scratch.path(""))) {
      line.erase(at, scratch.path("").size());
    }
    CHECK(line.find('\n') == std::string::npos);
    lines.push_back(std::move(line));
  }
  return lines;
}

std::string only(const std::vector<std::string>& lines) {
  for (const std::string& line : lines) UNSCOPED_INFO(line);
  REQUIRE(lines.size() == 1);
  return lines[0];
}

struct Slip {
  std::string what, by;
  std::string line;  ///< the complaint's beginning
};

}  // namespace

TEST_CASE("the good body and job earn no complaint") { CHECK(complaints_of(kJob, kBody).empty()); }

TEST_CASE("each slip in a body file is told with its place") {
  const Slip slips[] = {
      {"waist girth: 76 cm",
       "waist girth: 760 cm",
       "body.yaml:7:16: measures.waist girth: 760 cm is outside 40-180 cm"},
      {"waist girth: 76 cm",
       "waist girth: 76",
       "body.yaml:7:16: measures.waist girth: 76 has no unit (write '76 cm'"},
      {"waist girth: 76 cm", "waist girth:", "body.yaml:7:3: measures.waist girth: is empty"},
      {"waist girth: 76 cm",
       "waist girth: [76 cm]",
       "body.yaml:7:16: measures.waist girth: is a list; text is wanted"},
      {"waist girth: 76 cm",
       "waist girth: {a: 1}",
       "body.yaml:7:16: measures.waist girth: is a map; text is wanted"},
      {"waist girth: 76 cm",
       "waist girth: .inf",
       "body.yaml:7:16: measures.waist girth: '.inf' is not a length"},
      {"waist girth: 76 cm",
       "waist girth: 76 deg",
       "body.yaml:7:16: measures.waist girth: '76 deg' is an angle; a length"},
      {"waist girth: 76 cm",
       "waist girth: 76 cm +- 90 cm",
       "body.yaml:7:16: measures.waist girth: the error after '+-' is too"},
      {"waist girth: 76 cm",
       "waist girth: 76 cm\n  waist girth: 77 cm",
       "body.yaml:8:3: measures.waist girth: is given a second"},
      {"waist girth",
       "wasit girth",
       "body.yaml:7:3: measures.wasit girth: there is no such body measure (did you mean 'waist "
       "girth'?)"},
      {"build: woman",
       "build: women",
       "body.yaml:2:8: build: 'women' is not woman, man or child (did you mean 'woman'?)"},
      {"build: woman\n", "", "body.yaml:1:1: the key 'build' is missing"},
      {"build: woman", "bild: woman", "body.yaml:1:1: the key 'build' is missing"},
      {"body: alto 2\n", "", "body.yaml:1:1: the key 'body' is missing"},
      {"waist level: natural\n",
       "",
       "body.yaml:1:1: the key 'waist level' is missing: natural, iso or navel"},
      {"shoulder slope read from: silhouette\n",
       "",
       "body.yaml:1:1: the key 'shoulder slope read from' is missing"},
      {"measures:\n",
       "measures: 3\nextra:\n",
       "body.yaml:5:11: measures: is text; a map is wanted"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.by);
    const auto lines = complaints_of(kJob, replaced(kBody, slip.what, slip.by));
    for (const std::string& line : lines) UNSCOPED_INFO(line);
    REQUIRE_FALSE(lines.empty());
    CHECK_THAT(lines[0], Catch::StartsWith(slip.line));
  }
}

TEST_CASE("each slip in a job file is told with its place") {
  const Slip slips[] = {
      {"body: body.yaml",
       "body: bodies.yaml",
       "job.yaml:2:7: body: bodies.yaml: there is no such file"},
      {"body: body.yaml",
       "body: alto 2",
       "job.yaml:2:7: body: 'alto 2' is no path to a .yaml file"},
      {"body: body.yaml", "body: /", "job.yaml:2:7: body: /: is a folder, not a file"},
      {"body: body.yaml", "body: [a]", "job.yaml:2:7: body: is a list; a map is wanted"},
      {"body: body.yaml",
       "body: /dev/zero",
       "job.yaml:2:7: body: /dev/zero: is not a regular file"},
      {"cloth: choir bolt",
       "cloth: choir blot",
       "job.yaml:3:8: cloth: there is no 'choir blot' among the cloths (did you mean 'choir "
       "bolt'?)"},
      {"style: concert dress",
       "style: consort dress",
       "job.yaml:4:8: style: there is no 'consort dress' among the styles"},
      {"style: concert dress", "style: ''", "job.yaml:4:8: style: "},
      {"style: concert dress\n", "", "job.yaml:1:1: the key 'style' is missing"},
      {"style:", "stile:", "job.yaml:1:1: the key 'style' is missing"},
      {"dress\n",
       "dress\nwishes: {neckline depht: 12 cm}\n",
       "job.yaml:2:10: wishes.neckline depht: there is no draft value or measure of this name (did "
       "you mean 'neckline depth'?)"},
      {"dress\n",
       "dress\nwishes: {neckline depth: 12}\n",
       "job.yaml:2:26: wishes.neckline depth: 12 has no unit"},
      {"dress\n",
       "dress\nwishes: {neckline depth: at least}\n",
       "job.yaml:2:34: wishes.neckline depth: an amount is wanted: 'at least 12.5 cm'"},
      {"dress\n",
       "dress\nwishes: {neckline depth: at most}\n",
       "job.yaml:2:33: wishes.neckline depth: an amount is wanted: 'at most 12.5 cm'"},
      {"dress\n",
       "dress\nwishes: {neckline depth: 4 cm to}\n",
       "job.yaml:2:26: wishes.neckline depth: '4 cm to' lacks a side"},
      {"dress\n",
       "dress\nwishes: {neckline depth: to 4 cm}\n",
       "job.yaml:2:26: wishes.neckline depth: 'to 4 cm' lacks a side"},
      {"dress\n",
       "dress\nwishes: {neckline depth: 12 deg}\n",
       "job.yaml:2:26: wishes.neckline depth: '12 deg' is an angle; a length is wanted"},
      {"dress\n",
       "dress\nwishes: {neckline depth: 14 to 12 cm}\n",
       "job.yaml:2:26: wishes.neckline depth: '14 cm' to '12 cm' runs backwards"},
      {"dress\n",
       "dress\nwishes: {neckline depth: {tolerance: 1 cm}}\n",
       "job.yaml:2:26: wishes.neckline depth: says nothing"},
      {"dress\n",
       "dress\nwishes: {neckline depth: {is: 9 cm, from: 8 cm}}\n",
       "job.yaml:2:26: wishes.neckline depth: has 'is' beside"},
      {"dress\n",
       "dress\nwishes: {neckline depth: {is: 9 cm, tolerance: 0 cm}}\n",
       "job.yaml:2:48: wishes.neckline depth.tolerance: has to be above 0"},
      {"dress\n",
       "dress\nwishes: {neckline depth: {is: 9 cm, strength: shoud}}\n",
       "job.yaml:2:47: wishes.neckline depth.strength: 'shoud' is not must, should, wish or habit "
       "(did you mean 'should'?)"},
      {"dress\n",
       "dress\nwishes: {neckline depth: {is: 9 cm, ist: 3}}\n",
       "job.yaml:2:37: wishes.neckline depth.ist: is no known key (did you mean 'is'?)"},
      {"dress\n",
       "dress\nwishes: {neckline depth: at least body.bust_grith / 9}\n",
       "job.yaml:2:35: wishes.neckline depth: "},
      {"dress\n",
       "dress\nswitches: {side dart: sown}\n",
       "job.yaml:2:23: switches.side dart: 'sown' is not none or sewn (did you mean 'sewn'?)"},
      {"dress\n",
       "dress\nswitches: {sidedart: sewn}\n",
       "job.yaml:2:12: switches.sidedart: there is no such switch (did you mean 'side dart'?)"},
      {"dress\n",
       "dress\nswitches: {build: man}\n",
       "job.yaml:2:19: switches.build: the build is the body's"},
      {"dress\n", "dress\nunits: inch\n", "job.yaml:2:8: units: 'inch' is not cm or in"},
      {"dress\n",
       "dress\ndraft: {neckline depth: twelve}\n",
       "job.yaml:2:25: draft.neckline depth: 'twelve' is not a length"},
      {"dress\n",
       "dress\ndraft: {armhole girth: 12 cm}\n",
       "job.yaml:2:9: draft.armhole girth: there is no such draft value"},
      {"dress\n",
       "dress\nwhishes: {}\n",
       "job.yaml:2:1: whishes: is no known key (did you mean 'wishes'?)"},
      {"dress\n", "dress\njob: again\n", "job.yaml:2:1: job: is given a second time"},
      {"cloth: choir bolt",
       "cloth: {cloth: x, width: 9 m}",
       "job.yaml:3:26: cloth.width: 900 cm is outside 20-400 cm"},
      {"cloth: choir bolt",
       "cloth: {cloth: x, nap: maybe}",
       "job.yaml:3:24: cloth.nap: 'maybe' is not yes, no, true or false"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.by);
    const auto lines = complaints_of(replaced(kJob, slip.what, slip.by), kBody);
    for (const std::string& line : lines) UNSCOPED_INFO(line);
    REQUIRE_FALSE(lines.empty());
    CHECK_THAT(lines[0], Catch::StartsWith(slip.line));
  }
}

TEST_CASE("all mistakes are told at once, file by file and line by line") {
  const std::string job = "job: x\nbody: body.yaml\ncloth: nylon rope\nstyle: toga\nunits: ells\n";
  const std::string body = replaced(replaced(kBody, "bust girth: 95 cm", "bust girth: 9.5 cm"),
                                    "hip girth: 102 cm",
                                    "hip grith: 102 cm");
  const auto lines = complaints_of(job, body);
  for (const std::string& line : lines) UNSCOPED_INFO(line);
  REQUIRE(lines.size() == 5);
  // The body is read first, but within each file the lines are in order.
  CHECK_THAT(lines[0], Catch::StartsWith("body.yaml:6:15: measures.bust girth: 9.5 cm is outside"));
  CHECK_THAT(lines[1], Catch::StartsWith("body.yaml:8:3: measures.hip grith"));
  CHECK_THAT(lines[2], Catch::StartsWith("job.yaml:3:8: cloth"));
  CHECK_THAT(lines[3], Catch::StartsWith("job.yaml:4:8: style"));
  CHECK_THAT(lines[4], Catch::StartsWith("job.yaml:5:8: units"));
}

TEST_CASE("a body written into its job is complained of by its path there") {
  const std::string job = replaced(
      kJob, "body: body.yaml", "body:\n  build: woman\n  measures:\n    waist girth: 760 cm");
  const auto lines = complaints_of(job, kBody);
  for (const std::string& line : lines) UNSCOPED_INFO(line);
  REQUIRE(lines.size() == 2);
  CHECK_THAT(lines[0], Catch::StartsWith("job.yaml:3:3: the key 'waist level' is missing"));
  CHECK_THAT(lines[1],
             Catch::StartsWith("job.yaml:5:18: body.measures.waist girth: 760 cm is outside"));
}

TEST_CASE("mistakes on the command line are told by their option") {
  const auto line_of = [](const Overrides& overrides) {
    return only(complaints_of(kJob, kBody, overrides));
  };
  CHECK(line_of({.wishes = {"neckline depht 20 cm"}}) ==
        "--wish: neckline depht: there is no draft value or measure of this name (did you mean "
        "'neckline depth'?)");
  CHECK_THAT(line_of({.wishes = {"neckline depth 20"}}),
             Catch::StartsWith("--wish: neckline depth: 20 has no unit"));
  CHECK_THAT(line_of({.wishes = {"neckline depth"}}),
             Catch::StartsWith("--wish: neckline depth: is empty"));
  CHECK_THAT(line_of({.wishes = {""}}), Catch::StartsWith("--wish: "));
  CHECK_THAT(line_of({.measures = {"bust grith 94 cm"}}),
             Catch::Contains("did you mean 'bust girth'?"));
  CHECK_THAT(line_of({.measures = {"bust girth 940 cm"}}),
             Catch::StartsWith("--body: bust girth: 940 cm is outside"));
  CHECK_THAT(line_of({.switches = {"side dart sown"}}),
             Catch::StartsWith("--switch: side dart: 'sown' is not none or sewn"));
  CHECK_THAT(line_of({.switches = {"sidd dart sewn"}}),
             Catch::Contains("did you mean 'side dart'?"));
  CHECK_THAT(line_of({.style = "toga"}),
             Catch::StartsWith("--style: there is no 'toga' among the styles"));
  CHECK_THAT(line_of({.cloth = "nowhere/rope.yaml"}),
             Catch::StartsWith("--cloth: nowhere/rope.yaml: there is no such file"));
}

// The later would count alone, and nobody would see that the earlier is dropped.
TEST_CASE("a value that one command line gives twice is refused, with both") {
  const auto line_of = [](const Overrides& overrides) {
    return only(complaints_of(kJob, kBody, overrides));
  };
  CHECK(line_of({.wishes = {"neckline depth 12 cm", "neckline.depth at most 14 cm"}}) ==
        "--wish: neckline depth: is given twice: 'neckline depth 12 cm' and 'neckline.depth at "
        "most 14 cm'");
  CHECK_THAT(line_of({.measures = {"bust girth 94 cm", "bust_girth: 96 cm"}}),
             Catch::StartsWith("--body: bust girth: is given twice"));
  CHECK_THAT(line_of({.switches = {"side dart sewn", "side dart none"}}),
             Catch::StartsWith("--switch: side dart: is given twice"));
  CHECK_THAT(line_of({.limits = {"neckline depth at most 9 cm", "neckline depth 2 to 8 cm"}}),
             Catch::StartsWith("--limit: neckline depth at most: is given twice"));
  CHECK_THAT(line_of({.limits = {"strap width at least 3 cm", "strap width at least 4 cm"}}),
             Catch::StartsWith("--limit: strap width at least: is given twice"));
  // One side each is one limit; different values have nothing to do with each other.
  CHECK(complaints_of(kJob,
                      kBody,
                      {.wishes = {"neckline depth 12 cm", "strap width 5 cm"},
                       .limits = {"neckline depth at least 2 cm", "neckline depth at most 14 cm"}})
            .empty());
}

TEST_CASE("each slip in a rules file is told with its place") {
  const std::string good =
      "group: armhole\n"
      "rules:\n"
      "  - rule: armhole clears the arm\n"
      "    range: armhole.girth >= body.armscye_girth + 2.5 cm\n"
      "    strength: should\n"
      "    because: it cuts in\n"
      "    source: common practice\n";
  const auto lines_of = [](const std::string& text) {
    Complaints complaints;
    const Source source{"r.yaml", complaints};
    std::vector<Rule> rules;
    if (const auto map = parse_yaml(text, source)) read_rules(*map, source, rules);
    std::vector<std::string> lines;
    for (const Complaint& c : complaints.in_order()) lines.push_back(to_string(c));
    CHECK(rules.size() + lines.size() > 0);
    return lines;
  };
  REQUIRE(lines_of(good).empty());
  const Slip slips[] = {
      {"armhole.girth >=", "armhole.grith >=", "r.yaml:4:12: rules[1].range: "},
      {"+ 2.5 cm", "+ 2.5 deg", "r.yaml:4:"},
      {"range: armhole", "range: 'armhole", "r.yaml:"},
      {"strength: should",
       "strength: shall",
       "r.yaml:5:15: rules[1].strength: 'shall' is not must, should, wish or habit"},
      {"    strength: should\n", "", "r.yaml:3:5: rules[1]: the key 'strength' is missing"},
      {"    because: it cuts in\n", "", "r.yaml:3:5: rules[1]: the key 'because' is missing"},
      {"    source: common practice\n", "", "r.yaml:3:5: rules[1]: the key 'source' is missing"},
      {"source:",
       "when: {lining: lind}\n    source:",
       "r.yaml:7:20: rules[1].when.lining: 'lind' is not lined or unlined"},
      {"source:",
       "tolerance: 3 deg\n    source:",
       "r.yaml:7:16: rules[1].tolerance: '3 deg' is an angle"},
      {"source:",
       "tolerance: -3 cm\n    source:",
       "r.yaml:7:16: rules[1].tolerance: has to be above 0"},
      {"source:",
       "shape: round\n    source:",
       "r.yaml:7:12: rules[1].shape: 'round' is not absolute or squared"},
      {"source:",
       "sauce: x\n    source:",
       "r.yaml:7:5: rules[1].sauce: is no known key (did you mean 'source'?)"},
      {"rules:\n", "rules: none\nx:\n", "r.yaml:2:8: rules: is text; a list is wanted"},
      {"group: armhole\n", "", "r.yaml:1:1: the key 'group' is missing"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.by);
    const auto lines = lines_of(replaced(good, slip.what, slip.by));
    for (const std::string& line : lines) UNSCOPED_INFO(line);
    REQUIRE_FALSE(lines.empty());
    CHECK_THAT(lines[0], Catch::StartsWith(slip.line));
  }
  const std::string twice = good + good.substr(good.find("  - rule"));
  CHECK_THAT(only(lines_of(twice)),
             Catch::StartsWith("r.yaml:8:5: rules[2]: there is a rule of this name already"));
}

TEST_CASE("a table of values has to be complete and to name body and cloth alone") {
  Complaints complaints;
  const Source source{"v.yaml", complaints};
  const auto map = parse_yaml(
      "values:\n  neckline depth: {habit: strap.width, least: 1 cm, most: 2 deg, scale: 0 cm}\n",
      source);
  REQUIRE(map);
  std::array<ValueDefault, kValueKeys> values;
  read_values(*map, source, values);
  std::vector<std::string> lines;
  for (const Complaint& c : complaints.in_order()) lines.push_back(to_string(c));
  // What is missing is told at the line of the table, which comes first.
  REQUIRE(lines.size() == kValueKeys - 1 + 3);
  CHECK(lines[0] == "v.yaml:2:3: values: the key 'neckline back depth' is missing");
  const auto wrong = lines.end() - 3;
  CHECK_THAT(
      wrong[0],
      Catch::StartsWith(
          "v.yaml:2:27: values.neckline depth.habit: 'strap.width' may name body and cloth alone"));
  CHECK_THAT(
      wrong[1],
      Catch::StartsWith(
          "v.yaml:2:59: values.neckline depth.most: '2 deg' is an angle; a length is wanted"));
  CHECK_THAT(wrong[2],
             Catch::StartsWith("v.yaml:2:73: values.neckline depth.scale: has to be above 0"));
}
