// `easewright reach`: exit codes, layout, and ends that agree with each other.

#include "cli/write/page.h"
#include "scratch.h"
#include "tests/catch.h"

#include <string>
#include <vector>

#include <nlohmann/json.hpp>

using namespace easewright::tests;

namespace {

using Json = nlohmann::json;

const std::string kJob = "data/choir/jobs/alto-2.yaml";

Json values_of(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--json", "-"});
  const Ran ran = run_program(arguments);
  INFO(ran.err);
  REQUIRE(ran.exit_code == 0);
  return Json::parse(ran.out).at("values");
}

}  // namespace

TEST_CASE("reach answers every demo job within 80 columns, in either unit") {
  for (const std::string& job : demo_jobs()) {
    for (const char* unit : {"cm", "in"}) {
      INFO(job << " in " << unit);
      const Ran ran = run_program({"reach", job, "--units", unit});
      CHECK(ran.exit_code == 0);
      CHECK(ran.err.empty());
      CHECK_THAT(ran.out, Catch::Contains("neckline depth") && Catch::Contains("stopped by"));
      for (const std::string& line : lines_of(ran.out)) {
        INFO(line);
        CHECK(easewright::columns(line) <= 80);
      }
    }
    const Json values = values_of({"reach", job});  // outlives the loop over its items
    for (const auto& [name, value] : values.items()) {
      INFO(job << ": " << name);
      const double least = value.at("least").at("value"), now = value.at("now"),
                   greatest = value.at("greatest").at("value");
      CHECK(least <= now + 1e-5);
      CHECK(now <= greatest + 1e-5);
      CHECK_FALSE(value.at("least").at("stops").empty());
      CHECK_FALSE(value.at("greatest").at("stops").empty());
    }
  }
}

TEST_CASE("reach tells of the values that are asked for, in their order") {
  const Ran ran = run_program({"reach", kJob, "strap width", "neckline depth"});
  CHECK(ran.exit_code == 0);
  CHECK(ran.out.find("strap width ") < ran.out.find("neckline depth "));
  CHECK_THAT(ran.out, !Catch::Contains("skirt length "));
}

TEST_CASE("a limit stops a value where it is set, and is said to") {
  const Json values =
      values_of({"reach", kJob, "neckline depth", "--limit", "neckline depth 9 to 11 cm"});
  const Json& depth = values.at("neckline depth");
  CHECK_THAT(depth.at("least").at("value").get<double>(), WithinAbs(9, 1e-3));
  CHECK_THAT(depth.at("greatest").at("value").get<double>(), WithinAbs(11, 1e-3));
  CHECK(depth.at("greatest").at("stops").at(0).at("kind") == "limit");
  CHECK_THAT(
      run_program({"reach", kJob, "neckline depth", "--limit", "neckline depth 9 to 11 cm"}).out,
      Catch::Contains("greatest: its own limit"));
}

TEST_CASE("reach refuses what it can't answer, with what was meant") {
  const std::pair<std::vector<std::string>, const char*> rows[] = {
      {{kJob, "neckline deth"},
       "reach: neckline deth: there is no such draft value (did you mean 'neckline depth'?)"},
      {{kJob, "neckline edge"}, "there is no such draft value"},
      {{"data/choir/jobs/bass-1.yaml", "skirt length"}, "this garment has no such value"},
      {{"no-such.yaml"}, "there is no such file"},
      {{kJob, "--wish", "neckline depth"}, "--wish"},
      {{kJob, "--threads", "2"}, "there is no option '--threads'"},
      {{}, "JOB"},
  };
  for (const auto& [words, says] : rows) {
    std::vector<std::string> arguments = {"reach"};
    arguments.insert(arguments.end(), words.begin(), words.end());
    INFO(says);
    const Ran ran = run_program(arguments);
    INFO(ran.err);
    CHECK(ran.exit_code == 2);
    CHECK(ran.out.empty());
    CHECK_THAT(ran.err, Catch::Contains(says));
    CHECK(lines_of(ran.err).size() == 1);
  }
}

TEST_CASE("reach writes JSON whole beside its table") {
  const Scratch scratch;
  const Ran ran = run_program({"reach", kJob, "--json", scratch.path("reach.json")});
  CHECK(ran.exit_code == 0);
  CHECK_THAT(ran.out, Catch::Contains("stopped by"));
  const Json document = Json::parse(bytes_of(scratch.path("reach.json")));
  CHECK(document.at("easewright") == 1);
  CHECK(document.at("command") == "reach");
  CHECK(document.at("job").at("job") == "alto 2, concert dress");
  CHECK(scratch.files() == std::vector<std::string>{"reach.json"});
}
