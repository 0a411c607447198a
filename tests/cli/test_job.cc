// Jobs read as they are written: names, paths, overrides.

#include "cli/read/data_folder.h"
#include "cli/read/job.h"
#include "scratch.h"
#include "tests/catch.h"

#include <algorithm>
#include <filesystem>

using namespace easewright;
using tests::Scratch;

namespace {

const std::string kData = std::string(EASEWRIGHT_SOURCE_DIR) + "/data";

LoadedJob loaded(const std::string& file,
                 const Overrides& overrides = {},
                 Draft draft = Draft::optional) {
  Complaints complaints;
  auto job = read_job(file, kData, overrides, draft, complaints);
  for (const Complaint& c : complaints.in_order()) UNSCOPED_INFO(to_string(c));
  REQUIRE(job);
  return *job;
}

const Wish& wish_of(const std::vector<Wish>& wishes, std::string_view id) {
  const auto found =
      std::find_if(wishes.rbegin(), wishes.rend(), [id](const Wish& w) { return w.id == id; });
  REQUIRE(found != wishes.rend());
  return *found;
}

constexpr const char* kInline =
    "job: tenor 3\n"
    "body:\n"
    "  build: man\n"
    "  waist level: iso\n"
    "  measures: {bust girth: 40 in, hip girth: 98 cm +- 1 cm, waist girth: 84 cm, age: 34 years}\n"
    "cloth: {cloth: remnant, width: 90 cm, nap: yes, bias growth: 2 %}\n"
    "style:\n"
    "  style: plain top\n"
    "  put on: over the head\n"
    "  switches: {skirt: none, lining: unlined}\n"
    "  values: {strap slope: {habit: body.shoulder_slope, fixed: true}}\n"
    "  wishes: {neckline depth: {from: 6 cm, to: 9 cm, tolerance: 0.4 cm, strength: should}}\n"
    "switches: {put on: [side opening, over the head]}\n"
    "wishes:\n"
    "  strap width: 4 to 6 cm\n"
    "  neckline depth: at most body.bust_girth / 8\n"
    "  strap slope: at least 15 deg\n"
    "units: in\n"
    "draft: {neckline depth: 3 1/8 in, strap slope: 18 deg}\n";

}  // namespace

TEST_CASE("a job written out in one file is read whole") {
  const Scratch scratch;
  const Job job = loaded(scratch.write("job.yaml", kInline)).job;
  CHECK(job.label == "tenor 3");
  CHECK(job.body.label == "tenor 3");
  CHECK(job.body.build == Build::man);
  CHECK(job.body.waist_level == WaistLevel::iso);
  CHECK_THAT(job.body[BodyKey::bust_girth]->value, WithinAbs(101.6, 1e-12));  // 40 x 2.54
  CHECK(job.body[BodyKey::bust_girth]->sd == info(BodyKey::bust_girth).default_sd);
  CHECK(job.body[BodyKey::hip_girth]->sd == 1.0);
  CHECK_FALSE(job.body[BodyKey::stature]);
  CHECK(job.cloth.width == 90);
  CHECK(job.cloth.nap);
  CHECK_FALSE(job.cloth.leaves_holes);
  CHECK_THAT(job.cloth.bias_growth, WithinAbs(0.02, 1e-15));
  CHECK(job.style.switches.is(Switch::skirt, "none"));
  CHECK(job.style.switches.is(Switch::lining, "unlined"));
  CHECK(job.style.put_on == std::vector<int>{2, 0});  // the job's own, in its order
  REQUIRE(job.style.overrides.size() == 1);
  CHECK(job.style.overrides[0].fixed);
  const Wish& depth = wish_of(job.style.wishes, "neckline.depth");
  CHECK(depth.strength == solver::Level::should);
  CHECK(depth.tolerance == 0.4);
  const Wish& most = wish_of(job.wishes, "neckline.depth");
  CHECK_FALSE(most.lo);
  CHECK(most.hi->text() == "body.bust_girth / 8");
  CHECK(most.strength == solver::Level::wish);
  const Wish& width = wish_of(job.wishes, "strap.width");
  CHECK(width.lo->dimension() == kLength);  // the 4 takes the unit of the 6
  CHECK_THAT(width.where, Catch::EndsWith("job.yaml:15"));
  CHECK_THAT(wish_of(job.wishes, "strap.slope").tolerance, WithinAbs(radians(2), 1e-15));
  CHECK(job.unit == LengthUnit::inch);
  REQUIRE(job.draft.size() == 2);
  CHECK(job.draft[0].first == ValueKey::neckline_depth);
  CHECK_THAT(job.draft[0].second, WithinAbs(7.9375, 1e-12));  // 3.125 x 2.54
  CHECK_THAT(job.draft[1].second, WithinAbs(radians(18), 1e-12));
}

TEST_CASE("paths start at the file that names them") {
  CHECK(beside("jobs/a.yaml", "../bodies/b.yaml") == "bodies/b.yaml");
  CHECK(beside("a.yaml", "b.yaml") == "b.yaml");
  CHECK(beside("/x/jobs/a.yaml", "../bodies/b.yaml") == "/x/bodies/b.yaml");
  CHECK(beside("jobs/a.yaml", "/bodies/b.yaml") == "/bodies/b.yaml");
  CHECK(is_path("a/b"));
  CHECK(is_path("a.yaml"));
  CHECK_FALSE(is_path("choir bolt"));
}

TEST_CASE("what the command line says goes before the files") {
  const Overrides overrides{.wishes = {"neckline depth 20 cm", "strap width: at least 5 cm"},
                            .measures = {"bust girth 94 cm", "hip girth = 40 in"},
                            .switches = {"side dart sewn", "put on side opening"},
                            .style = "fitted dress",
                            .cloth = "velvet",
                            .unit = LengthUnit::inch};
  const LoadedJob job = loaded(tests::choir_job("alto-2"), overrides);
  const Wish& depth = wish_of(job.job.wishes, "neckline.depth");
  CHECK(depth.where == "command line");
  REQUIRE(depth.lo);
  CHECK(depth.lo->text() == "20 cm");
  CHECK_FALSE(wish_of(job.job.wishes, "strap.width").hi);
  CHECK(job.job.body[BodyKey::bust_girth]->value == 94);
  CHECK_THAT(job.job.body[BodyKey::hip_girth]->value, WithinAbs(101.6, 1e-12));
  CHECK(job.places.of("measures.bust girth").file == "--body");
  CHECK(job.job.style.switches.is(Switch::side_dart, "sewn"));
  CHECK(job.job.style.put_on == std::vector<int>{2});
  CHECK(job.job.style.label == "fitted dress");
  CHECK(job.job.cloth.label == "velvet");
  CHECK(job.job.unit == LengthUnit::inch);
}

TEST_CASE("every shipped style, cloth, body and job is read, and its name is its file's") {
  size_t read = 0;
  for (const std::string room : {"styles", "cloths"}) {
    for (const std::string& name : names_in(kData, room)) {
      INFO(room << ": " << name);
      Overrides overrides;
      (room == "styles" ? overrides.style : overrides.cloth) = name;
      const LoadedJob job = loaded(tests::choir_job("alto-2"), overrides);
      CHECK((room == "styles" ? job.job.style.label : job.job.cloth.label) == name);
      ++read;
    }
  }
  for (const std::string& file : tests::demo_jobs()) {
    INFO(file);
    const LoadedJob job = loaded(file);
    CHECK_FALSE(job.job.body.label.empty());
    CHECK_THAT(job.job.label, Catch::StartsWith(job.job.body.label));
    ++read;
  }
  CHECK(read >= 2 + 2 + 8);
}

TEST_CASE("a check has to bring its draft") {
  Complaints complaints;
  CHECK_FALSE(read_job(tests::choir_job("alto-2"), kData, {}, Draft::required, complaints));
  REQUIRE(complaints.size() == 1);
  CHECK_THAT(to_string(complaints.in_order()[0]), Catch::EndsWith("the key 'draft' is missing"));
}
