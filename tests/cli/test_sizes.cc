// `easewright sizes`, and what `group` sums up: layout, JSON, the page, exit codes, bad input. What
// the figures say of bodies is tested in tests/model/test_sizes.cc, test_summary.cc, test_advice.cc
// and test_group_truth.cc.

#include "scratch.h"
#include "tests/catch.h"
#include "xml.h"

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

using namespace easewright::tests;

namespace {

using Json = nlohmann::json;

const std::string kBodies = std::string(EASEWRIGHT_SOURCE_DIR) + "/data/choir/bodies";

std::string job() { return choir_job("alto-2"); }

Json json_of(std::vector<std::string> arguments, int exit_code) {
  arguments.insert(arguments.end(), {"--json", "-"});
  const Ran ran = run_program(arguments);
  INFO(ran.err);
  REQUIRE(ran.exit_code == exit_code);
  return Json::parse(ran.out);
}

void check_narrow(const std::string& text) {
  for (const std::string& line : lines_of(text))
    if (line.size() > 80) FAIL_CHECK("wider than 80: " << line);
}

/// Three women, of whom the second can't be: her bust is that of a doll.
const char* kOneBad =
    "label,build,waist level,stature (cm),bust girth (cm),waist girth (cm),hip girth (cm)\n"
    "soprano 5,woman,natural,165,92,74,99\n"
    "soprano 6,woman,natural,168,9,77,101\n"
    "alto 9,woman,natural,171,101,84,108\n";

}  // namespace

TEST_CASE("sizes tells who is served by whom, in 80 columns") {
  const Ran ran = run_program({"sizes", job(), kBodies, "--count", "3"});
  INFO(ran.out << ran.err);
  CHECK(ran.exit_code == 1);  // the choir's men and its fullest alto are far from the rest
  check_narrow(ran.out);
  const auto lines = lines_of(ran.out);
  CHECK(lines.front() == "Sizes of concert dress, choir bolt: 3 drafts for 10 bodies");
  const auto drafts = std::count_if(lines.begin(), lines.end(), [](const std::string& line) {
    return line.starts_with("Draft     ");
  });
  CHECK(drafts == 3);
  // Everybody once, as a draft, below one, or as better drafted for.
  for (const char* who : {"soprano 1",
                          "soprano 2",
                          "mezzo 1",
                          "mezzo 2",
                          "alto 1",
                          "alto 2",
                          "alto 3",
                          "tenor 1",
                          "bass 1",
                          "bass 2"}) {
    const auto told = std::count_if(lines.begin(), lines.end(), [&](const std::string& line) {
      return line.starts_with("Draft     " + std::string(who) + ":") ||
             line.starts_with("  " + std::string(who) + "  ");
    });
    INFO(who);
    CHECK(told == 1);
  }
}

TEST_CASE("the JSON of sizes adds up") {
  const Json json = json_of({"sizes", job(), kBodies, "--count", "3"}, 1);
  CHECK(json.at("command") == "sizes");
  REQUIRE(json.at("drafts").size() == 3);
  REQUIRE(json.at("bodies").size() == 10);
  std::set<std::string> drafts;
  size_t serves = 0;
  for (const Json& d : json.at("drafts")) {
    drafts.insert(d.at("body").get<std::string>());
    serves += d.at("serves").get<size_t>();
  }
  double cost = 0;
  size_t own = 0;
  for (const Json& b : json.at("bodies")) {
    const std::string how = b.at("served");
    CHECK(drafts.count(b.at("draft").get<std::string>()) == 1);
    double minutes = 0;
    for (const Json& step : b.at("steps")) minutes += step.at("minutes").get<double>();
    CHECK_THAT(b.at("minutes").get<double>(), WithinAbs(minutes, 1e-4));
    if (how == "drafted") {
      CHECK(b.at("draft") == b.at("body"));
      CHECK(b.at("steps").empty());
    }
    if (how == "as it is" || how == "altered") CHECK(b.at("left").empty());
    if (how == "with something left") CHECK_FALSE(b.at("left").empty());
    own += how == "a draft of its own";
    cost += how == "a draft of its own" ? 600 : b.at("cost").get<double>();
  }
  CHECK(serves + own == 10);
  const Json& weighed = json.at("weighed");
  CHECK(weighed.at("proved") == true);
  CHECK(weighed.at("all pairs") == true);
  CHECK_THAT(weighed.at("cost").get<double>(), WithinAbs(cost, 1e-3));
}

TEST_CASE("a draft for everybody, and one for all") {
  CHECK(run_program({"sizes", job(), kBodies, "--count", "10"}).exit_code == 0);
  const Json one = json_of({"sizes", job(), kBodies, "--count", "1"}, 1);
  const Json two = json_of({"sizes", job(), kBodies, "--count", "2"}, 1);
  CHECK(two.at("weighed").at("cost") < one.at("weighed").at("cost"));
  // Where an own garment is soon made nobody alters for long.
  const Json soon = json_of({"sizes", job(), kBodies, "--count", "2", "--own", "60"}, 1);
  for (const Json& b : soon.at("bodies")) {
    if (b.at("served") == "altered" || b.at("served") == "with something left")
      CHECK(b.at("minutes") <= 60);
  }
}

TEST_CASE("sizes leaves a bad row out, says so, and serves the others") {
  const Scratch scratch;
  const std::string csv = scratch.write("some.csv", kOneBad);
  const Ran ran = run_program({"sizes", job(), csv, "--count", "1"});
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.find("1 draft for 2 bodies") != std::string::npos);
  CHECK(ran.out.find("Left out  soprano 6") != std::string::npos);
  REQUIRE(lines_of(ran.err).size() == 1);
  CHECK(ran.err.find("some.csv:3:") != std::string::npos);
}

TEST_CASE("sizes refuses what it can't be asked, in one line") {
  const Scratch scratch;
  const auto refuses =
      [&](const std::vector<std::string>& arguments, const std::string& says, size_t lines = 1) {
        const Ran ran = run_program(arguments);
        INFO(says << ": " << ran.err);
        CHECK(ran.exit_code == 2);
        CHECK(ran.out.empty());
        CHECK(lines_of(ran.err).size() == lines);
        CHECK(ran.err.find(says) != std::string::npos);
      };
  refuses({"sizes", job(), kBodies, "--count", "0"}, "--count");
  refuses({"sizes", job(), kBodies, "--own", "nan"}, "--own");
  refuses({"sizes", job(), kBodies, "--worth", "-3"}, "--worth");
  refuses({"sizes", job(), kBodies, "--rows", "11-12"}, "there is no row 11");
  refuses({"sizes", job(), kBodies + "-not-there"}, "not-there");
  refuses({"sizes", choir_job("alto-1-tried-on"), kBodies}, "faults", 2);  // and what was read flat
  refuses({"sizes", job(), kBodies, "--cout", "3"}, "--count");
}

TEST_CASE("the summary of a group, in 80 columns, with what would help") {
  const Ran ran = run_program(
      {"group", job(), kBodies, "--wish", "neckline depth 16 cm", "--wish", "strap width 6 cm"});
  INFO(ran.out << ran.err);
  CHECK(ran.exit_code == 0);  // wishes alone are missed
  check_narrow(ran.out);
  for (const char* part :
       {"Missed most", "Wishes    ", "Changes   1. ", "Spread (cm, deg)", "Sureness  "})
    CHECK(ran.out.find(part) != std::string::npos);
  const Ran inches = run_program({"group", job(), kBodies, "--units", "in"});
  CHECK(inches.out.find("Spread (in, deg)") != std::string::npos);
  check_narrow(inches.out);
}

TEST_CASE("the JSON of a group agrees with its bodies") {
  const std::vector<std::string> what = {"group", job(), kBodies, "--wish", "neckline depth 16 cm"};
  const Json json = json_of(what, 0);
  const Json& group = json.at("group");
  CHECK(group.at("bodies") == 10);
  const size_t fit = group.at("fit fully");
  CHECK(fit < 10);
  const Json& advice = json.at("advice");
  CHECK(advice.at("missing").at("of") == 10 - fit);
  CHECK(advice.at("holding").at("of") == fit);
  CHECK(advice.at("changes").size() <= 3);
  for (const Json& c : advice.at("changes")) CHECK(c.at("helped") > c.at("harmed"));
  // A change is what the command line would say; said there, so many more fit.
  REQUIRE_FALSE(advice.at("changes").empty());
  const Json& first = advice.at("changes").front();
  const std::string change = first.at("change");
  for (const char* kind : {"wish", "limit", "switch"}) {
    const std::string word = std::string(kind) + " ";
    if (!change.starts_with(word) || change.find(" and ") != std::string::npos) continue;
    // A wish stands in for the same wish, and two for one are refused.
    std::vector<std::string> changed = what;
    if (change.starts_with("wish neckline depth ")) changed.resize(3);
    changed.insert(changed.end(), {std::string("--") + kind, change.substr(word.size())});
    INFO(change);
    const Json then = json_of(changed, 0);
    const size_t helped = first.at("helped"), harmed = first.at("harmed");
    CHECK(then.at("group").at("fit fully") == fit + helped - harmed);
  }
  const Json& depth = json.at("draft").at("neckline depth");
  CHECK(depth.at("bodies") == 10);
  CHECK(depth.at("least") <= depth.at("50 %"));
  CHECK(depth.at("50 %") <= depth.at("most"));
  CHECK(depth.at("most").get<double>() < 16.001);
  // Without explanation there is none, and no advice either.
  std::vector<std::string> quick = what;
  quick.emplace_back("--no-why");
  CHECK(json_of(quick, 0).at("advice").is_null());
}

TEST_CASE("the page of a group is whole, fetches nothing and says what the drawings are") {
  const Scratch scratch;
  const Ran ran = run_program(
      {"group", job(), kBodies, "--wish", "neckline depth 16 cm", "--out", scratch.path("out")});
  REQUIRE(ran.exit_code == 0);
  const std::string bytes = bytes_of(scratch.path("out/summary.html"));
  const Xml page = read_xml(bytes);
  CHECK(page.wrong.empty());
  CHECK(bytes.find("default-src 'none'") != std::string::npos);
  for (const char* fetched : {"<script", "src=", "href=", "@import", "url("})
    CHECK(bytes.find(fetched) == std::string::npos);
  size_t drawings = 0, titled = 0;
  for (size_t i = 0; i < page.elements.size(); ++i) {
    if (page.elements[i].name != "svg") continue;
    ++drawings;
    titled += std::any_of(page.elements.begin(), page.elements.end(), [i](const XmlElement& e) {
      return e.parent == static_cast<int>(i) && e.name == "title" && !e.text.empty();
    });
  }
  CHECK(drawings > 20);
  CHECK(titled == drawings);
  CHECK(bytes.find("nan") == std::string::npos);
  const auto heads = page.texts_of("h2");
  for (const char* head : {"Bodies by size", "What is missed", "What would help", "The draft"})
    CHECK(std::find(heads.begin(), heads.end(), head) != heads.end());
}

TEST_CASE("a label that looks like markup stays a label") {
  const Scratch scratch;
  const std::string csv = scratch.write(
      "some.csv",
      "label,build,waist level,stature (cm),bust girth (cm),waist girth (cm),hip girth (cm)\n"
      "<b>soprano & 7</b>,woman,natural,165,9,74,99\n"
      "soprano 8,woman,natural,165,92,74,99\n");
  const Ran ran = run_program({"group", job(), csv, "--out", scratch.path("out")});
  CHECK(ran.exit_code == 2);
  const Xml page = read_xml(bytes_of(scratch.path("out/summary.html")));
  CHECK(page.wrong.empty());
  CHECK(page.texts_of("b").size() <= 3);  // those of the changes
}

TEST_CASE("sewing for a group: one plan, a cut list by body, sums that add up") {
  const Scratch scratch;
  const Ran ran = run_program(
      {"group", job(), kBodies, "--rows", "1-3", "--sewing", "--out", scratch.path("out")});
  INFO(ran.out << ran.err);
  REQUIRE(ran.exit_code == 0);
  check_narrow(ran.out.substr(0, ran.out.find("written:")));
  CHECK(ran.out.find("3 garments from one piece of choir bolt") != std::string::npos);
  CHECK(ran.out.find("3 belts") != std::string::npos);
  const auto rows = lines_of(bytes_of(scratch.path("out/cut-list.csv")));
  double elastic = 0;
  std::set<std::string> who;
  for (size_t i = 1; i < rows.size(); ++i) {
    const auto first = rows[i].find(','), second = rows[i].find(',', first + 1);
    who.insert(rows[i].substr(first + 1, second - first - 1));
    if (rows[i].find(",elastic,elastic,") != std::string::npos)
      elastic += std::stod(rows[i].substr(rows[i].rfind(',') + 1));
  }
  CHECK(who.size() == 3);
  const std::string before = "elastic ";
  const size_t at = ran.out.find(before, ran.out.find("Sewing"));
  REQUIRE(at != std::string::npos);
  CHECK_THAT(100 * std::stod(ran.out.substr(at + before.size())), WithinAbs(elastic, 1));
  CHECK(read_xml(bytes_of(scratch.path("out/cutting-plan.svg"))).wrong.empty());
  CHECK(bytes_of(scratch.path("out/cutting-plan.pdf")).starts_with("%PDF"));
  // The same cloth as `cut` buys for the same three, from its own jobs.
  const Json json = json_of({"group", job(), kBodies, "--rows", "1-3", "--sewing"}, 0);
  std::vector<std::string> arguments = {"cut"};
  for (const char* alto : {"alto-1", "alto-2", "alto-3"})
    arguments.push_back(scratch.write(std::string(alto) + ".yaml",
                                      "job: " + std::string(alto) + "\nbody: " + kBodies + "/" +
                                          alto +
                                          ".yaml\ncloth: choir bolt\nstyle: concert dress\n"));
  arguments.insert(arguments.end(), {"--out", scratch.path("cut")});
  const Ran cut = run_program(arguments);
  INFO(cut.out);
  const std::string bought = json.at("sewing").at("buy").at(0);
  const std::string metres =
      bought.substr(bought.find("buy "), bought.find(" m ") - bought.find("buy "));
  CHECK(cut.out.find(metres) != std::string::npos);
}
