// The program over many bodies. Oracles: `fit` of each body alone; a run in one go, byte for byte,
// for one that was stopped, torn or done in parts; and lines that can be counted.

#include "scratch.h"
#include "tests/catch.h"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <thread>

#include <fcntl.h>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace easewright::tests;

namespace {

const std::string kBodies = std::string(EASEWRIGHT_SOURCE_DIR) + "/data/choir/bodies";

/// Invented women between two of the choir's shapes; the third number in a hundred is odd.
std::string some_women(int count) {
  std::string csv =
      "label,build,waist level,shoulder slope read from,stature (cm),bust girth (cm),underbust "
      "girth (cm),waist girth (cm),hip girth (cm),back waist length (cm),shoulder slope,age\n";
  for (int i = 0; i < count; ++i) {
    const double t = (i * 37 % 101) / 100.0, u = (i * 53 % 89) / 88.0;
    csv += fmt::format(
        "woman {},woman,natural,silhouette,{:.1f},{:.1f},{:.1f},{:.1f},{:.1f},{:.1f},"
        "{:.1f},{}\n",
        i + 1,
        156 + 22 * u,
        82 + 34 * t,
        70 + 28 * t,
        64 + 34 * t,
        90 + 32 * t,
        36 + 4 * u,
        18 + 9 * (1 - u),
        20 + i % 40);
  }
  return csv;
}

std::string job() { return choir_job("alto-2"); }

/// The rows as cells by column; good enough where no cell holds a comma.
std::vector<std::string> column(const std::string& csv, const std::string& name) {
  std::vector<std::string> cells;
  size_t at = std::string::npos;
  for (const std::string& line : lines_of(csv)) {
    std::vector<std::string> row(1);
    bool quoted = false;
    for (const char c : line) {
      if (c == '"') {
        quoted = !quoted;
      } else if (c == ',' && !quoted) {
        row.emplace_back();
      } else {
        row.back() += c;
      }
    }
    if (at == std::string::npos) {
      at = static_cast<size_t>(std::find(row.begin(), row.end(), name) - row.begin());
      REQUIRE(at < row.size());
    } else {
      cells.push_back(row.at(at));
    }
  }
  return cells;
}

}  // namespace

TEST_CASE("a group's rows are what fit says of each body alone") {
  const Scratch scratch;
  // A job that asks more of a slit than many bodies bear.
  const Ran group = run_program(
      {"group", choir_job("soprano-2"), kBodies, "--out", scratch.path("out"), "--brief"});
  INFO(group.err);
  CHECK(group.exit_code == 1);
  const std::string csv = bytes_of(scratch.path("out/rows.csv"));
  const auto labels = column(csv, "body"), verdicts = column(csv, "verdict");
  REQUIRE(labels.size() == 10);
  int compared = 0;
  size_t told = 0;
  for (const char* name : {"alto-1", "soprano-2", "mezzo-1", "bass-1"}) {
    const std::string file = scratch.write(
        std::string(name) + ".yaml",
        fmt::format("job: j\nbody: {}/{}.yaml\ncloth: choir bolt\nstyle: concert dress\n"
                    "wishes: {{slit opening above knee: {{is: 12 cm, strength: must}}}}\n",
                    kBodies,
                    name));
    const Ran fit = run_program({"fit", file, "--no-why", "--json", "-"});
    REQUIRE(fit.exit_code <= 1);
    const auto json = nlohmann::json::parse(fit.out);
    const auto& one = json["jobs"][0];
    const std::string label = one["body"]["label"];
    const auto at =
        static_cast<size_t>(std::find(labels.begin(), labels.end(), label) - labels.begin());
    REQUIRE(at < labels.size());
    INFO(label);
    for (const char* part : {"draft", "measures"}) {
      for (const auto& [id, entry] : one[part].items()) {
        const std::string unit = entry["unit"];
        const std::string head = unit == "ratio" ? id : id + " (" + unit + ")";
        CHECK_THAT(std::stod(column(csv, head)[at]),
                   Catch::WithinAbs(entry["value"].get<double>(), 6e-4));
        ++compared;
      }
    }
    std::string misses;
    size_t count = 0;
    for (const auto& f : one["findings"]) {
      if (f["standing"] != "missed" || f["strength"] == "habit") continue;
      CHECK_THAT(column(csv, "misses")[at], Catch::Contains(f["name"].get<std::string>()));
      ++count;
    }
    CHECK(static_cast<int>(count) == std::stoi(column(csv, "missed musts")[at]) +
                                         std::stoi(column(csv, "missed shoulds")[at]) +
                                         std::stoi(column(csv, "missed wishes")[at]));
    told += count;
    CHECK((verdicts[at] == "fits") == one["holds"]["wishes"].get<bool>());
  }
  CHECK(compared > 300);
  CHECK(told >= 2);
}

TEST_CASE("parts of a group join to the bytes of the whole, whatever was done before") {
  const Scratch scratch;
  const std::string bodies = scratch.write("w.csv", some_women(41));
  const auto run = [&](const std::string& out, std::vector<std::string> more) {
    std::vector<std::string> words = {"group", job(), bodies, "--out", scratch.path(out)};
    words.insert(words.end(), more.begin(), more.end());
    const Ran ran = run_program(words);
    INFO(ran.err);
    CHECK(ran.exit_code <= 1);
    return ran;
  };
  const Ran whole = run("whole", {});
  const std::string wanted = bytes_of(scratch.path("whole/rows.csv"));
  REQUIRE(lines_of(wanted).size() == 42);

  SECTION("in parts, out of order") {
    run("parts", {"--rows", "30-50"});
    run("parts", {"--rows", "1-12"});
    run("parts", {"--rows", "13-20", "--threads", "1"});
    CHECK(std::filesystem::exists(scratch.path("parts/rows-30-41.csv")));
    CHECK_FALSE(std::filesystem::exists(scratch.path("parts/rows.csv")));
    const Ran joined = run("parts", {});  // rows 21 to 29 are drafted now
    CHECK(bytes_of(scratch.path("parts/rows.csv")) == wanted);
    CHECK(joined.out == whole.out);
    // The parts are the whole's lines.
    const auto part = lines_of(bytes_of(scratch.path("parts/rows-13-20.csv")));
    const auto lines = lines_of(wanted);
    REQUIRE(part.size() == 9);
    CHECK(std::equal(part.begin() + 1, part.end(), lines.begin() + 13));
  }
  SECTION("torn anywhere") {
    run("torn", {});
    for (const size_t keep : {size_t{0},
                              size_t{40},
                              wanted.find('\n') + 1,
                              wanted.size() / 3,
                              wanted.size() - 1,
                              wanted.size()}) {
      std::filesystem::resize_file(scratch.path("torn/rows.csv"), keep);
      const Ran again = run("torn", {});
      CHECK(bytes_of(scratch.path("torn/rows.csv")) == wanted);
      CHECK(again.out == whole.out);
    }
  }
  SECTION("on one thread and on several") {
    run("one", {"--threads", "1"});
    run("four", {"--threads", "4"});
    CHECK(bytes_of(scratch.path("one/rows.csv")) == wanted);
    CHECK(bytes_of(scratch.path("four/rows.csv")) == wanted);
  }
  SECTION("without a folder the same is said") {
    const Ran here = run_program({"group", job(), bodies});
    CHECK(here.out == whole.out);
    CHECK(here.exit_code == whole.exit_code);
  }
}

TEST_CASE("a group that is interrupted keeps whole rows and goes on") {
  const Scratch scratch;
  const std::string bodies = scratch.write("w.csv", some_women(600));
  const std::string out = scratch.path("out"), rows = out + "/rows.csv";
  const std::vector<std::string> words = {
      EASEWRIGHT_PROGRAM, "group", job(), bodies, "--out", out, "--no-why", "--threads", "1"};
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    std::vector<char*> argv;
    for (const std::string& word : words) argv.push_back(const_cast<char*>(word.c_str()));
    argv.push_back(nullptr);
    const int silent = ::open("/dev/null", O_WRONLY);
    ::dup2(silent, STDERR_FILENO);
    ::execv(argv[0], argv.data());
    ::_exit(127);
  }
  const auto size = [&rows] {
    std::error_code error;
    const auto bytes = std::filesystem::file_size(rows, error);
    return error ? std::uintmax_t{0} : bytes;
  };
  for (int i = 0; i < 6000 && size() < 12000; ++i)
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  ::kill(child, SIGINT);
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  // A shell sees that it was the signal.
  CHECK(WIFSIGNALED(status));
  CHECK(WTERMSIG(status) == SIGINT);
  const std::string part = bytes_of(rows);
  REQUIRE(lines_of(part).size() > 3);
  REQUIRE(lines_of(part).size() < 601);
  CHECK(part.back() == '\n');
  const Ran again = run_program({"group", job(), bodies, "--out", out, "--no-why"});
  CHECK(again.exit_code <= 1);
  const std::string whole = bytes_of(rows);
  CHECK(whole.starts_with(part));
  run_program({"group", job(), bodies, "--out", scratch.path("once"), "--no-why"});
  CHECK(bytes_of(scratch.path("once/rows.csv")) == whole);
}

TEST_CASE("rows of something else are not gone on with") {
  const Scratch scratch;
  const std::string bodies = scratch.write("w.csv", some_women(4));
  const std::string out = scratch.path("out");
  REQUIRE(run_program({"group", job(), bodies, "--out", out}).exit_code <= 1);
  const std::string before = bytes_of(out + "/rows.csv");
  const auto refused = [&](std::vector<std::string> more, const std::string& what) {
    std::vector<std::string> words = {"group", job(), bodies, "--out", out};
    words.insert(words.end(), more.begin(), more.end());
    const Ran ran = run_program(words);
    CHECK(ran.exit_code == 2);
    REQUIRE(lines_of(ran.err).size() == 1);
    CHECK_THAT(ran.err, Catch::Contains(out + "/rows.csv: was begun with another " + what + ";"));
    CHECK(bytes_of(out + "/rows.csv") == before);
  };
  refused({"--wish", "neckline depth 12 cm"}, "job");
  refused({"--cloth", "cotton lawn"}, "job");
  refused({"--no-why"}, "options");
  scratch.write("w.csv", some_women(5));
  refused({}, "bodies");
  scratch.write("w.csv", some_women(4));
  CHECK(run_program({"group", job(), bodies, "--out", out}).exit_code <= 1);

  SECTION("nor is a file that is not of a group written over") {
    scratch.write("other/rows.csv", "mine\n");
    const Ran ran = run_program({"group", job(), bodies, "--out", scratch.path("other")});
    CHECK(ran.exit_code == 2);
    CHECK_THAT(ran.err, Catch::Contains("not from an earlier run of group"));
    CHECK(bytes_of(scratch.path("other/rows.csv")) == "mine\n");
  }
  SECTION("nor rows that another run is writing") {
    const int held = ::open((out + "/rows.csv").c_str(), O_RDWR);
    REQUIRE(held >= 0);
    REQUIRE(::flock(held, LOCK_EX) == 0);
    const Ran ran = run_program({"group", job(), bodies, "--out", out});
    ::close(held);
    CHECK(ran.exit_code == 2);
    CHECK_THAT(ran.err, Catch::Contains("another run is writing it"));
  }
  SECTION("nor rows that somebody has changed") {
    auto lines = lines_of(before);
    std::swap(lines[1], lines[2]);
    std::string swapped;
    for (const std::string& line : lines) swapped += line + "\n";
    scratch.write("out/rows.csv", swapped);
    const Ran ran = run_program({"group", job(), bodies, "--out", out});
    CHECK(ran.exit_code == 2);
    CHECK_THAT(ran.err, Catch::Contains("row 1 is not in its place"));
  }
}

TEST_CASE("a bad row is told, counted and passed over, now and by a later run") {
  const Scratch scratch;
  std::string csv = some_women(6);
  const auto spoil = [&csv](int line, const std::string& what, const std::string& by) {
    size_t at = 0;
    for (int i = 1; i < line; ++i) at = csv.find('\n', at) + 1;
    at = csv.find(what, at);
    csv.replace(at, what.size(), by);
  };
  spoil(3, ",natural,", ",upstairs,");
  spoil(5, "woman 4,", "woman 4,,");
  const std::string bodies = scratch.write("w.csv", csv);
  const std::string out = scratch.path("out");
  for (int run = 0; run < 2; ++run) {
    const Ran ran = run_program({"group", job(), bodies, "--out", out});
    CHECK(ran.exit_code == 2);
    const auto told = lines_of(ran.err);
    REQUIRE(told.size() == 2);
    CHECK_THAT(told[0], Catch::Contains("w.csv:3:15: waist level: 'upstairs' is none of"));
    CHECK_THAT(told[1], Catch::Contains("w.csv:5:1: has 13 cells; the first row has 12"));
    const auto verdicts = column(bytes_of(out + "/rows.csv"), "verdict");
    REQUIRE(verdicts.size() == 6);
    CHECK(std::count(verdicts.begin(), verdicts.end(), "refused") == 2);
    CHECK(verdicts[1] == "refused");
    CHECK(verdicts[3] == "refused");
    CHECK_THAT(ran.out, Catch::Contains("Left out  2 bodies"));
  }
}

TEST_CASE("bad input to a group is one line, and nothing is written") {
  const Scratch scratch;
  const std::string bodies = scratch.write("w.csv", some_women(3));
  const std::string out = scratch.path("out");
  struct Slip {
    std::vector<std::string> words;
    const char* line;
  };
  const Slip slips[] = {
      {{"group", job(), scratch.path("none.csv"), "--out", out}, "there is no such file"},
      {{"group", scratch.path("none.yaml"), bodies, "--out", out}, "there is no such file"},
      {{"group", job(), bodies, "--out", out, "--rows", "4-9"}, "has 3 bodies; there is no row 4"},
      {{"group", job(), bodies, "--out", out, "--rows", "0-9"}, "a range like 1-500 is wanted"},
      {{"group", job(), bodies, "--out", out, "--rows", "3-1"}, "the first row comes before"},
      {{"group", job(), bodies, "--out", out, "--rows", "x"}, "a range like 1-500 is wanted"},
      {{"group", job(), bodies, "--out", out, "--same", "height cm"}, "--same: height: can't be"},
      {{"group", job(), bodies, "--out", bodies}, "is there and no folder"},
      {{"group", job(), bodies, "--out", "/proc/no"}, "can't be"},
      {{"group", job(), bodies, "--json", bodies}, "would be written over the bodies"},
      {{"group", job(), bodies, "--out", out, "--json", out + "/rows.csv"}, "written over what"},
      {{"group", job()}, "BODIES is required"},
      {{"group", job(), bodies, "--body", "bust girth 90 cm"}, "there is no option '--body'"},
  };
  const auto before = scratch.files();
  for (const Slip& slip : slips) {
    const Ran ran = run_program(slip.words);
    INFO(ran.err);
    CHECK(ran.exit_code == 2);
    CHECK(lines_of(ran.err).size() == 1);
    CHECK_THAT(ran.err, Catch::Contains(slip.line));
    CHECK(ran.out.empty());
    CHECK(scratch.files() == before);
  }
}

TEST_CASE("a job for a group needs no body of its own") {
  const Scratch scratch;
  const std::string bodies = scratch.write("w.csv", some_women(3));
  const std::string bare =
      scratch.write("j.yaml", "job: dress\ncloth: choir bolt\nstyle: concert dress\n");
  const Ran without = run_program({"group", bare, bodies, "--out", scratch.path("a")});
  INFO(without.err);
  CHECK(without.exit_code <= 1);
  run_program({"group", job(), bodies, "--out", scratch.path("b")});
  CHECK(bytes_of(scratch.path("a/rows.csv")) == bytes_of(scratch.path("b/rows.csv")));
  // Alone it does.
  const Ran alone = run_program({"fit", bare});
  CHECK(alone.exit_code == 2);
  CHECK_THAT(alone.err, Catch::Contains("'body' is missing"));
}

TEST_CASE("limits that leave no room on one body refuse that body alone") {
  const Scratch scratch;
  const std::string bodies = scratch.write(
      "w.csv",
      "build,stature (cm),bust girth (cm),hip girth (cm)\nwoman,165,90,96\nwoman,165,112,118\n");
  const Ran ran = run_program({"group",
                               job(),
                               bodies,
                               "--out",
                               scratch.path("out"),
                               "--limit",
                               "strap width 5 cm to 0.05 * body.bust_girth"});
  INFO(ran.err);
  CHECK(ran.exit_code == 2);
  const auto verdicts = column(bytes_of(scratch.path("out/rows.csv")), "verdict");
  REQUIRE(verdicts.size() == 2);
  CHECK(verdicts[0] == "refused");
  CHECK(verdicts[1] != "refused");
  CHECK_THAT(ran.err, Catch::Contains("w.csv:2:1: strap width: at least 5 cm leaves no room"));
}
