// `easewright slip`: one page of 80 columns for every demo job, to the terminal or into a file.

#include "cli/write/page.h"
#include "cli/write/slip.h"
#include "scratch.h"
#include "tests/catch.h"

#include <algorithm>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

using namespace easewright;
using namespace easewright::tests;
using Catch::Contains;

namespace {

const std::string kJob = "data/choir/jobs/alto-2.yaml";

}  // namespace

TEST_CASE("a slip is one page of 80 columns, for every demo job in either unit") {
  for (const std::string& job : demo_jobs()) {
    for (const char* unit : {"cm", "in"}) {
      INFO(job << " in " << unit);
      const Ran ran = run_program({"slip", job, "--units", unit});
      INFO(ran.out << ran.err);
      CHECK(ran.exit_code <= 1);
      CHECK(ran.exit_code == run_program({"fit", job, "--brief"}).exit_code);
      const auto lines = lines_of(ran.out);
      CHECK(lines.size() <= kSlipLines);
      for (const std::string& line : lines) CHECK(columns(line) <= kColumns);
      for (const char* step :
           {"\nCut ", "\nStay ", "\nNeck ", "\nArmholes ", "\nSides ", "\nWaist "})
        CHECK_THAT(ran.out, Contains(step));
      CHECK_THAT(ran.out, Contains("    check "));
      CHECK_THAT(ran.out, !Contains("{") && !Contains(" nan") && !Contains("inf "));
      CHECK_THAT(lines.front(), Contains(std::string(unit) == "in" ? "in inches" : "in cm"));
      // Who sews what does not fit is told.
      std::string joined = ran.out;
      std::replace(joined.begin(), joined.end(), '\n', ' ');
      if (ran.exit_code == 1) CHECK_THAT(joined, Contains("see 'easewright fit'"));
    }
  }
}

TEST_CASE("a slip of all that a garment can have at once is one page too") {
  // The longest that three hundred odd jobs had: side opening, dart, sewn slit, belt, tape, cloth
  // with nap that shrinks and keeps its holes, in eighths.
  const std::vector<std::string> all = {"--switch",
                                        "put on side opening",
                                        "--switch",
                                        "slit sewn",
                                        "--switch",
                                        "side dart sewn",
                                        "--wish",
                                        "skirt length 110 cm"};
  for (const auto& [job, cloth] : {std::pair{"alto-1", "viscose crepe"},
                                   std::pair{"alto-1", "velvet"},
                                   std::pair{"mezzo-1", "velvet"}}) {
    for (const char* neckline : {"neckline V", "neckline square"}) {
      for (const char* lining : {"lining lined", "lining unlined"}) {
        std::vector<std::string> words = {"slip",
                                          choir_job(job),
                                          "--cloth",
                                          cloth,
                                          "--units",
                                          "in",
                                          "--switch",
                                          neckline,
                                          "--switch",
                                          lining};
        words.insert(words.end(), all.begin(), all.end());
        const Ran ran = run_program(words);
        INFO(ran.out << ran.err);
        CHECK(ran.exit_code <= 1);
        CHECK(lines_of(ran.out).size() > 50);
        CHECK(lines_of(ran.out).size() <= kSlipLines);
      }
    }
  }
}

TEST_CASE("lengths go into a line in their order") {
  const SlipLine line{SlipLine::Kind::work, "{} by {}, {}", {{"a", 2.54}, {"b", 10}, {"c", 0.04}}};
  CHECK(write_line(line, LengthUnit::cm) == "2.5 by 10, 0");
  CHECK(write_line(line, LengthUnit::inch) == "1 by 3 7/8, 0");
  CHECK(write_line({SlipLine::Kind::work, "no figure", {}}, LengthUnit::cm) == "no figure");
  CHECK(write_line({SlipLine::Kind::work, "{}", {{"a", 1}}}, LengthUnit::cm) == "1");
  const auto texts = texts_of(line, LengthUnit::cm);
  REQUIRE(texts.size() == 5);
  CHECK(texts[0].length);
  CHECK_FALSE(texts[1].length);
}

TEST_CASE("a slip goes into a file in place of the terminal, whole or not at all") {
  const Scratch scratch;
  const Ran shown = run_program({"slip", kJob});
  const Ran kept = run_program({"slip", kJob, "--out", scratch.path("slip.txt")});
  CHECK(kept.exit_code == 0);
  CHECK(kept.out.empty());
  CHECK(bytes_of(scratch.path("slip.txt")) == shown.out);
  const Ran lost = run_program(
      {"slip", kJob, "--out", scratch.path("none/slip.txt"), "--json", scratch.path("slip.json")});
  CHECK(lost.exit_code == 2);
  CHECK(scratch.files() == std::vector<std::string>{"slip.txt"});
  CHECK(run_program({"slip", kJob, "--out", kJob}).exit_code == 2);
  CHECK(run_program({"slip", kJob, kJob}).exit_code == 2);
}

TEST_CASE("a job's own allowances are on its slip") {
  const Scratch scratch;
  const std::string body = std::string(EASEWRIGHT_SOURCE_DIR) + "/data/choir/bodies/alto-2.yaml";
  const std::string start =
      "job: alto 2\nbody: " + body + "\ncloth: choir bolt\nstyle: concert dress\n";
  const std::string job = scratch.write("job.yaml", start + "allowances: {side: 2.3 cm}\n");
  CHECK_THAT(run_program({"slip", job}).out, Contains("side seam 2.3"));
  CHECK_THAT(run_program({"fit", job, "--no-why", "--html", "-"}).out,
             Contains("side seam <b>2.3</b>"));
  // A slip of the pen is refused, and nothing is written.
  const std::string bad = scratch.write("bad.yaml", start + "allowances: {sides: 2 cm}\n");
  for (const char* command : {"slip", "fit"}) {
    const Ran ran = run_program(
        {command, bad, std::string(command) == "fit" ? "--html" : "--out", scratch.path("out")});
    CHECK(ran.exit_code == 2);
    CHECK(ran.out.empty());
    CHECK_THAT(ran.err, Contains("bad.yaml:5"));
  }
  CHECK(scratch.files() == std::vector<std::string>{"bad.yaml", "job.yaml"});
}

TEST_CASE("a slip for programs has every length by name") {
  const Ran ran = run_program({"slip", kJob, "--json", "-", "--units", "in"});
  const auto document = nlohmann::json::parse(ran.out);
  CHECK(document.at("command") == "slip");
  CHECK(document.at("job").at("fits") == true);
  size_t figures = 0;
  for (const auto& step : document.at("steps")) {
    CHECK_FALSE(step.at("step").get<std::string>().empty());
    for (const auto& line : step.at("lines")) {
      const std::string kind = line.at("kind");
      CHECK((kind == "work" || kind == "check" || kind == "caution"));
      CHECK_FALSE(line.at("text").get<std::string>().empty());
      for (const auto& f : line.at("figures")) {
        CHECK(f.at("unit") == "cm");
        CHECK(f.at("value").is_number());
        ++figures;
      }
    }
  }
  CHECK(figures > 40);
}
