// How sure a draft is, what to tape, and what one more centimetre of a wish does.

#include "scratch.h"
#include "tests/catch.h"

#include <string>
#include <vector>

#include <nlohmann/json.hpp>

using namespace easewright::tests;

namespace {

using Json = nlohmann::json;

const std::string kJob = "data/choir/jobs/alto-2.yaml";

Json json_of(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--no-why", "--json", "-"});
  const Ran ran = run_program(arguments);
  INFO(ran.err);
  REQUIRE(ran.exit_code <= 1);
  return Json::parse(ran.out).at("jobs").at(0);
}

/// Sum of 1 - p over musts and shoulds.
double doubt_of(const Json& job) {
  double sum = 0;
  for (const Json& f : job.at("findings")) {
    const bool counts = f.at("strength") == "must" || f.at("strength") == "should";
    if (counts && f.contains("probability")) sum += 1 - f.at("probability").get<double>();
  }
  return sum;
}

}  // namespace

TEST_CASE("every finding is as sure as its probability, and the counts add up") {
  for (const std::string& file : demo_jobs()) {
    INFO(file);
    const Json job = json_of({"fit", file});
    std::map<std::string, int> counts;
    for (const Json& f : job.at("findings")) {
      if (!f.contains("probability")) continue;
      const double p = f.at("probability");
      INFO(f.at("name") << " " << p);
      CHECK(p >= 0);
      CHECK(p <= 1);
      const std::string word = f.at("sureness");
      CHECK(word == (p >= 0.9   ? "sure"
                     : p >= 0.7 ? "likely"
                     : p >= 0.3 ? "a toss-up"
                                : "unlikely"));
      ++counts[word];
    }
    for (const char* word : {"sure", "likely", "a toss-up", "unlikely"})
      CHECK(job.at("sureness").at(word) == counts[word]);
    for (const auto& [name, measure] : job.at("measures").items()) {
      INFO(name);
      CHECK(measure.at("sd").get<double>() >= 0);
    }
    CHECK(job.at("sureness").at("tape").size() <= 2);
    CHECK(job.at("sureness").at("asked").is_null());
  }
}

TEST_CASE("the report counts, names the toss-ups and says what to tape, --all lists every rule") {
  const Ran ran = run_program({"fit", kJob});
  CHECK_THAT(
      ran.out,
      Catch::Contains("Sureness  ") && Catch::Contains("a toss-up") && Catch::Contains("Taping "));
  const Ran all = run_program({"fit", kJob, "--all"});
  const Json job = json_of({"fit", kJob});
  CHECK(lines_of(all.out).size() >= lines_of(ran.out).size() + job.at("findings").size() - 1);
  for (const Ran& r : {ran, all}) {
    for (const std::string& line : lines_of(r.out)) CHECK(line.size() <= 80);
  }
}

TEST_CASE("the option --sure makes musts and shoulds surer, and says so") {
  const Json plain = json_of({"fit", kJob}), sure = json_of({"fit", kJob, "--sure", "90"});
  CHECK(doubt_of(sure) < doubt_of(plain));
  CHECK(sure.at("sureness").at("asked") == 0.9);
  CHECK_THAT(run_program({"fit", kJob, "--sure", "90"}).out,
             Catch::Contains("asked to hold with at least 90 %"));
  for (const char* bad : {"50", "100", "0.9", "-1", "nan", "much"}) {
    INFO(bad);
    const Ran ran = run_program({"fit", kJob, "--sure", bad});
    CHECK(ran.exit_code == 2);
    CHECK(ran.out.empty());
    CHECK(lines_of(ran.err).size() == 1);
  }
}

TEST_CASE(
    "effects: three measures a wish at most, the wish for a longer skirt lowers the hem by as "
    "much") {
  const Ran ran = run_program({"fit", kJob, "--effects"});
  CHECK_THAT(ran.out, Catch::Contains("Effects   "));
  CHECK_THAT(run_program({"fit", kJob}).out, !Catch::Contains("Effects   "));
  const Json effects = json_of({"fit", kJob}).at("effects");
  // The hem hangs from the waist: a centimetre of skirt is a centimetre of clearance (closed form).
  bool found = false;
  for (const Json& on : effects.at("skirt length").at("on")) {
    if (on.at("measure") != "skirt clearance") continue;
    found = true;
    CHECK_THAT(on.at("change").get<double>(), WithinAbs(-1, 0.02));
  }
  CHECK(found);
}
