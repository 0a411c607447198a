// `easewright cut`: what it writes and says, and that it writes all of it or nothing.

#include "cut_job.h"
#include "pixels.h"
#include "scratch.h"
#include "tests/catch.h"

#include <cmath>
#include <filesystem>
#include <regex>
#include <sstream>

#include <nlohmann/json.hpp>

using namespace easewright;
using namespace easewright::tests;
namespace fs = std::filesystem;

namespace {

const std::vector<std::string> kFiles = {
    "cutting-plan.pdf", "cutting-plan.svg", "pattern.pdf", "pattern.svg", "slip.txt"};

Ran cut(const std::string& job,
        const std::string& folder,
        const std::vector<std::string>& more = {}) {
  std::vector<std::string> words = {"cut", job, "--out", folder};
  words.insert(words.end(), more.begin(), more.end());
  return run_program(words);
}

void check_refused(const Ran& ran, const std::string& says) {
  INFO(ran.err);
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::Contains(says));
}

/// The report's lines joined, blanks and line ends taken together: a phrase may be wrapped.
std::string unwrapped(const std::string& text) {
  return std::regex_replace(text, std::regex("\\s+"), " ");
}

/// A job of alto 2's with these lines added.
std::string job_with(const Scratch& scratch, const std::string& lines) {
  const std::string data = std::string(EASEWRIGHT_SOURCE_DIR) + "/data/choir/bodies/alto-2.yaml";
  return scratch.write(
      "job.yaml",
      "job: alto 2, again\nbody: " + data + "\ncloth: choir bolt\nstyle: concert dress\n" + lines);
}

}  // namespace

TEST_CASE("cut writes pattern and cutting plan, and says what is cut, sewn and bought") {
  const Scratch scratch;
  const Ran ran = cut(choir_job("alto-2"), scratch.path("new/deep"));
  INFO(ran.out << ran.err);
  CHECK(ran.exit_code == 0);
  CHECK(scratch.files() == std::vector<std::string>{"new/deep/cutting-plan.pdf",
                                                    "new/deep/cutting-plan.svg",
                                                    "new/deep/pattern.pdf",
                                                    "new/deep/pattern.svg",
                                                    "new/deep/slip.txt"});
  // What is sewn is what `slip` says.
  CHECK(bytes_of(scratch.path("new/deep/slip.txt")) ==
        run_program({"slip", choir_job("alto-2")}).out);
  for (const std::string& line : lines_of(ran.out)) CHECK(line.size() <= 80);
  const std::string said = unwrapped(ran.out);
  CHECK_THAT(said, Catch::Contains("FITS: all"));
  CHECK_THAT(said, Catch::Contains("1 bodice front: 1 on the fold, cloth"));
  CHECK_THAT(said, Catch::Contains("4 skirt front: 2, left and right, cloth"));
  CHECK_THAT(said, Catch::Contains("side seam: bodice front to bodice back, "));
  CHECK_THAT(said, Catch::Contains("Cloth choir bolt, 145 cm wide, folded right sides together"));
  CHECK_THAT(said, Catch::Contains("by area, width and the longest piece it takes "));
}

TEST_CASE("seams are said as long as the model has them, the longer one's ease told") {
  const CutJob job = cut_job("alto-2");
  const Scratch scratch;
  const std::string said =
      unwrapped(cut(choir_job("alto-2"), scratch.path("o"), {"--no-plan"}).out);
  const std::regex row(
      R"((side seam|shoulder): bodice front to bodice back, ([0-9.]+)( to ([0-9.]+))? cm, (equal|([0-9.]+) eased in))");
  int rows = 0;
  for (auto it = std::sregex_iterator(said.begin(), said.end(), row); it != std::sregex_iterator();
       ++it) {
    const std::smatch& m = *it;
    INFO(m.str());
    const double first = std::stod(m[2]);
    const double second = m[4].matched ? std::stod(m[4]) : first;
    // Rounded to the millimetre; the second length follows from the first's and the ease.
    CHECK_THAT(first, WithinAbs(job.pieces[0].seam_length(m[1]), 0.0501));
    CHECK_THAT(second, WithinAbs(job.pieces[1].seam_length(m[1]), 0.1501));
    CHECK_THAT(std::abs(first - second), WithinAbs(m[6].matched ? std::stod(m[6]) : 0, 1e-9));
    ++rows;
  }
  CHECK(rows == 2);
}

TEST_CASE("what is to be bought is enough, in metres and in eighths of a yard alike") {
  const Scratch scratch;
  for (const char* job : {"alto-2", "bass-1", "soprano-1"}) {
    const std::string said = unwrapped(cut(choir_job(job), scratch.path(job)).out);
    const std::regex bought(
        R"(buy ([0-9.]+) m \((([0-9]+) )?(([0-9])/([0-9]) )?yd\); pieces fill ([0-9]+) % of ([0-9.]+) m; by area, width and the longest piece it takes ([0-9.]+) m)");
    int plans = 0;
    for (auto it = std::sregex_iterator(said.begin(), said.end(), bought);
         it != std::sregex_iterator();
         ++it) {
      const std::smatch& m = *it;
      INFO(m.str());
      const double metres = std::stod(m[1]), used = std::stod(m[8]), bound = std::stod(m[9]);
      double yards = m[3].matched ? std::stod(m[3]) : 0;
      if (m[5].matched) yards += std::stod(m[5]) / std::stod(m[6]);
      // Washed before cutting, the choir's bolt does not shrink. A yard is 0.9144 m, exactly.
      CHECK(metres >= used - 0.005);
      CHECK(metres < used + 0.105);
      CHECK(0.9144 * yards >= used - 0.005);
      CHECK(0.9144 * (yards - 0.125) < used + 0.005);
      CHECK(bound <= used + 0.005);
      CHECK(std::stod(m[7]) <= 100);
      ++plans;
    }
    CHECK(plans == 2);  // cloth and lining
  }
}

TEST_CASE("the same job gives the same bytes") {
  const Scratch scratch;
  const std::vector<std::string> how = {"--date", "1 May", "--paper", "a3"};
  CHECK(cut(choir_job("mezzo-2"), scratch.path("a"), how).exit_code <= 1);
  CHECK(cut(choir_job("mezzo-2"), scratch.path("b"), how).exit_code <= 1);
  for (const std::string& file : kFiles) {
    INFO(file);
    CHECK(bytes_of(scratch.path("a/" + file)) == bytes_of(scratch.path("b/" + file)));
  }
}

TEST_CASE(
    "what does not fit is drawn, and says so on the terminal, on the sheets and to the shell") {
  const Scratch scratch;
  // Her slit is wished so high that the fronts part at the knee: a should is missed.
  const Ran ran = cut(choir_job("soprano-2"), scratch.path("o"), {"--no-plan"});
  CHECK(ran.exit_code == 1);
  CHECK(lines_of(ran.out).at(1).starts_with("DOES NOT FIT WELL: "));
  CHECK_THAT(ran.out, Catch::Contains("fronts cover the knee when seated"));
  if (!can_render()) return;
  const std::string first = words_of_pdf(scratch.path("o/pattern.pdf"), 1);
  CHECK_THAT(first, Catch::Contains("DOES NOT FIT WELL"));
  CHECK_THAT(first, Catch::Contains("fronts cover the knee when seated"));
  const std::string all = words_of_pdf(scratch.path("o/pattern.pdf"));
  // Six pieces are printed; a label may be cut by the edge of a sheet, and so be read in parts.
  size_t warned = 0;
  for (size_t at = all.find("DOES NOT FIT: see"); at != std::string::npos;
       at = all.find("DOES NOT FIT: see", at + 1))
    ++warned;
  CHECK(warned >= 3);
}

TEST_CASE("other files of the folder stay, our own are replaced") {
  const Scratch scratch;
  scratch.write("o/notes.txt", "keep me");
  scratch.write("o/pattern.pdf", "old");
  CHECK(cut(choir_job("tenor-1"), scratch.path("o"), {"--no-plan"}).exit_code == 0);
  CHECK(bytes_of(scratch.path("o/notes.txt")) == "keep me");
  CHECK(bytes_of(scratch.path("o/pattern.pdf")).starts_with("%PDF"));
  CHECK(scratch.files() ==
        std::vector<std::string>{"o/notes.txt", "o/pattern.pdf", "o/pattern.svg", "o/slip.txt"});
}

TEST_CASE("where one file can't be written, none is, and no folder is left behind") {
  const Scratch scratch;
  scratch.write("o/pattern.pdf", "old");
  fs::create_directories(scratch.path("o/cutting-plan.svg"));
  check_refused(cut(choir_job("tenor-1"), scratch.path("o")), "cutting-plan.svg");
  CHECK(scratch.files() == std::vector<std::string>{"o/pattern.pdf"});
  CHECK(bytes_of(scratch.path("o/pattern.pdf")) == "old");

  scratch.write("file", "no folder");
  check_refused(cut(choir_job("tenor-1"), scratch.path("file")), "no folder");
  check_refused(cut(choir_job("tenor-1"), scratch.path("file/below")), "no folder");

  // Nobody reads the report: nothing is to have been written.
  if (!fs::exists("/dev/full")) return;
  const Ran full = run_program_into(
      "/dev/full", {"cut", choir_job("tenor-1"), "--out", scratch.path("fresh/one")});
  CHECK(full.exit_code == 2);
  CHECK_FALSE(fs::exists(scratch.path("fresh")));
}

TEST_CASE("a slip on the command line writes nothing") {
  const Scratch scratch;
  const std::string job = choir_job("tenor-1"), o = scratch.path("o");
  check_refused(run_program({"cut", job}), "--out");
  check_refused(cut(job, ""), "a folder's name is wanted");
  check_refused(cut(job, o, {"--paper", "a5"}), "a5");
  check_refused(cut(job, o, {"--lay", "double"}), "double");
  check_refused(cut(job, o, {"--width", "150"}), "--width");
  check_refused(cut(job, o, {"--width", "5 cm"}), "5 cm is outside 20-400 cm");
  check_refused(cut(job, o, {"--date", ""}), "--date");
  check_refused(cut(job, o, {"--date", "a\nb"}), "--date");
  check_refused(cut(job, o, {"--date", std::string(41, 'x')}), "--date");
  check_refused(cut(job, o, {"--papr", "a4"}), "did you mean '--paper'");
  check_refused(cut(scratch.path("none.yaml"), o), "none.yaml");
  CHECK(scratch.files().empty());
  CHECK_FALSE(fs::exists(o));
}

TEST_CASE("allowances of the job are read by seam, and slips in them told with their place") {
  const Scratch scratch;
  const std::string file = job_with(scratch,
                                    "allowances:\n"
                                    "  side: 25 mm\n"
                                    "  neck: 1/2 in\n"
                                    "  front edge: 0 cm\n");
  REQUIRE(cut(file, scratch.path("o"), {"--no-plan", "--paper", "whole"}).exit_code == 0);
  if (can_render()) {
    const std::string words = unwrapped(words_of_pdf(scratch.path("o/pattern.pdf")));
    CHECK_THAT(words, Catch::Contains("side seam 2.5 cm"));
    CHECK_THAT(words, Catch::Contains("neckline 1.3 cm"));
  }
  const Ran bad = cut(job_with(scratch,
                               "allowances:\n"
                               "  sides: 2 cm\n"
                               "  shoulder: 2\n"
                               "  armhole: 9 cm\n"
                               "  hem: 3 cm\n"
                               "  waist: 2 cm\n"
                               "  centre back: 2 cm\n"),
                      scratch.path("p"));
  INFO(bad.err);
  CHECK(bad.exit_code == 2);
  const auto lines = lines_of(bad.err);
  REQUIRE(lines.size() == 6);
  CHECK_THAT(lines[0], Catch::Contains(":6:3: allowances.sides: ") && Catch::Contains("'side'"));
  CHECK_THAT(lines[1], Catch::Contains(":7:13: allowances.shoulder: "));
  CHECK_THAT(lines[2], Catch::Contains("9 cm is outside 0-5 cm"));
  CHECK_THAT(lines[3], Catch::Contains("hem turn"));
  CHECK_THAT(lines[4], Catch::Contains("casing allowance"));
  CHECK_THAT(lines[5], Catch::Contains("centre back: seam"));
  CHECK_FALSE(fs::exists(scratch.path("p")));
  // fit and the others leave the section alone.
  CHECK(run_program({"fit", file, "--brief"}).exit_code == 0);
}

TEST_CASE("cut with inches prints Letter, and writes lengths in eighths") {
  const Scratch scratch;
  const Ran ran = cut(choir_job("bass-1"), scratch.path("o"), {"--units", "in", "--date", "1 May"});
  CHECK_THAT(ran.out, Catch::Contains("sheets of Letter"));
  CHECK_THAT(ran.out, Catch::Contains("57 1/8 in wide"));  // 145 cm: 57.09 in
  for (const auto& [width, height] : media_boxes(bytes_of(scratch.path("o/pattern.pdf")))) {
    CHECK_THAT(width, WithinAbs(612, 1e-3));  // 8 1/2 by 11 in, in 1/72
    CHECK_THAT(height, WithinAbs(792, 1e-3));
  }
  if (can_render())
    CHECK_THAT(words_of_pdf(scratch.path("o/pattern.pdf")), Catch::Contains("1 May"));
}

TEST_CASE("another width and another way to lay the cloth change the plan and not the pattern") {
  const Scratch scratch;
  const auto said = [&](const char* name, const std::vector<std::string>& more) {
    return unwrapped(cut(choir_job("alto-1"), scratch.path(name), more).out);
  };
  const std::string folded = said("a", {}), single = said("b", {"--lay", "single"});
  const std::string wide = said("c", {"--lay", "single", "--width", "1.5 m"});
  CHECK_THAT(folded, Catch::Contains("145 cm wide, folded right sides together"));
  CHECK_THAT(single, Catch::Contains("145 cm wide, in a single layer"));
  CHECK_THAT(wide, Catch::Contains("150 cm wide, in a single layer"));
  CHECK(bytes_of(scratch.path("a/pattern.pdf")) == bytes_of(scratch.path("b/pattern.pdf")));
  CHECK(bytes_of(scratch.path("a/cutting-plan.svg")) !=
        bytes_of(scratch.path("b/cutting-plan.svg")));
}

TEST_CASE("cut for programs: pieces, sheets, and cloth that holds what lies on it") {
  const Scratch scratch;
  const Ran ran = run_program({"cut",
                               choir_job("tenor-1"),
                               choir_job("alto-2"),
                               "--out",
                               scratch.path("o"),
                               "--json",
                               "-"});
  INFO(ran.err);
  const auto document = nlohmann::json::parse(ran.out);
  CHECK(document.at("command") == "cut");
  const auto& alto = document.at("garments").at(1);
  CHECK(alto.at("job").at("fits") == true);
  const CutJob job = cut_job("alto-2");
  REQUIRE(alto.at("pieces").size() == job.pieces.size());
  for (size_t i = 0; i < job.pieces.size(); ++i) {
    const auto& piece = alto.at("pieces").at(i);
    CHECK(piece.at("name") == job.pieces[i].name);
    for (const auto& edge : piece.at("edges")) {
      const PieceEdge* drawn = job.pieces[i].edge(edge.at("name"));
      REQUIRE(drawn != nullptr);
      CHECK_THAT(edge.at("length").get<double>(), WithinAbs(drawn->length(), 1e-6));
    }
  }
  // Joined seam lines are equal within 0.1 (trade notes, section 14), and the sum is one.
  for (const auto& seam : alto.at("seams")) {
    const double first = seam.at("first length"), second = seam.at("second length");
    const double eased = seam.at("eased"), off = seam.at("off");
    CHECK_THAT(first - second - eased - off, WithinAbs(0, 5e-6));
    CHECK(std::abs(off) <= 0.1);
  }
  // As many sheets as the file has pages.
  CHECK(media_boxes(bytes_of(scratch.path("o/alto-2/pattern.pdf"))).size() == alto.at("sheets"));
  CHECK(alto.at("paper") == "A4");

  const auto& plans = document.at("plans");
  REQUIRE(plans.size() == 2);
  for (const auto& plan : plans) {
    const double width = plan.at("width"), length = plan.at("length"), bound = plan.at("bound");
    double cut = 0, wanted = 0, end = 0;
    for (const auto& placed : plan.at("placed")) {
      const auto& pieces =
          document.at("garments").at(placed.at("garment").get<size_t>()).at("pieces");
      const auto& piece = pieces.at(placed.at("piece").get<size_t>() - 1);
      CHECK(placed.at("across").at(0) >= 0);
      CHECK(placed.at("across").at(1) <= width + 1e-6);
      end = std::max(end, placed.at("along").at(1).get<double>());
      // Opened out on a single layer, a half is laid whole.
      const double halves = piece.at("on the fold") ? 2 : 1;
      cut += halves * piece.at("area").get<double>();
      CHECK_THAT(placed.at("across").at(1).get<double>() - placed.at("across").at(0).get<double>(),
                 WithinAbs(halves * piece.at("width").get<double>(), 0.01));
    }
    for (const auto& garment : document.at("garments")) {
      for (const auto& piece : garment.at("pieces")) {
        if (piece.at("of") != plan.at("of")) continue;
        wanted += piece.at("count").get<double>() * (piece.at("on the fold") ? 2 : 1) *
                  piece.at("area").get<double>();
      }
    }
    // Every piece is laid as often as it is cut. The least length is area over width, the share
    // that is filled area over cloth (geometry); nothing lies beyond the end.
    CHECK_THAT(cut, WithinAbs(wanted, 1e-3));
    CHECK_THAT(bound, WithinAbs(cut / width, 0.01));
    CHECK_THAT(plan.at("filled").get<double>(), WithinAbs(cut / (width * length), 1e-3));
    CHECK(end <= length + 1e-6);
    // The choir's bolt does not shrink. A yard is 0.9144 m, exactly.
    CHECK(plan.at("buy").at("m").get<double>() >= length / 100 - 1e-9);
    CHECK(plan.at("buy").at("yd").get<double>() * 0.9144 >= length / 100 - 1e-9);
  }

  // Into a file beside the pattern, and never over it.
  const std::string into = scratch.path("p/cut.json");
  CHECK(cut(choir_job("bass-1"), scratch.path("p"), {"--no-plan", "--json", into}).exit_code == 0);
  CHECK(nlohmann::json::parse(bytes_of(into)).at("plans").empty());
  check_refused(cut(choir_job("bass-1"), scratch.path("q"), {"--json", scratch.path("q/slip.txt")}),
                "would be written over");
  CHECK_FALSE(fs::exists(scratch.path("q")));
}

TEST_CASE("of several jobs each has a folder, and one plan is of all") {
  const Scratch scratch;
  const Ran ran = run_program({"cut",
                               choir_job("tenor-1"),
                               choir_job("bass-1"),
                               choir_job("bass-2"),
                               "--out",
                               scratch.path("o")});
  INFO(ran.out << ran.err);
  CHECK(ran.exit_code <= 1);
  CHECK(scratch.files() == std::vector<std::string>{"o/bass-1/pattern.pdf",
                                                    "o/bass-1/pattern.svg",
                                                    "o/bass-1/slip.txt",
                                                    "o/bass-2/pattern.pdf",
                                                    "o/bass-2/pattern.svg",
                                                    "o/bass-2/slip.txt",
                                                    "o/cutting-plan.pdf",
                                                    "o/cutting-plan.svg",
                                                    "o/tenor-1/pattern.pdf",
                                                    "o/tenor-1/pattern.svg",
                                                    "o/tenor-1/slip.txt"});
  for (const std::string& line : lines_of(ran.out)) CHECK(line.size() <= 80);
  // A group lies in a single layer where nothing is said.
  CHECK_THAT(unwrapped(ran.out), Catch::Contains("145 cm wide, in a single layer: buy "));
  const std::string plan = bytes_of(scratch.path("o/cutting-plan.svg"));
  for (const char* title : {"tenor 1: bodice front", "bass 1: bodice back", "bass 2: bodice back"})
    CHECK_THAT(plan, Catch::Contains("<title>" + std::string(title)));

  // The same wearer twice: no folder is written twice.
  const Ran twice = run_program(
      {"cut", choir_job("bass-1"), choir_job("bass-1"), "--no-plan", "--out", scratch.path("p")});
  CHECK(twice.exit_code == 0);
  CHECK(fs::exists(scratch.path("p/bass-1/pattern.pdf")));
  CHECK(fs::exists(scratch.path("p/bass-1-2/pattern.pdf")));
}

TEST_CASE("names on the plan of a group are read word by word") {
  // A belt's strip is drawn 5 mm wide: its name runs along it, and no word is broken into letters.
  const Scratch scratch;
  const Ran ran = run_program({"cut",
                               choir_job("soprano-1"),
                               choir_job("soprano-2"),
                               choir_job("mezzo-1"),
                               choir_job("alto-1"),
                               "--out",
                               scratch.path("o")});
  REQUIRE(ran.exit_code <= 1);
  const std::string plan = bytes_of(scratch.path("o/cutting-plan.svg"));
  const std::string known =
      " soprano mezzo alto bodice skirt lining front front, back belt, flipped of 1 2 3 4 5 6 7 1: "
      "2: 1, ";
  const std::regex text(">([^<>]+)</text>");
  size_t names = 0;
  for (auto it = std::sregex_iterator(plan.begin(), plan.end(), text); it != std::sregex_iterator();
       ++it) {
    const std::string line = (*it)[1];
    // Names alone: rulers and what stands over the plan have other words.
    if (line.find("bodice") == std::string::npos && line.find("skirt") == std::string::npos &&
        line.find("belt") == std::string::npos)
      continue;
    std::istringstream words(line);
    for (std::string word; words >> word;) {
      INFO(line);
      CHECK_THAT(known, Catch::Contains(" " + word + " "));
    }
    ++names;
  }
  // Of each dress bodice, skirt and belt: five pieces at least of which are named on one line.
  CHECK(names >= 20);
  // Broken, a word stands in letters: none of two or three is a part of a name.
  const std::regex broken(">(so|pr|an|be|lt|lt,|bo|di|ce|sk|ir)</text>");
  CHECK_FALSE(std::regex_search(plan, broken));
}

TEST_CASE("nap and print are laid in a single layer, and said") {
  const Scratch scratch;
  const auto said = [&](const char* cloth) {
    return unwrapped(cut(choir_job("soprano-1"), scratch.path("o"), {"--cloth", cloth}).out);
  };
  CHECK_THAT(said("velvet"), Catch::Contains("in a single layer, all one way"));
  CHECK_THAT(said("silk georgette print"), Catch::Contains("in a single layer, its print matched"));
}

TEST_CASE("one plan is of one cloth") {
  const Scratch scratch;
  const std::string other =
      scratch.write("linen.yaml",
                    "job: alto 2 in linen\nbody: " + std::string(EASEWRIGHT_SOURCE_DIR) +
                        "/data/choir/bodies/alto-2.yaml\n"
                        "cloth: linen\nstyle: concert dress\n");
  const std::vector<std::string> both = {
      "cut", choir_job("alto-1"), other, "--out", scratch.path("o")};
  check_refused(run_program(both), "one cutting plan is of one cloth");
  CHECK_FALSE(fs::exists(scratch.path("o")));
  std::vector<std::string> apart = both;
  apart.push_back("--no-plan");
  CHECK(run_program(apart).exit_code <= 1);
}

TEST_CASE("every job and every style of the demo is drawn") {
  const Scratch scratch;
  size_t count = 0;
  for (const std::string& job : demo_jobs()) {
    for (const char* style : {"concert dress", "concert top", "fitted dress", "junior dress"}) {
      if (!soaking() && style != std::string("concert dress") && job != demo_jobs().front())
        continue;
      INFO(job << ", " << style);
      const Ran ran = cut(job,
                          scratch.path(std::to_string(++count)),
                          {"--no-plan", "--style", style, "--paper", "letter"});
      INFO(ran.err);
      CHECK(ran.exit_code <= 1);
    }
  }
  CHECK(count >= 14);
}
