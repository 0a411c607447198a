// `easewright map`: the page, the rows, the drawing; the same bytes on any number of threads.

#include "cli/read/catalogue.h"
#include "cli/write/map.h"
#include "scratch.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

using namespace easewright;
using namespace easewright::tests;

namespace {

using Json = nlohmann::json;

const std::string kJob = "data/choir/jobs/alto-2.yaml";
const std::vector<std::string> kSmall = {"--columns", "13", "--rows", "11"};

std::vector<std::string> with(std::vector<std::string> arguments,
                              const std::vector<std::string>& more) {
  arguments.insert(arguments.end(), more.begin(), more.end());
  return arguments;
}

/// The legend's letters: lines ' x  ...' after the last axis line.
std::vector<char> legend_letters(const std::string& page) {
  std::vector<char> letters;
  bool legend = false;
  for (const std::string& line : lines_of(page)) {
    if (line.find("the fit") != std::string::npos) legend = true;
    if (legend && line.size() > 4 && line[0] == ' ' && line[1] != ' ' && line.substr(2, 2) == "  ")
      letters.push_back(line[1]);
  }
  return letters;
}

/// A little of XML's rules: tags nest and close, attributes are quoted, '&' begins a known entity.
/// Empty when all is well.
std::string malformed(const std::string& text) {
  std::vector<std::string> open;
  size_t roots = 0;
  for (size_t at = 0; at < text.size();) {
    if (text[at] == '&') {
      const std::string entity = text.substr(at, text.find(';', at) - at + 1);
      if (entity != "&amp;" && entity != "&lt;" && entity != "&gt;" && entity != "&quot;")
        return "entity " + entity;
    }
    if (text[at] != '<') {
      ++at;
      continue;
    }
    const size_t end = text.find('>', at);
    if (end == std::string::npos) return "an open tag at the end";
    const std::string tag = text.substr(at + 1, end - at - 1);
    if (std::count(tag.begin(), tag.end(), '"') % 2 != 0 || tag.find('<') != std::string::npos)
      return "tag " + tag;
    const std::string name = tag.substr(0, tag.find_first_of(" /\n", 1));
    if (tag.front() == '/') {
      if (open.empty() || "/" + open.back() != tag) return "closing " + tag;
      open.pop_back();
    } else if (tag.front() != '?') {
      if (open.empty() && ++roots > 1) return "two roots";
      if (tag.back() != '/') open.push_back(name);
    }
    at = end + 1;
  }
  return !open.empty() ? "not closed: " + open.back() : roots == 1 ? "" : "no root";
}

}  // namespace

TEST_CASE("the check of drawings sees what is wrong with one") {
  CHECK(malformed("<?xml v=\"1\"?><a b=\"c\"><d/>e &amp; f</a>").empty());
  for (const char* bad :
       {"<a>", "<a></b>", "<a b=\"c></a>", "<a>&nbsp;</a>", "<a/><b/>", "", "<a", "<a></a></a>"}) {
    INFO(bad);
    CHECK_FALSE(malformed(bad).empty());
  }
}

TEST_CASE("map answers every demo job: page, rows and drawing") {
  for (const std::string& job : demo_jobs()) {
    for (const char* unit : {"cm", "in"}) {
      INFO(job << " in " << unit);
      const Scratch scratch;
      const Ran ran = run_program(with({"map",
                                        job,
                                        "neckline depth",
                                        "strap width",
                                        "--units",
                                        unit,
                                        "--csv",
                                        scratch.path("map.csv"),
                                        "--svg",
                                        scratch.path("map.svg")},
                                       kSmall));
      CHECK(ran.exit_code == 0);
      CHECK(ran.err.empty());
      for (const std::string& line : lines_of(ran.out)) CHECK(columns(line) <= 80);
      CHECK_THAT(ran.out,
                 Catch::Contains(std::string("neckline depth (") + unit + ")") &&
                     Catch::Contains(std::string("strap width (") + unit + ")"));

      const std::vector<char> letters = legend_letters(ran.out);
      std::set<char> unique, folded;
      for (const char c : letters) {
        unique.insert(c);
        folded.insert(static_cast<char>(std::tolower(static_cast<unsigned char>(c))));
      }
      CHECK(unique.size() == letters.size());
      CHECK(folded.size() == letters.size());
      // Every character of the grid is told of.
      int grid_lines = 0;
      for (const std::string& line : lines_of(ran.out)) {
        const size_t bar = line.find('|');
        if (bar == std::string::npos) continue;
        ++grid_lines;
        for (const char c : line.substr(bar + 1)) CHECK(unique.count(c) == 1);
      }
      CHECK(grid_lines == 11);

      const auto rows = lines_of(bytes_of(scratch.path("map.csv")));
      REQUIRE(rows.size() == 1 + 13 * 11);
      CHECK(rows.front() ==
            "neckline depth (cm),strap width (cm),holds,missed first,strength,miss,unit");
      CHECK(malformed(bytes_of(scratch.path("map.svg"))) == "");
      CHECK(scratch.files() == std::vector<std::string>{"map.csv", "map.svg"});
    }
  }
}

TEST_CASE("a map is the same to the last byte on one thread and on two") {
  const Scratch scratch;
  std::vector<std::string> pages;
  for (const char* threads : {"1", "2"}) {
    const std::string base = scratch.path(threads);
    const Ran ran = run_program(with({"map",
                                      choir_job("alto-1"),
                                      "armhole drop",
                                      "strap width",
                                      "--threads",
                                      threads,
                                      "--csv",
                                      base + ".csv",
                                      "--svg",
                                      base + ".svg",
                                      "--json",
                                      base + ".json"},
                                     kSmall));
    CHECK(ran.exit_code == 0);
    pages.push_back(ran.out);
  }
  CHECK(pages[0] == pages[1]);
  for (const char* kind : {".csv", ".svg", ".json"})
    CHECK(bytes_of(scratch.path("1") + kind) == bytes_of(scratch.path("2") + kind));
}

TEST_CASE("rows and JSON tell the same") {
  const Scratch scratch;
  const Ran ran = run_program(with({"map",
                                    kJob,
                                    "neckline depth 4 to 20 cm",
                                    "slit start",
                                    "--csv",
                                    scratch.path("m.csv"),
                                    "--json",
                                    "-"},
                                   kSmall));
  REQUIRE(ran.exit_code == 0);
  const Json document = Json::parse(ran.out);
  CHECK(document.at("command") == "map");
  CHECK(document.at("across").at("from") == 4.0);
  CHECK(document.at("across").at("to") == 20.0);
  CHECK(document.at("up").at("count") == 11);
  const auto rows = lines_of(bytes_of(scratch.path("m.csv")));
  size_t next = 1, held = 0;
  for (const Json& row : document.at("missed")) {
    for (const Json& rule : row) {
      const std::string& line = rows.at(next++);
      INFO(line);
      CHECK((line.find(",yes,") != std::string::npos) == (rule == -1));
      held += rule == -1 ? 1u : 0u;
      if (rule != -1)
        CHECK_THAT(line,
                   Catch::Contains(
                       document.at("rules").at(rule.get<size_t>()).at("name").get<std::string>()));
    }
  }
  CHECK(next == rows.size());
  CHECK(held > 0);
  CHECK(held < 13 * 11);
}

TEST_CASE("a page of 40 columns and one of 200 are readable") {
  const Job job = demo_job("choir/jobs/alto-2.yaml");
  Judged judged;
  judged.job = &job;
  judged.result = fit(job, shipped_catalogue());
  const ValueMap map = map_values(judged.result,
                                  {ValueKey::neckline_back_depth, 1, 20},
                                  {ValueKey::strap_width, 2, 10},
                                  60,
                                  30,
                                  2);
  const MapKey key = key_of(map, judged.result);
  for (const size_t width : {size_t{40}, size_t{80}, size_t{200}}) {
    const std::string page = write_map(judged, map, key, Colour::off, width);
    INFO(page);
    size_t grid_lines = 0;
    for (const std::string& line : lines_of(page)) {
      CHECK(columns(line) <= width);
      const size_t bar = line.find('|');
      if (bar == std::string::npos) continue;
      ++grid_lines;
      CHECK(line.size() - bar - 1 == std::min<size_t>(60, width - bar - 1 - (width < 64 ? 1 : 0)));
    }
    CHECK(grid_lines == 24);
    CHECK_THAT(page, Catch::Contains("@") && Catch::Contains("neckline back depth (cm)"));
  }
}

TEST_CASE("map refuses what it can't answer, with what was meant, and writes nothing") {
  const Scratch scratch;
  const std::pair<std::vector<std::string>, const char*> rows[] = {
      {{"neckline deth", "strap width"},
       "map: neckline deth: there is no such draft value (did you mean 'neckline depth'?)"},
      {{"neckline deth 4 to 20 cm", "strap width"}, "(did you mean 'neckline depth'?)"},
      {{"strap width", "strap width 3 to 4 cm"}, "two different values are wanted"},
      {{"neckline depth 20 to 4 cm", "strap width"}, "runs backwards"},
      {{"neckline depth 4 to 20", "strap width"}, "unit"},
      {{"neckline depth 4 cm", "strap width"}, "a range is wanted"},
      {{"neckline depth 4 to 2000 cm", "strap width"}, "neckline depth"},
      {{"neckline depth 4 to 99 cm", "strap width"},
       "a range within its limits is wanted, 1-26 cm"},
      {{"neckline depth at most body.stature", "strap width"}, "a range is wanted"},
      {{"neckline depth"}, "VALUES"},
      {{"neckline depth", "strap width", "armhole drop"}, "VALUES"},
      {{"neckline depth", "strap width", "--columns", "1"}, "--columns"},
      {{"neckline depth", "strap width", "--rows", "100000"}, "--rows"},
      {{"neckline depth", "strap width", "--threads", "0"}, "--threads"},
      {{"neckline depth", "strap width", "--svg", scratch.path("no/such/map.svg")},
       "can't be written"},
  };
  for (const auto& [words, says] : rows) {
    INFO(says);
    const Ran ran =
        run_program(with(with(with({"map", kJob}, words), {"--csv", scratch.path("map.csv")}),
                         words.size() == 4 ? std::vector<std::string>{} : kSmall));
    INFO(ran.err);
    CHECK(ran.exit_code == 2);
    CHECK(ran.out.empty());
    CHECK_THAT(ran.err, Catch::Contains(says));
    if (std::string(says) != "can't be written") CHECK(scratch.files().empty());
  }
  CHECK(run_program({"map", "data/choir/jobs/bass-1.yaml", "skirt length", "strap width"})
            .exit_code == 2);
}

TEST_CASE("what-if reaches the map: a limit is its frame") {
  const Ran ran = run_program(with({"map",
                                    kJob,
                                    "neckline depth",
                                    "strap width",
                                    "--limit",
                                    "neckline depth 5 to 15 cm",
                                    "--json",
                                    "-"},
                                   kSmall));
  REQUIRE(ran.exit_code == 0);
  const Json document = Json::parse(ran.out);
  CHECK_THAT(document.at("across").at("from").get<double>(), WithinAbs(5, 1e-9));
  CHECK_THAT(document.at("across").at("to").get<double>(), WithinAbs(15, 1e-9));
}
