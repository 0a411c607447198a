// `easewright fit --html`: one well-formed file that fetches nothing, with everything in it that
// the report says, and nothing in it that a label could make of it.

#include "scratch.h"
#include "tests/catch.h"
#include "xml.h"

#include <algorithm>
#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace easewright::tests;
using Catch::Contains;

namespace {

/// What would be fetched, run or sent; empty when the page stands by itself. After the HTML
/// standard's list of attributes that hold URLs, and CSS's two ways to name a file.
std::string reaches_out(const Xml& page) {
  static const std::set<std::string> loading = {"script",
                                                "link",
                                                "img",
                                                "iframe",
                                                "object",
                                                "embed",
                                                "audio",
                                                "video",
                                                "source",
                                                "base",
                                                "form",
                                                "image",
                                                "feImage",
                                                "use",
                                                "a",
                                                "foreignObject"};
  static const std::set<std::string> urls = {"src",
                                             "href",
                                             "xlink:href",
                                             "action",
                                             "data",
                                             "srcset",
                                             "poster",
                                             "background",
                                             "cite",
                                             "ping",
                                             "formaction"};
  for (const XmlElement& e : page.elements) {
    if (loading.count(e.name) != 0) return "element " + e.name;
    for (const auto& [name, value] : e.attributes) {
      if (name.starts_with("on")) return "handler " + name;
      if (urls.count(name) != 0) return name + "=" + value;
      if (value.find("url(") != std::string::npos && value.find("url(#") == std::string::npos)
        return name + "=" + value;
      const bool is_namespace = name == "xmlns" || name.starts_with("xmlns:");
      if (value.find("://") != std::string::npos && !is_namespace) return name + "=" + value;
    }
    if (e.name != "style") continue;
    for (const char* way : {"url(", "@import", "://", "expression("})
      if (e.text.find(way) != std::string::npos) return std::string("style: ") + way;
  }
  return "";
}

/// Ids that are there twice.
std::vector<std::string> ids_twice(const Xml& page) {
  std::set<std::string> seen;
  std::vector<std::string> twice;
  for (const XmlElement& e : page.elements) {
    const auto id = e.attributes.find("id");
    if (id != e.attributes.end() && !seen.insert(id->second).second) twice.push_back(id->second);
  }
  return twice;
}

size_t count(const Xml& page, const std::string& name) { return page.texts_of(name).size(); }

std::vector<std::string> with_class(const Xml& page, const std::string& css) {
  std::vector<std::string> texts;
  for (const XmlElement& e : page.elements) {
    const auto at = e.attributes.find("class");
    if (at != e.attributes.end() && at->second == css) texts.push_back(e.text);
  }
  return texts;
}

Xml page_of(const std::vector<std::string>& arguments, int exit_code) {
  const Scratch scratch;
  std::vector<std::string> all = {"fit"};
  all.insert(all.end(), arguments.begin(), arguments.end());
  all.insert(all.end(), {"--html", scratch.path("out.html")});
  const Ran ran = run_program(all);
  INFO(ran.err);
  CHECK(ran.exit_code == exit_code);
  return read_xml(bytes_of(scratch.path("out.html")));
}

}  // namespace

TEST_CASE("the reader of XML sees what is wrong with a page") {
  CHECK(read_xml("<!DOCTYPE html>\n<a b=\"c\" d='e'><f/>g &amp; h</a>\n").wrong.empty());
  CHECK(read_xml("<a>x &lt;<b>y</b></a>").elements[0].text == "x <y");
  for (const char* bad : {"<a>",
                          "<a></b>",
                          "<a b=\"c></a>",
                          "<a>&nbsp;</a>",
                          "<a>&</a>",
                          "<a/><b/>",
                          "",
                          "<a",
                          "<a></a></a>",
                          "<a b=c></a>",
                          "<a b=\"1\" b=\"2\"/>",
                          "<a b=\"1\"c=\"2\"/>",
                          "x<a/>",
                          "<a b=\"<\"/>",
                          "<1a/>",
                          "<a>\x01</a>",
                          "<a>\xC3</a>",
                          "<a>< b</a>",
                          "<a b/>"}) {
    INFO(bad);
    CHECK_FALSE(read_xml(bad).wrong.empty());
  }
  for (const char* bad : {"<a><script/></a>",
                          "<a onload=\"x\"/>",
                          "<a src=\"x\"/>",
                          "<b><style>@import x</style></b>",
                          "<b style=\"background: url(x)\"/>",
                          "<b c=\"https://x\"/>"}) {
    INFO(bad);
    const Xml page = read_xml(bad);
    CHECK(page.wrong.empty());
    CHECK_FALSE(reaches_out(page).empty());
  }
  CHECK(
      reaches_out(read_xml("<b fill=\"url(#x)\" xmlns=\"http://www.w3.org/2000/svg\"/>")).empty());
  CHECK(ids_twice(read_xml("<b id=\"x\"><c id=\"x\"/></b>")).size() == 1);
}

TEST_CASE("every demo job makes a page that is well-formed and stands by itself") {
  for (const std::string& job : demo_jobs()) {
    INFO(job);
    const Scratch scratch;
    const std::string file = scratch.path("out.html");
    const Ran ran = run_program({"fit", job, "--no-why", "--html", file});
    REQUIRE(ran.exit_code <= 1);
    const std::string bytes = bytes_of(file);
    CHECK(bytes.starts_with("<!DOCTYPE html>\n"));
    const Xml page = read_xml(bytes);
    CHECK(page.wrong == "");
    CHECK(reaches_out(page) == "");
    CHECK(ids_twice(page) == std::vector<std::string>{});
    CHECK(count(page, "h1") == 1);
    CHECK(count(page, "article") == 1);
    // The garment on the body, and two pieces of a bodice at least.
    CHECK(count(page, "figure") >= 3);
    CHECK(count(page, "svg") >= count(page, "figure"));
    const auto scaled = with_class(page, "scaled");
    CHECK(scaled.size() == count(page, "figure") - 1);
    CHECK_THAT(scaled.front(), Contains("1 bodice front: cut 1 on the fold, cloth"));
    CHECK(with_class(page, "slip").size() == 1);
    // The report's verdict is the page's.
    const std::string head = page.texts_of("strong").front();
    CHECK_THAT(ran.out, Contains(head + ": "));
    CHECK(with_class(page, "verdict missed").size() == (ran.exit_code == 1 ? 1 : 0));
  }
}

TEST_CASE("misses come with their remedies, as they are typed") {
  const Xml page = page_of({"data/choir/jobs/soprano-2.yaml"}, 1);
  REQUIRE(page.wrong == "");
  CHECK(with_class(page, "tag should").size() == 1);
  const auto items = page.texts_of("li");
  CHECK_THAT(items.front(),
             Contains("fronts cover the knee when seated") && Contains("Can't all hold:") &&
                 Contains("Remedy: slit opening above knee 12 -> 8.6 cm"));
  // The remedy's words, typed, make the rule hold.
  const std::string typed = page.texts_of("code").front();
  CHECK_THAT(typed, Catch::StartsWith("--wish 'slit opening above knee "));
  const std::string wish = typed.substr(8, typed.size() - 9);
  CHECK(run_program({"fit", "data/choir/jobs/soprano-2.yaml", "--wish", wish}).exit_code == 0);
}

TEST_CASE("a draft of one's own makes a page too, and says what can't be sewn of it") {
  const Scratch scratch;
  const std::string source = EASEWRIGHT_SOURCE_DIR "/data/choir/";
  scratch.write("body.yaml", bytes_of(source + "bodies/alto-2.yaml"));
  const std::string job = "job: own\nbody: body.yaml\ncloth: choir bolt\nstyle: concert dress\n";
  const auto checked = [&](const std::string& draft) {
    const std::string file = scratch.write("job.yaml", job + "draft: {" + draft + "}\n");
    const Ran ran = run_program({"check", file, "--html", scratch.path("out.html")});
    INFO(ran.err);
    CHECK(ran.exit_code == 1);
    Xml page = read_xml(bytes_of(scratch.path("out.html")));
    CHECK(page.wrong == "");
    CHECK(reaches_out(page) == "");
    CHECK(with_class(page, "slip").size() == 1);
    return page;
  };
  const Xml sides = checked("bodice front waist: 20 cm");
  CHECK_THAT(sides.texts_of("li").front(), Contains("side seams are equal"));
  CHECK_THAT(with_class(sides, "slip").front(), Contains("don't meet: true them first"));
}

TEST_CASE("an alteration makes a page: faults, steps, before and after") {
  const Scratch scratch;
  for (const char* name : {"alto-1-tried-on", "soprano-2-tried-on", "mezzo-1-tried-on"}) {
    INFO(name);
    const std::string file = scratch.path("out.html");
    const Ran ran = run_program({"alter", choir_job(name), "--html", file});
    INFO(ran.err);
    REQUIRE(ran.exit_code <= 1);
    CHECK(ran.exit_code == run_program({"alter", choir_job(name)}).exit_code);
    const Xml page = read_xml(bytes_of(file));
    CHECK(page.wrong == "");
    CHECK(reaches_out(page) == "");
    CHECK(ids_twice(page) == std::vector<std::string>{});
    CHECK(count(page, "figure") == 1);
    CHECK_THAT(ran.out, Contains(page.texts_of("strong").front() + ": "));
    CHECK(with_class(page, "verdict missed").size() == (ran.exit_code == 1 ? 1 : 0));
    // What the terminal says, line ends apart, the page says as well.
    const auto words_of = [](const std::string& text) {
      std::istringstream in(text);
      std::string all;
      for (std::string word; in >> word;) all += word + " ";
      return all;
    };
    const std::string said = words_of(page.texts_of("body").front());
    for (const std::string& line : lines_of(ran.out)) {
      if (line.size() < 12 || line[0] != ' ') continue;
      CHECK_THAT(said, Contains(words_of(line.substr(10))));
    }
    CHECK(with_class(page, "check").size() == with_class(page, "step").size());
    CHECK_FALSE(with_class(page, "step").empty());
  }
}

TEST_CASE("what the slip says is not said among the notes as well") {
  // The demo's lined, wrapped dress: turning, lining and which front lies on top are the slip's.
  const Xml page = page_of({"data/choir/jobs/alto-2.yaml", "--no-why"}, 0);
  const std::string slip = with_class(page, "slip").front();
  CHECK_THAT(slip, Contains("which lies on top") && Contains("on the fold: front, back"));
  for (const std::string& note : page.texts_of("li")) {
    CHECK_THAT(note, !Contains("lies on top") && !Contains("Lining:") && !Contains("Turning:"));
  }
}

TEST_CASE("several jobs make one page, in their order") {
  const Xml page =
      page_of({"data/choir/jobs/tenor-1.yaml", "data/choir/jobs/alto-2.yaml", "--no-why"}, 0);
  CHECK(page.wrong == "");
  CHECK(ids_twice(page) == std::vector<std::string>{});
  const auto titles = page.texts_of("h1");
  REQUIRE(titles.size() == 2);
  CHECK_THAT(titles[0], Contains("tenor 1"));
  CHECK_THAT(titles[1], Contains("alto 2"));
  CHECK(with_class(page, "slip").size() == 2);
}

TEST_CASE("labels are words, whatever they look like") {
  const std::vector<std::string> labels = {"<script>alert(1)</script>",
                                           "a & b &amp; \"c\" 'd'",
                                           "</title></style></svg><img src=x onerror=alert(1)>",
                                           "]]> --> <!-- é ∞ 𝄞",
                                           "{} {-} {0} %s"};
  for (const std::string& label : labels) {
    INFO(label);
    const Scratch scratch;
    std::string quoted;
    for (const char c : label) quoted += c == '\'' ? "''" : std::string(1, c);
    const std::string source = EASEWRIGHT_SOURCE_DIR "/data/";
    const std::string body = bytes_of(source + "choir/bodies/alto-2.yaml");
    std::vector<std::string> lines = lines_of(body);
    std::string own;
    for (const std::string& line : lines)
      own += (line.starts_with("body:") ? "body: '" + quoted + "'" : line) + "\n";
    scratch.write("body.yaml", own);
    const std::string job =
        scratch.write("job.yaml",
                      "job: '" + quoted + "'\nbody: body.yaml\ncloth: {cloth: '" + quoted +
                          "', width: 145 cm}\nstyle: concert dress\n");
    const std::string file = scratch.path("out.html");
    const Ran ran = run_program({"fit", job, "--no-why", "--html", file});
    INFO(ran.err);
    REQUIRE(ran.exit_code <= 1);
    const std::string bytes = bytes_of(file);
    const Xml page = read_xml(bytes);
    CHECK(page.wrong == "");
    CHECK(reaches_out(page) == "");
    CHECK(page.texts_of("h1").front() == label);
    CHECK_THAT(page.texts_of("title").front(), Contains(label));
    CHECK(with_class(page, "under").front() ==
          "for " + label + " / concert dress / " + label + " / lengths in cm");
  }
}

TEST_CASE("the page is written whole or not at all, and over nothing that is read") {
  const Scratch scratch;
  const std::string job = scratch.write("job.yaml", bytes_of(choir_job("alto-2")));
  const Ran over = run_program({"fit", job, "--html", job});
  CHECK(over.exit_code == 2);
  CHECK_THAT(over.err, Contains("--html would be written over the job"));
  // No such folder: the JSON beside it is not written either.
  const std::string kJob = "data/choir/jobs/alto-2.yaml";
  const Ran lost = run_program({"fit",
                                kJob,
                                "--no-why",
                                "--json",
                                scratch.path("out.json"),
                                "--html",
                                scratch.path("none/out.html")});
  CHECK(lost.exit_code == 2);
  CHECK(lost.out.empty());
  CHECK(scratch.files() == std::vector<std::string>{"job.yaml"});
  // '-' is standard output; the same bytes each time.
  const Ran first = run_program({"fit", kJob, "--no-why", "--html", "-"});
  CHECK(read_xml(first.out).wrong == "");
  CHECK(first.out == run_program({"fit", kJob, "--no-why", "--html", "-"}).out);
}

TEST_CASE("inches are eighths on the page as well") {
  const Xml page = page_of({"data/choir/jobs/alto-2.yaml", "--no-why", "--units", "in"}, 0);
  const std::string slip = with_class(page, "slip").front();
  CHECK_THAT(slip, Contains("/8"));
  CHECK_THAT(slip, !Contains(" cm"));
}
