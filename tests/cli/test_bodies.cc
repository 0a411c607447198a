// Many bodies out of one table, or a folder. Oracles: the reader of single body files, which goes
// another way; definitions of the units (an inch is 2.54 cm); and complaints in this program's own
// words, whose places can be counted in the text beside them.

#include "cli/read/bodies.h"
#include "cli/read/data_folder.h"
#include "cli/write/quantity.h"
#include "scratch.h"
#include "tests/catch.h"

#include <cmath>
#include <filesystem>

#include <fmt/format.h>

using namespace easewright;
using tests::Scratch;

namespace {

struct Read {
  std::vector<BodyRow> rows;
  std::vector<std::string> complaints;  ///< that refuse the whole
  std::string left_out;
};

std::string without(std::string line, const std::string& folder) {
  for (size_t at = line.find(folder); at != std::string::npos; at = line.find(folder))
    line.erase(at, folder.size());
  return line;
}

Read read(std::string_view csv, const std::vector<std::string>& same = {}) {
  const Scratch scratch;
  Complaints complaints;
  const auto bodies = open_bodies(scratch.write("b.csv", csv), same, complaints);
  Read result;
  for (const Complaint& c : complaints.in_order())
    result.complaints.push_back(without(to_string(c), scratch.path("")));
  CHECK((bodies != nullptr) == complaints.empty());
  if (!bodies) return result;
  result.left_out = bodies->left_out();
  BodyRow row;
  while (bodies->next(row)) {
    for (Complaint& c : row.wrong) c.file = without(c.file, scratch.path(""));
    result.rows.push_back(row);
  }
  CHECK(result.rows.size() == bodies->count());
  return result;
}

/// The one row's one complaint.
std::string only_wrong(const Read& r) {
  REQUIRE(r.rows.size() == 1);
  for (const Complaint& c : r.rows[0].wrong) UNSCOPED_INFO(to_string(c));
  REQUIRE(r.rows[0].wrong.size() == 1);
  return to_string(r.rows[0].wrong[0]);
}

std::string only(const std::vector<std::string>& lines) {
  for (const std::string& line : lines) UNSCOPED_INFO(line);
  REQUIRE(lines.size() == 1);
  return lines[0];
}

double value(const BodyRow& row, BodyKey key) {
  REQUIRE(row.body[key]);
  return row.body[key]->value;
}

}  // namespace

TEST_CASE("a table of the choir reads as its body files do") {
  const std::string folder = std::string(EASEWRIGHT_SOURCE_DIR) + "/data/choir/bodies";
  Complaints complaints;
  const auto files = open_bodies(folder, {}, complaints);
  REQUIRE(files);
  std::string csv = "label,build,waist level,shoulder slope read from";
  for (int i = 0; i < kBodyKeys; ++i) {
    const BodyMeasureInfo& measure = info(static_cast<BodyKey>(i));
    csv += fmt::format(",{} ({})", spoken(measure.id), unit_word(measure.dimension, {}));
  }
  csv += "\n";
  std::vector<Body> wanted;
  BodyRow row;
  while (files->next(row)) {
    REQUIRE(row.wrong.empty());
    if (!row.body.evidence.empty()) continue;  // a garment as the tape is for a file alone
    wanted.push_back(row.body);
    const char* const slopes[] = {"bone", "silhouette", "garment"};
    const char* const builds[] = {"woman", "man", "child"};
    csv += fmt::format("{},{},{},{}",
                       row.body.label,
                       builds[static_cast<int>(row.body.build)],
                       to_string(row.body.waist_level),
                       slopes[static_cast<int>(row.body.slope_reading)]);
    for (int i = 0; i < kBodyKeys; ++i) {
      const auto key = static_cast<BodyKey>(i);
      csv += ",";
      if (!row.body[key]) continue;
      const double factor = info(key).dimension == kAngle ? 180 / kPi : 1;
      csv += fmt::format("{:.9g}", row.body[key]->value * factor);
      if (row.body[key]->sd != info(key).default_sd)
        csv += fmt::format(
            " {0} +- {1:.9g} {0}", unit_word(info(key).dimension, {}), row.body[key]->sd * factor);
    }
    csv += "\n";
  }
  REQUIRE(wanted.size() >= 8);
  const Read table = read(csv);
  REQUIRE(table.rows.size() == wanted.size());
  for (size_t n = 0; n < wanted.size(); ++n) {
    const Body& body = table.rows[n].body;
    INFO(wanted[n].label);
    CHECK(table.rows[n].wrong.empty());
    CHECK(body.label == wanted[n].label);
    CHECK(body.build == wanted[n].build);
    CHECK(body.waist_level == wanted[n].waist_level);
    CHECK(body.slope_reading == wanted[n].slope_reading);
    for (size_t i = 0; i < kBodyKeys; ++i) {
      REQUIRE(body.given[i].has_value() == wanted[n].given[i].has_value());
      if (!body.given[i]) continue;
      CHECK(body.given[i]->value == Approx(wanted[n].given[i]->value).epsilon(1e-8));
      CHECK(body.given[i]->sd == Approx(wanted[n].given[i]->sd).epsilon(1e-8));
    }
  }
}

TEST_CASE("units stand in the column, in the cell, or once for the file") {
  const char* const tables[] = {
      "build,bust girth (cm),stature (cm),age\nwoman,95.25,167.64,34\n",
      "build,bust girth [mm],stature (in),age (years)\nwoman,952.5,66,34\n",
      "build,Bust_Girth in,stature m,age\nwoman,37 1/2,1.6764,34\n",
      "build,bust girth (in),stature (cm),age\nwoman,37.5,5 ft 6 in,34\n",
      "# lengths: in\nbuild,bust girth,stature,age\nwoman,37.5,66,34\n",
      "# lengths: cm\nbuild,bust girth (in),stature,age\nwoman,37.5,167.64,34\n",
      "age;build;stature (cm);bust girth (cm)\n34;woman;167,64;95,25\n",
  };
  for (const char* table : tables) {
    INFO(table);
    const Read r = read(table);
    REQUIRE(r.rows.size() == 1);
    for (const Complaint& c : r.rows[0].wrong) UNSCOPED_INFO(to_string(c));
    CHECK(r.rows[0].wrong.empty());
    CHECK(value(r.rows[0], BodyKey::bust_girth) == Approx(95.25).epsilon(1e-12));
    CHECK(value(r.rows[0], BodyKey::stature) == Approx(167.64).epsilon(1e-12));
    CHECK(value(r.rows[0], BodyKey::age) == 34);
  }
}

TEST_CASE("what all rows share may stand above the table or on the command line") {
  const std::string table = "bust girth,waist girth,shoulder slope\n95,76,22\n92,74,20\n";
  const std::string above =
      "# the choir, taken in May\n# lengths: cm\n# waist level: navel\n# build: woman\n"
      "# shoulder slope read from: bone\n";
  const std::vector<std::string> said = {
      "lengths cm", "waist level: navel", "build woman", "shoulder slope read from bone"};
  for (const Read& r : {read(above + table), read(table, said)}) {
    REQUIRE(r.rows.size() == 2);
    for (const BodyRow& row : r.rows) {
      CHECK(row.wrong.empty());
      CHECK(row.body.waist_level == WaistLevel::navel);
      CHECK(row.body.slope_reading == SlopeReading::bone);
    }
    CHECK(value(r.rows[1], BodyKey::shoulder_slope) == Approx(20 * kPi / 180));
    CHECK(r.rows[1].body.label == "row 2");
  }
  // A column says more than what all share; the command line more than the file.
  const Read own = read("# lengths: mm\nbuild,waist level,waist girth\nman,iso,84\nwoman,,76\n",
                        {"lengths cm", "waist level natural"});
  REQUIRE(own.rows.size() == 2);
  CHECK(own.rows[0].body.waist_level == WaistLevel::iso);
  CHECK(own.rows[0].body.build == Build::man);
  CHECK(own.rows[1].body.waist_level == WaistLevel::natural);
  CHECK(value(own.rows[0], BodyKey::waist_girth) == 84);
}

TEST_CASE("a sex says the build of the grown, and a child by its age") {
  const Read r = read("sex,stature (cm),age\nF,165,30\nm,178,30\nF,120,7\nM,150,\n");
  REQUIRE(r.rows.size() == 4);
  CHECK(r.rows[0].body.build == Build::woman);
  CHECK(r.rows[1].body.build == Build::man);
  CHECK(r.rows[2].body.build == Build::child);
  CHECK(r.rows[3].body.build == Build::man);
  // What is said of the build counts more.
  CHECK(read("sex,build,stature (cm),age\nF,woman,165,9\n").rows[0].body.build == Build::woman);
  CHECK(read("sex,stature (cm)\nF,165\n", {"build child"}).rows[0].body.build == Build::child);
}

TEST_CASE("columns that are no body measure are named once and left") {
  const Read r =
      read("id,build,bust girth (cm),elbow girth (cm),remarks\n7,woman,95,16,\"a, b\"\n");
  CHECK(r.left_out == "left out, for no body measure has that name: elbow girth (cm), remarks");
  REQUIRE(r.rows.size() == 1);
  CHECK(r.rows[0].wrong.empty());
  CHECK(r.rows[0].body.label == "7");
  // What looks mistyped comes first; 'wrist' was no slip for a waist that is there.
  const Read slip =
      read("build,wrist girth,remarks,hip grith (cm),waist girth (cm)\nwoman,16,,98,76\n",
           {"waist level iso"});
  CHECK(slip.left_out ==
        "left out, for no body measure has that name: hip grith (cm) (did you mean 'hip girth'?), "
        "wrist girth, remarks");
}

TEST_CASE("a row that can't be used is told by line and column, and the others are read") {
  struct Slip {
    std::string row, line;
  };
  const std::string head = "label,build,waist level,bust girth (cm),waist girth (cm)\n";
  const Slip slips[] = {
      {"a,woman,iso,950,76", "b.csv:2:13: bust girth: 950 cm is outside 45-180 cm"},
      {"a,woman,iso,x,76", "b.csv:2:13: bust girth: 'x' is not a length (write it like '12.5 cm')"},
      {"a,woman,iso,-95,76", "b.csv:2:13: bust girth: "},
      {"a,woman,iso,nan,76", "b.csv:2:13: bust girth: "},
      {"a,woman,iso,95 deg,76", "b.csv:2:13: bust girth: '95 deg' is an angle; a length is wanted"},
      {"a,woman,iso,95", "b.csv:2:1: has 4 cells; the first row has 5"},
      {"a,woman,iso,95,5,76", "b.csv:2:1: has 6 cells; the first row has 5 (numbers are written"},
      {"a,,iso,95,76", "b.csv:2:1: build: is empty: woman, man or child is wanted"},
      {"a,alto,iso,95,76", "b.csv:2:3: build: 'alto' is none of woman, man and child"},
      {"a,woman,,95,76", "b.csv:2:1: waist level: is empty: natural, iso or navel is wanted"},
      {"a,woman,hip,95,76", "b.csv:2:9: waist level: 'hip' is none of natural, iso and navel"},
      {"\"a\"b,woman,iso,95,76", "b.csv:2:4: a cell goes on after its closing quote"},
      {"\xE9,woman,iso,95,76", "b.csv:2:1: label: is no UTF-8 text"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.row);
    const Read r = read(head + slip.row + "\nb,woman,iso,95,76\n");
    REQUIRE(r.rows.size() == 2);
    CHECK(r.rows[1].wrong.empty());
    CHECK(r.rows[1].body.label == "b");
    const Read one = read(head + slip.row + "\n");
    CHECK_THAT(only_wrong(one), Catch::StartsWith(slip.line));
  }
}

TEST_CASE("a table that can't be read is refused whole, every reason at once") {
  struct Slip {
    std::string csv;
    std::string line;
  };
  const Slip slips[] = {
      {"", "b.csv: is empty"},
      {"# lengths: cm\n", "b.csv: is empty"},
      {"build,bust girth (cm)\n", "b.csv: has no rows under its first"},
      {"build,bust girth\nwoman,95\n",
       "b.csv:1:7: bust girth: names no unit: write 'bust girth (cm)'"},
      {"build,bust girth (cups)\nwoman,95\n", "b.csv:1:7: bust girth: 'cups' is no unit"},
      {"build,bust girth (deg)\nwoman,95\n", "b.csv:1:7: bust girth: "},
      {"bust girth (cm)\n95\n", "b.csv:1:1: a column 'build' is missing: woman, man or child;"},
      {"build,waist girth (cm)\nwoman,76\n", "b.csv:1:1: a column 'waist level' is missing"},
      {"build,shoulder slope\nwoman,22\n", "b.csv:1:1: a column 'shoulder slope read from' is"},
      {"build,bust girth (cm),bust_girth (in)\nwoman,95,37\n",
       "b.csv:1:23: bust girth: is column 2 already"},
      {"build,bsut girth (cm)\nwoman,95\n", "b.csv:1:1: no column is a body measure"},
      {"# lengths: ell\nbuild,bust girth (cm)\nwoman,95\n", "b.csv: lengths: 'ell' is none of"},
      {"build,bust girth (cm)\nwoman,\"95\n", "b.csv:2:7: this quote is never closed"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.csv);
    const Read r = read(slip.csv);
    CHECK(r.rows.empty());
    CHECK_THAT(only(r.complaints), Catch::StartsWith(slip.line));
  }
  CHECK(read("bust girth,waist girth\n95,76\n").complaints.size() == 3);
  CHECK_THAT(only(read("build,bust girth (cm)\nwoman,95\n", {"hips wide"}).complaints),
             Catch::StartsWith("--same: hips: can't be told of all rows"));
}

TEST_CASE("a table with any byte changed gives bodies that can be, or complaints") {
  // Property of every reader: a value or a listed error, nothing else. The seed is fixed.
  const std::string table =
      "# lengths: cm\n# waist level: natural\nlabel,build,bust girth (cm),waist girth in,shoulder "
      "slope,shoulder slope read from,remarks\r\n\"alto \"\"1\"\"\",woman,95 cm +- 1 cm,30 "
      "1/2,22,bone,\"a,b\"\r\nalto 2,woman,92.5,29,,,\n";
  const std::string bytes =
      "\",;#\n\r\t 0.-+/9\xC3\xFF\x01"
      "aZ[](%";
  std::uint64_t state = 20260601;
  const auto random = [&state](size_t below) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<size_t>(state >> 33) % below;
  };
  int wrong = 0, right = 0, refused = 0;
  for (int trial = 0; trial < 1200; ++trial) {
    std::string changed = table;
    for (size_t n = 1 + random(3); n-- > 0;) {
      const size_t at = random(changed.size());
      switch (random(3)) {
        case 0:
          changed[at] = bytes[random(bytes.size())];
          break;
        case 1:
          changed.erase(at, 1 + random(4));
          break;
        default:
          changed.insert(at, 1, bytes[random(bytes.size())]);
      }
    }
    INFO(changed);
    const Read r = read(changed);
    refused += !r.complaints.empty();
    for (const BodyRow& row : r.rows) {
      if (!row.wrong.empty()) {
        ++wrong;
        for (const Complaint& c : row.wrong) {
          const std::string line = to_string(c);
          if (line.find_first_of("\n\r") != std::string::npos) FAIL_CHECK(line);
        }
        continue;
      }
      ++right;
      for (int i = 0; i < kBodyKeys; ++i) {
        const auto key = static_cast<BodyKey>(i);
        if (!row.body[key]) continue;
        const double v = row.body[key]->value;
        if (!(v >= info(key).least && v <= info(key).most && row.body[key]->sd >= 0))
          FAIL_CHECK(info(key).id << " " << v);
      }
    }
  }
  CHECK(right > 100);
  CHECK(wrong > 100);
  CHECK(refused > 100);
}

TEST_CASE("a folder gives its body files in order, a broken one among them") {
  const Scratch scratch;
  scratch.write("c/b.yaml", "body: alto 9\nbuild: woman\nmeasures: {bust girth: 95 cm}\n");
  scratch.write("c/a.yaml", "body: alto 8\nbuild: woman\nmeasures: {bust girth: 95}\n");
  scratch.write("c/notes.txt", "nothing\n");
  Complaints complaints;
  const auto bodies = open_bodies(scratch.path("c"), {}, complaints);
  REQUIRE(bodies);
  CHECK(bodies->count() == 2);
  BodyRow row;
  REQUIRE(bodies->next(row));
  REQUIRE(row.wrong.size() == 1);
  CHECK_THAT(to_string(row.wrong[0]), Catch::Contains("a.yaml:3") && Catch::Contains("no unit"));
  REQUIRE(bodies->next(row));
  CHECK(row.wrong.empty());
  CHECK(row.body.label == "alto 9");
  CHECK(row.row == 2);
  CHECK_FALSE(bodies->next(row));
  bodies->rewind();
  CHECK(bodies->skip());
  REQUIRE(bodies->next(row));
  CHECK(row.body.label == "alto 9");

  std::filesystem::create_directory(scratch.path("empty"));
  CHECK(open_bodies(scratch.path("empty"), {}, complaints) == nullptr);
  CHECK(open_bodies(scratch.path("c"), {"build woman"}, complaints) == nullptr);
}
