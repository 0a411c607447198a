// A garment that fits, in a body file: each slip has its place, and what it says reaches the
// report.

#include "cli/read/body.h"
#include "cli/read/yaml.h"
#include "scratch.h"
#include "tests/catch.h"

#include <nlohmann/json.hpp>

using namespace easewright;
using tests::run_program;
using tests::Scratch;

namespace {

constexpr const char* kBody =
    "body: alto 3\n"
    "build: woman\n"
    "garment that fits:\n"
    "  garment: the blue linen dress\n"
    "  kind: dress\n"
    "  switches: {waist: seam, skirt: closed, put on: side opening, lining: unlined}\n"
    "  fits: closely\n"
    "  stretch: 0 %\n"
    "  flat:\n"
    "    chest width: 50.5 cm\n"
    "    hip width: 54 cm +- 1 cm\n";

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

struct BodyRead {
  Body body;
  std::vector<std::string> lines;
};

BodyRead read(const std::string& text) {
  Complaints complaints;
  const Source source{"body.yaml", complaints};
  BodyRead result;
  BodyPlaces places;
  if (const auto map = parse_yaml(text, source))
    result.body = read_body(*map, "", source, BodyName::required, places);
  for (const Complaint& c : complaints.in_order()) result.lines.push_back(to_string(c));
  return result;
}

const BodyEvidence* about(const Body& body, BodyKey key) {
  for (const BodyEvidence& evidence : body.evidence) {
    if (evidence.terms.size() == 1 && evidence.terms.front().first == key) return &evidence;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("a garment that fits speaks for the body, with no tape at all") {
  const BodyRead all = read(kBody);
  for (const std::string& line : all.lines) UNSCOPED_INFO(line);
  CHECK(all.lines.empty());
  // Hip: twice the flat width less the 5 to 7 cm that a fitted dress has there (published eases).
  const BodyEvidence* hip = about(all.body, BodyKey::hip_girth);
  REQUIRE(hip != nullptr);
  CHECK(hip->value >= 108 - 7);
  CHECK(hip->value <= 108 - 3);
  CHECK(hip->sd > 2);  // twice the error of the width, and the ease's own
  CHECK(hip->from == "hip width of the blue linen dress");
}

TEST_CASE("several garments are a list, and each adds what it says") {
  std::string two = replaced(kBody, "  garment: the", "  - garment: the");
  for (const char* key : {"kind", "switches", "fits", "stretch", "flat", "  chest", "  hip"})
    two = replaced(two, std::string("\n  ") + key, std::string("\n    ") + key);
  two += "  - kind: top\n    fits: loosely\n    flat: {chest width: 55 cm}\n";
  const BodyRead all = read(two);
  for (const std::string& line : all.lines) UNSCOPED_INFO(line);
  CHECK(all.lines.empty());
  CHECK(all.body.evidence.size() == read(kBody).body.evidence.size() + 1);
}

TEST_CASE("each slip about a garment that fits is told with its place") {
  struct Slip {
    std::string what, by, line;
  };
  const Slip slips[] = {
      {"kind: dress", "kind: coat", "body.yaml:5:9: garment that fits.kind: 'coat' is not dress"},
      {"  kind: dress\n", "", "body.yaml:4:3: garment that fits: the key 'kind' is missing"},
      {"kind: dress", "kind: top", "body.yaml:5:9: garment that fits.kind: a top has no skirt"},
      {"waist: seam", "waist: sewn", "body.yaml:6:21: garment that fits.switches.waist: 'sewn'"},
      {"fits: closely", "fits: tightly", "body.yaml:7:9: garment that fits.fits: 'tightly' is not"},
      {"stretch: 0 %",
       "stretch: -5 %",
       "body.yaml:8:12: garment that fits.stretch: -5 % is outside"},
      {"stretch: 0 %", "stretch: 300 %", "body.yaml:8:12: garment that fits.stretch: 300 % is"},
      {"chest width",
       "chest with",
       "body.yaml:10:5: garment that fits.flat.chest with: there is no such flat measurement (did "
       "you mean 'chest width'?)"},
      {"50.5 cm", "50.5", "body.yaml:10:18: garment that fits.flat.chest width: 50.5 has no unit"},
      {"50.5 cm", "-1 cm", "body.yaml:10:18: garment that fits.flat.chest width: -1 cm is outside"},
      {"50.5 cm", ".nan", "body.yaml:10:18: garment that fits.flat.chest width: '.nan' is not"},
      {"hip width: 54 cm +- 1 cm",
       "skirt length: 70 cm",
       "body.yaml:11:5: garment that fits.flat.skirt length: is taste and says nothing of the"},
      {"hip width",
       "overlap",
       "body.yaml:11:5: garment that fits.flat.overlap: this dress has no such part"},
      {"hip width",
       "chest width",
       "body.yaml:11:5: garment that fits.flat.chest width: is given a"},
      {"garment that fits", "garment that fit", "body.yaml:1:1: the key 'measures' is missing"},
  };
  for (const Slip& slip : slips) {
    INFO(slip.line);
    const BodyRead all = read(replaced(kBody, slip.what, slip.by));
    for (const std::string& line : all.lines) UNSCOPED_INFO(line);
    REQUIRE_FALSE(all.lines.empty());
    CHECK_THAT(all.lines[0], Catch::StartsWith(slip.line));
  }
}

TEST_CASE("what comes from a garment is marked in report and JSON, and a tape goes before it") {
  const tests::Ran ran = run_program({"fit", "data/choir/jobs/alto-3.yaml"});
  CHECK(ran.err.empty());
  CHECK_THAT(ran.out, Catch::Contains("from a garment") || Catch::Contains("a garment\n"));
  const auto hip = [](const std::vector<std::string>& arguments) {
    const auto document = nlohmann::json::parse(run_program(arguments).out);
    return document.at("jobs").at(0).at("body").at("measures").at("hip girth");
  };
  const auto worn = hip({"fit", "data/choir/jobs/alto-3.yaml", "--json", "-", "--no-why"});
  CHECK(worn.at("origin") == "from a garment");
  const auto taped = hip({"fit",
                          "data/choir/jobs/alto-3.yaml",
                          "--body",
                          "hip girth 100 cm",
                          "--json",
                          "-",
                          "--no-why"});
  CHECK(taped.at("origin") == "measured");
  CHECK(taped.at("sd").get<double>() < worn.at("sd").get<double>());
  CHECK_THAT(taped.at("value").get<double>(), WithinAbs(100, 1));
}
