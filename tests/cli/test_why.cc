// Why a rule is missed, and what would settle it: what is printed is applied again as a user would
// apply it.

#include "scratch.h"
#include "tests/catch.h"

#include <algorithm>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

using namespace easewright::tests;

namespace {

using Json = nlohmann::json;

const std::string kJobs = "data/choir/jobs/";

Json json_of(std::vector<std::string> arguments) {
  arguments.insert(arguments.end(), {"--json", "-"});
  const Ran ran = run_program(arguments);
  INFO(ran.err);
  REQUIRE(ran.exit_code <= 1);
  return Json::parse(ran.out).at("jobs").at(0);
}

const Json* finding(const Json& job, const std::string& name) {
  for (const Json& f : job.at("findings")) {
    if (f.at("name") == name) return &f;
  }
  return nullptr;
}

/// Runs of blanks and newlines as one blank: a report without its layout.
std::string unwrapped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\n';
    if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
  }
  return out;
}

/// A command line with a cure's options in place of its own about the same value: 'neckline depth
/// 20 cm' goes for 'neckline depth 14 cm', and nothing else does.
std::vector<std::string> with_options(std::vector<std::string> words, const Json& options) {
  const auto name_of = [](const std::string& text) {
    const std::string name = text.substr(0, text.find_first_of("0123456789"));
    return name.substr(0, std::min(name.find(" at "), name.find_last_not_of(' ') + 1));
  };
  for (size_t i = 0; i < options.size(); i += 2) {
    const std::string option = options[i], text = options[i + 1];
    for (size_t k = 0; option == "--wish" && k + 1 < words.size(); ++k) {
      if (words[k] != option || name_of(words[k + 1]) != name_of(text)) continue;
      words.erase(words.begin() + static_cast<long>(k), words.begin() + static_cast<long>(k) + 2);
    }
  }
  for (const std::string word : options) words.push_back(word);
  return words;
}

/// Every demo job as it is, and with wishes that ask for too much.
std::vector<std::vector<std::string>> cases() {
  std::vector<std::vector<std::string>> all;
  for (const std::string& job : demo_jobs()) {
    all.push_back({"fit", job});
    all.push_back({"fit", job, "--wish", "neckline depth 20 cm"});
    all.push_back({"fit", job, "--wish", "strap width 9 cm", "--units", "in"});
  }
  return all;
}

}  // namespace

TEST_CASE("every cure, put on the command line, makes its rule hold and is in the report") {
  int cures = 0, limits = 0;
  for (const auto& arguments : cases()) {
    const Json job = json_of(arguments);
    const std::string report = unwrapped(run_program(arguments).out);
    for (const Json& missed : job.at("findings")) {
      if (!missed.contains("why")) continue;
      const std::string name = missed.at("name");
      for (const Json& cure : missed.at("why").at("cures")) {
        std::vector<std::string> again = with_options(arguments, cure.at("options"));
        again.emplace_back("--no-why");
        const Json cured = json_of(again);
        std::string command;
        for (const std::string& word : again) command += word + " | ";
        INFO(command << ": " << name);
        const Json* now = finding(cured, name);
        CHECK((now == nullptr || now->at("standing") != "missed"));
        if (job.at("file") == arguments[1] && arguments.back() != "in") {
          CHECK_THAT(report, Catch::Contains(cure.at("text").get<std::string>()));
        }
        ++cures;
        for (const Json& step : cure.at("steps")) limits += step.at("kind") == "limit" ? 1 : 0;
      }
    }
  }
  CHECK(cures >= 20);
  CHECK(limits >= 1);
}

TEST_CASE("every missed must, should and wish is explained, and nothing else is") {
  for (const std::string& file : demo_jobs()) {
    INFO(file);
    const Json job = json_of({"fit", file});
    for (const Json& f : job.at("findings")) {
      INFO(f.at("name"));
      CHECK(f.contains("why") == (f.at("standing") == "missed" && f.at("strength") != "habit"));
      if (!f.contains("why")) continue;
      CHECK(f.at("why").at("proved") == true);
      bool itself = false;
      for (const Json& member : f.at("why").at("conflict"))
        itself = itself || member.at("name") == f.at("name");
      CHECK(itself);
      double asks = 0;
      for (const Json& cure : f.at("why").at("cures")) {
        if (cure.at("steps").at(0).at("kind") == "switch") continue;
        CHECK(cure.at("asks").get<double>() >= asks - 1e-6);
        asks = cure.at("asks");
      }
    }
  }
}

// A full cup's bridge lies above a V of 20 cm: what a cutter says of it is that the V is too deep.
TEST_CASE("the deep V clashes with the full cup, and the report says by how much it is too deep") {
  const std::string report = unwrapped(run_program({"fit", kJobs + "alto-1.yaml"}).out);
  CHECK_THAT(
      report,
      Catch::Contains(
          "why can't all hold: neckline depth 20 cm; neckline hides a full cup (at least 4.5 cm)"));
  CHECK_THAT(report, Catch::Contains("cure neckline depth 20 -> 1"));
}

TEST_CASE("a switch is offered where it settles the miss, a side dart by its name") {
  int offered = 0;
  for (const std::string& file : demo_jobs()) {
    const Json job = json_of({"fit",
                              file,
                              "--wish",
                              "shaping armhole at most 0 deg",
                              "--wish",
                              "gather front ratio at most 1.2"});
    for (const Json& f : job.at("findings")) {
      if (!f.contains("why")) continue;
      for (const Json& cure : f.at("why").at("cures")) {
        if (cure.at("steps").at(0).at("kind") != "switch") continue;
        ++offered;
        CHECK(cure.at("options").at(0) == "--switch");
        if (cure.at("steps").at(0).at("name") == "side dart") {
          CHECK_THAT(cure.at("text").get<std::string>(), Catch::StartsWith("a side dart"));
        }
      }
    }
  }
  CHECK(offered >= 1);
}

TEST_CASE("the option --no-why looks for nothing, --brief tells nothing") {
  const Ran quick = run_program({"fit", kJobs + "alto-1.yaml", "--no-why"});
  CHECK(quick.exit_code == 1);
  CHECK_THAT(quick.out, !Catch::Contains("can't all hold") && !Catch::Contains("cure "));
  const Json job = json_of({"fit", kJobs + "alto-1.yaml", "--no-why"});
  for (const Json& f : job.at("findings")) CHECK_FALSE(f.contains("why"));
  CHECK(lines_of(run_program({"fit", kJobs + "alto-1.yaml", "--brief"}).out).size() == 1);
}

TEST_CASE("a what-if keeps the strength and the tolerance of the wish it replaces") {
  const Json job =
      json_of({"fit", kJobs + "alto-1.yaml", "--wish", "neckline depth 18 cm", "--no-why"});
  const Json* wish = finding(job, "neckline depth");
  REQUIRE(wish != nullptr);
  CHECK(wish->at("strength") == "must");
  CHECK(wish->at("least") == 18.0);
}

TEST_CASE("the option --limit lets a value go further, or less far") {
  const Json near =
      json_of({"fit", kJobs + "alto-2.yaml", "--no-why", "--limit", "neckline depth at most 8 cm"});
  CHECK(near.at("draft").at("neckline depth").at("value").get<double>() <= 8 + 1e-6);
  const std::pair<std::string, const char*> rows[] = {
      {"neckline deth at most 8 cm",
       "--limit: neckline deth: there is no such draft value (did you mean 'neckline depth'?)"},
      {"neckline depth 8 cm", "'at least', 'at most' or a range is wanted"},
      {"neckline depth at most 8", "unit"},
      {"neckline depth at most strap.width", "in numbers or measures of the body"},
      {"neckline edge at most 60 cm", "there is no such draft value"},
  };
  for (const auto& [limit, says] : rows) {
    INFO(limit);
    const Ran ran = run_program({"fit", kJobs + "alto-2.yaml", "--limit", limit});
    INFO(ran.err);
    CHECK(ran.exit_code == 2);
    CHECK(ran.out.empty());
    CHECK(lines_of(ran.err).size() == 1);
    CHECK_THAT(ran.err, Catch::Contains(says));
  }
}
