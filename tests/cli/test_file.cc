// What is written, whole or not at all: files, several of them together, and standard output.

#include "scratch.h"
#include "tests/catch.h"

#include <filesystem>

#include <nlohmann/json.hpp>

using namespace easewright::tests;

namespace {

const std::string kJob = "data/choir/jobs/alto-2.yaml";

/// A small map, with these options.
std::vector<std::string> map_with(const std::vector<std::string>& options) {
  std::vector<std::string> words = {
      "map", kJob, "neckline depth", "strap width", "--columns", "3", "--rows", "2"};
  words.insert(words.end(), options.begin(), options.end());
  return words;
}

void check_refused(const Ran& ran, const std::string& says) {
  INFO(ran.err);
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK(lines_of(ran.err).size() == 1);
  CHECK_THAT(ran.err, Catch::Contains(says));
}

}  // namespace

// Written one after the other, the rows were there although the exit code said that nothing is.
TEST_CASE("where one of several files can't be written, none is") {
  const Scratch scratch;
  scratch.write("old.json", "old");
  check_refused(run_program(map_with({"--csv",
                                      scratch.path("o.csv"),
                                      "--json",
                                      scratch.path("old.json"),
                                      "--svg",
                                      scratch.path("no/such/o.svg")})),
                "o.svg: can't be written");
  CHECK(scratch.files() == std::vector<std::string>{"old.json"});
  CHECK(bytes_of(scratch.path("old.json")) == "old");
}

TEST_CASE("three files at once, each as if it were alone") {
  const Scratch together, alone;
  const auto options = [](const Scratch& s) {
    return std::vector<std::string>{
        "--csv", s.path("o.csv"), "--json", s.path("o.json"), "--svg", s.path("o.svg")};
  };
  const auto all = options(together);
  CHECK(run_program(map_with(all)).exit_code == 0);
  const auto each = options(alone);
  for (size_t i = 0; i < each.size(); i += 2)
    CHECK(run_program(map_with({each[i], each[i + 1]})).exit_code == 0);
  const std::vector<std::string> names = {"o.csv", "o.json", "o.svg"};
  CHECK(together.files() == names);
  for (const std::string& name : names)
    CHECK(bytes_of(together.path(name)) == bytes_of(alone.path(name)));
}

TEST_CASE("two outputs into one file are refused, however it is spelt") {
  const Scratch scratch;
  const std::string file = scratch.path("o");
  check_refused(run_program(map_with({"--csv", file, "--svg", file})), "--csv and --svg");
  check_refused(run_program(map_with({"--json", file, "--csv", scratch.path("./a/../o")})),
                "--json and --csv");
  check_refused(run_program(map_with({"--csv", "-", "--svg", "-"})),
                "--csv and --svg would both be written to standard output");
  scratch.write("there", "");
  std::filesystem::create_symlink(scratch.path("there"), scratch.path("link"));
  check_refused(
      run_program(map_with({"--csv", scratch.path("there"), "--svg", scratch.path("link")})),
      "--csv and --svg");
  CHECK(bytes_of(scratch.path("there")).empty());
}

TEST_CASE("no output goes over the job that it is computed from") {
  const Scratch scratch;
  const std::string bytes = bytes_of(choir_job("alto-2"));
  const std::string job = scratch.write("job.yaml", bytes);
  check_refused(run_program({"fit", job, "--json", job}), "over the job");
  CHECK(bytes_of(job) == bytes);
}

TEST_CASE("'-' is standard output for each kind of file, in place of the report") {
  const Scratch scratch;
  const std::pair<const char*, const char*> rows[] = {
      {"--csv", "neckline depth"}, {"--svg", "<svg"}, {"--json", "{"}};
  for (const auto& [option, begins] : rows) {
    INFO(option);
    const Ran ran = run_program(map_with({option, "-"}));
    CHECK(ran.exit_code == 0);
    CHECK(ran.err.empty());
    REQUIRE(run_program(map_with({option, scratch.path(option)})).exit_code == 0);
    CHECK(ran.out == bytes_of(scratch.path(option)));
    CHECK_THAT(ran.out, Catch::Contains(begins));
    CHECK_FALSE(std::filesystem::exists(std::string(EASEWRIGHT_SOURCE_DIR) + "/-"));
  }
  const Ran both = run_program(map_with({"--csv", "-", "--json", scratch.path("too.json")}));
  CHECK(both.out == bytes_of(scratch.path("--csv")));
  CHECK(bytes_of(scratch.path("too.json")) == bytes_of(scratch.path("--json")));
}

TEST_CASE("standard output that can't be written is exit code 2, and leaves no file") {
  const std::vector<std::string> commands[] = {
      {"fit", kJob},
      {"fit", kJob, "--brief"},
      {"fit", kJob, "--json", "-"},
      {"check", "data/examples/sample.yaml"},
      {"reach", kJob, "neckline depth"},
      map_with({}),
      map_with({"--svg", "-"}),
      {"list", "rules"},
      {"--help"},
      {"fit", "--help"},
      {"--version"},
  };
  for (const auto& words : commands) {
    INFO(words.front() << " " << words.back());
    const Ran ran = run_program_into("/dev/full", words);
    CHECK(ran.exit_code == 2);
    CHECK(lines_of(ran.err).size() == 1);
    CHECK_THAT(ran.err, Catch::Contains("standard output"));
    CHECK_THAT(ran.err, Catch::Contains("can't be written"));
  }
  const Scratch scratch;
  CHECK(run_program_into("/dev/full", {"fit", kJob, "--json", scratch.path("o.json")}).exit_code ==
        2);
  CHECK(scratch.files().empty());
}
