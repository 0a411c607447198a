// The program as a user runs it: exit codes, streams, files.

#include "scratch.h"
#include "tests/catch.h"

#include <filesystem>

#include <nlohmann/json.hpp>

using namespace easewright::tests;

namespace {

const std::string kJobs = "data/choir/jobs/";

}  // namespace

TEST_CASE("exit code 0: every must and should holds") {
  const Ran ran = run_program({"fit", kJobs + "alto-2.yaml"});
  CHECK(ran.exit_code == 0);
  CHECK(ran.err.empty());
  CHECK_THAT(ran.out, Catch::Contains("FITS"));
}

TEST_CASE("exit code 1: a must or a should is missed") {
  const Ran ran = run_program({"fit", kJobs + "alto-1.yaml"});
  CHECK(ran.exit_code == 1);
  CHECK(ran.err.empty());
  CHECK_THAT(ran.out, Catch::Contains("front neckline does not gape"));
  CHECK_THAT(ran.out, Catch::Contains("DOES NOT FIT WELL"));
  CHECK(run_program({"check", "data/examples/sample.yaml"}).exit_code == 1);
}

TEST_CASE("exit code 2: bad input, and nothing is written") {
  const Scratch scratch;
  const std::string json = scratch.path("out.json");
  const std::string bad = scratch.write("bad.yaml", "job: x\nbody: 3\n");
  const Ran ran = run_program({"fit", kJobs + "alto-2.yaml", bad, "--json", json});
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK(lines_of(ran.err).size() == 3);
  CHECK(scratch.files() == std::vector<std::string>{"bad.yaml"});
}

TEST_CASE("exit code 2: a body that nobody can have, with its line") {
  const Scratch scratch;
  const std::string job = scratch.write(
      "job.yaml",
      "job: x\nbody:\n  build: woman\n  waist level: natural\n  measures:\n    bust girth: 92 cm\n "
      "   waist girth: 74 cm\n"
      "    hip girth: 98 cm\n    stature: 165 cm\n    waist height: 60 cm\n    knee height: 70 cm\n"
      "cloth: choir bolt\nstyle: concert dress\n");
  const Ran ran = run_program({"fit", job, "--json", scratch.path("out.json")});
  INFO(ran.err);
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::Contains("job.yaml:1"));
  CHECK_THAT(ran.err, Catch::Contains("knee height"));
  CHECK(scratch.files() == std::vector<std::string>{"job.yaml"});
}

TEST_CASE("exit code 2: a mistyped command or option, with what was meant") {
  const std::pair<std::vector<std::string>, const char*> rows[] = {
      {{"fot", "x"}, "there is no command 'fot' (did you mean 'fit'?)"},
      {{"fit", "--wihs", "x"}, "there is no option '--wihs' (did you mean '--wish'?)"},
      {{"fit", "--jsn=x", "a.yaml"}, "there is no option '--jsn' (did you mean '--json'?)"},
      {{"--verson"}, "there is no option '--verson' (did you mean '--version'?)"},
      {{"list", "ruls"}, "(did you mean 'rules'?)"},
      {{"fit"}, "JOB"},
      {{"fit", "--units", "ell", kJobs + "alto-2.yaml"}, "units"},
  };
  for (const auto& [arguments, says] : rows) {
    INFO(says);
    const Ran ran = run_program(arguments);
    CHECK(ran.exit_code == 2);
    CHECK(ran.out.empty());
    CHECK_THAT(ran.err, Catch::Contains(says));
    CHECK(lines_of(ran.err).size() == 1);
  }
  CHECK(run_program({}).exit_code == 2);
}

TEST_CASE("exit code 2: a file that can't be written leaves the old one") {
  const Scratch scratch;
  const Ran ran =
      run_program({"fit", kJobs + "alto-2.yaml", "--json", scratch.path("no/such/folder.json")});
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::Contains("can't be written"));
  CHECK(run_program({"fit", kJobs + "alto-2.yaml", "--json", "/dev/null"}).exit_code == 2);
}

TEST_CASE("exit code 2: a data folder without rules") {
  const Scratch scratch;
  scratch.write("empty/readme", "");
  const Ran ran = run_program(
      {"fit", kJobs + "alto-2.yaml"}, "", "EASEWRIGHT_DATA='" + scratch.path("empty") + "'");
  CHECK(ran.exit_code == 2);
  CHECK_THAT(ran.err, Catch::Contains("there are no rules here"));
}

TEST_CASE("help states the exit codes") {
  for (const std::vector<std::string>& arguments :
       {std::vector<std::string>{"--help"}, {"fit", "--help"}}) {
    const Ran ran = run_program(arguments);
    CHECK(ran.exit_code == 0);
    for (const char* code :
         {"0  every must", "1  a must", "2  bad input", "3  an internal error"}) {
      CHECK_THAT(ran.out, Catch::Contains(code));
    }
  }
  CHECK(run_program({"--version"}).exit_code == 0);
}

TEST_CASE("no line of any help is past 80 columns") {
  for (const char* command :
       {"", "fit", "check", "reach", "map", "cut", "slip", "figure", "group", "list"}) {
    const Ran ran = *command == '\0' ? run_program({"--help"}) : run_program({command, "--help"});
    CHECK(ran.exit_code == 0);
    for (const std::string& line : lines_of(ran.out)) {
      INFO(line);
      CHECK(line.size() <= 80);
    }
  }
}

TEST_CASE("lists list") {
  const std::pair<const char*, const char*> rows[] = {
      {"rules", "because"},
      {"measures", "armhole girth"},
      {"values", "neckline depth"},
      {"styles", "concert dress"},
      {"cloths", "choir bolt"},
      {"switches", "side dart (none, sewn)"},
      {"body", "waist girth (40-180 cm)"},
  };
  for (const auto& [what, says] : rows) {
    INFO(what);
    const Ran ran = run_program({"list", what});
    CHECK(ran.exit_code == 0);
    CHECK(ran.err.empty());
    CHECK_THAT(ran.out, Catch::Contains(says));
  }
}

TEST_CASE("what-if changes the answer and not the file") {
  const std::string file = choir_job("alto-2");
  const std::string before = bytes_of(file);
  const Ran ran = run_program({"fit", file, "--wish", "neckline depth {}"});
  CHECK(ran.exit_code == 2);
  const Ran deep = run_program({"fit", file, "--wish", "neckline depth 14 cm"});
  CHECK_THAT(deep.out, Catch::Contains("depth 14"));
  CHECK_THAT(run_program({"fit", file}).out, !Catch::Contains("depth 14"));
  CHECK(bytes_of(file) == before);
}

TEST_CASE("same input, same bytes out") {
  const Scratch scratch;
  for (const std::string& job : demo_jobs()) {
    INFO(job);
    const Ran first = run_program({"fit", job, "--json", scratch.path("1.json")});
    const Ran second = run_program({"fit", job, "--json", scratch.path("2.json")});
    CHECK(first.out == second.out);
    CHECK(first.exit_code == second.exit_code);
    CHECK(bytes_of(scratch.path("1.json")) == bytes_of(scratch.path("2.json")));
  }
}

TEST_CASE("a slip of the command line is told once, however many jobs it is put to") {
  const Ran ran = run_program(
      {"fit", kJobs + "alto-2.yaml", kJobs + "alto-1.yaml", "--wish", "neckline depth 20"});
  CHECK(ran.exit_code == 2);
  CHECK(lines_of(ran.err).size() == 1);
}

TEST_CASE("several jobs are told in their order, and the worst decides the exit code") {
  const Ran ran = run_program(
      {"fit", "--brief", kJobs + "alto-2.yaml", kJobs + "alto-1.yaml", kJobs + "soprano-1.yaml"});
  CHECK(ran.exit_code == 1);
  const auto lines = lines_of(ran.out);
  REQUIRE(lines.size() == 3);
  CHECK_THAT(lines[0], Catch::StartsWith("alto 2, "));
  CHECK_THAT(lines[1], Catch::StartsWith("alto 1, "));
  CHECK_THAT(lines[2], Catch::StartsWith("soprano 1, "));
}

TEST_CASE("JSON holds what its schema names") {
  const Ran ran = run_program({"fit", kJobs + "alto-1.yaml", kJobs + "bass-1.yaml", "--json", "-"});
  CHECK(ran.exit_code == 1);
  const auto document = nlohmann::json::parse(ran.out);  // nothing but JSON on standard output
  CHECK(document.at("easewright") == 1);
  CHECK(document.at("command") == "fit");
  REQUIRE(document.at("jobs").size() == 2);
  for (const auto& job : document.at("jobs")) {
    for (const char* key : {"file",
                            "job",
                            "style",
                            "cloth",
                            "fits",
                            "holds",
                            "put on",
                            "draft",
                            "findings",
                            "notes",
                            "switches",
                            "measures",
                            "body",
                            "proof",
                            "sureness",
                            "effects"}) {
      INFO(key);
      CHECK(job.contains(key));
    }
    CHECK(job.size() == 16);
    for (const auto& [name, value] : job.at("draft").items()) {
      INFO(name);
      CHECK(value.at("value").is_number());
      CHECK(value.at("unit").is_string());
      CHECK(value.at("by habit").is_boolean());
    }
    bool missed = true;
    for (const auto& finding : job.at("findings")) {
      for (const char* key : {"name",
                              "kind",
                              "group",
                              "strength",
                              "standing",
                              "value",
                              "least",
                              "most",
                              "miss",
                              "tolerance",
                              "unit",
                              "pull"}) {
        INFO(key);
        CHECK(finding.contains(key));
      }
      const bool now = finding.at("standing") == "missed";
      CHECK((missed || !now));  // misses come first
      missed = now;
      if (finding.at("standing") == "holds") CHECK(finding.at("miss") == 0.0);
    }
    for (const auto& [name, value] : job.at("body").at("measures").items()) {
      INFO(name);
      CHECK(value.at("value").is_number());
      CHECK(value.at("sd").is_number());
      const std::string origin = value.at("origin");
      CHECK((origin == "measured" || origin == "converted" || origin == "estimated"));
    }
    CHECK(job.at("proof").at("status") == "settled");
  }
  CHECK(document.at("jobs")[0].at("fits") == false);
  // A top has no skirt.
  CHECK_FALSE(document.at("jobs")[1].at("draft").contains("skirt length"));
  CHECK_FALSE(document.at("jobs")[1].at("measures").contains("skirt hem"));
}

TEST_CASE("the parts of a slack add up to it") {
  const Ran ran = run_program({"fit", kJobs + "alto-1.yaml", "--json", "-"});
  const auto document = nlohmann::json::parse(ran.out);
  int slacks = 0;
  for (const auto& finding : document.at("jobs")[0].at("findings")) {
    if (!finding.contains("slack")) continue;
    double sum = 0;
    for (const auto& part : finding.at("slack")) sum += part.at("cm").get<double>();
    INFO(finding.at("name"));
    CHECK_THAT(
        sum,
        WithinAbs(finding.at("value").get<double>(), 1e-5));  // each part is rounded to a millionth
    ++slacks;
  }
  CHECK(slacks >= 2);
}

TEST_CASE("a JSON file is replaced whole, and nothing else is left beside it") {
  const Scratch scratch;
  scratch.write("out.json", "old");
  CHECK(run_program({"fit", kJobs + "alto-2.yaml", "--json", scratch.path("out.json")}).exit_code ==
        0);
  CHECK(nlohmann::json::parse(bytes_of(scratch.path("out.json"))).at("jobs").size() == 1);
  CHECK(scratch.files() == std::vector<std::string>{"out.json"});
}
