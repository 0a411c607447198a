// The checked loader: places, and refusal of what YAML allows and these files have no use for.

#include "cli/read/yaml.h"
#include "tests/catch.h"

using namespace easewright;

namespace {

/// The one complaint that the text earns.
std::string complaint_of(std::string_view text) {
  Complaints complaints;
  const Source source{"x.yaml", complaints};
  CHECK_FALSE(parse_yaml(text, source));
  REQUIRE(complaints.size() == 1);
  return to_string(complaints.in_order()[0]);
}

YamlNode parsed(std::string_view text) {
  Complaints complaints;
  auto node = parse_yaml(text, {"x.yaml", complaints});
  for (const Complaint& c : complaints.in_order()) UNSCOPED_INFO(to_string(c));
  REQUIRE(node);
  return *node;
}

}  // namespace

TEST_CASE("every key and value knows its place") {
  const YamlNode root = parsed(
      "body: alto 2\nmeasures:\n  waist girth: 72 cm\n  hip girth: \"98 cm\"\nlist: [a, {b: c}]\n");
  REQUIRE(root.children.size() == 3);
  const YamlNode& waist = root.children[1].children[0];
  CHECK(waist.key == "waist girth");
  CHECK(waist.key_place.line == 3);
  CHECK(waist.key_place.column == 3);
  CHECK(waist.place.line == 3);
  CHECK(waist.place.column == 16);
  CHECK(waist.inside(3).column == 19);
  const YamlNode& hip = root.children[1].children[1];
  CHECK(hip.style == YamlNode::Style::quoted);
  CHECK(hip.inside(3).column == hip.place.column + 4);
  const YamlNode& inner = root.children[2].children[1].children[0];
  CHECK(inner.key == "b");
  CHECK(inner.text == "c");
  CHECK(inner.place.line == 5);
  CHECK(inner.place.column == 15);
}

TEST_CASE("repeated keys are kept for the reader to complain of") {
  CHECK(parsed("a: 1\na: 2\n").children.size() == 2);
}

TEST_CASE("an empty file is an empty node") {
  CHECK(parsed("").kind == YamlNode::Kind::null);
  CHECK(parsed("# nothing but a comment\n").kind == YamlNode::Kind::null);
}

TEST_CASE("what YAML allows and these files have no use for is refused") {
  CHECK(complaint_of("a: 1\n---\nb: 2\n") ==
        "x.yaml:2:1: a second document begins here; a file holds one");
  CHECK_THAT(complaint_of("a: &x 1\nb: *x\n"), Catch::StartsWith("x.yaml:1:4: an anchor"));
  CHECK_THAT(complaint_of("&x [*x]\n"), Catch::Contains("an anchor"));  // a cycle
  CHECK_THAT(complaint_of("a: *x\n"), Catch::StartsWith("x.yaml:1:4: "));
  CHECK_THAT(complaint_of("a: !!binary aGk=\n"), Catch::Contains("a tag"));
  CHECK_THAT(complaint_of("a: !thing {b: c}\n"), Catch::Contains("a tag"));
  CHECK_THAT(complaint_of("[a]: 1\n"), Catch::Contains("a key has to be text"));
  CHECK_THAT(complaint_of("? {a: b}\n: 1\n"), Catch::Contains("a key has to be text"));
  CHECK_THAT(complaint_of("a: \"\\e[31m\"\n"), Catch::Contains("control character"));
  CHECK_THAT(complaint_of("a: [1, 2\n"), Catch::Contains("no valid YAML"));
  CHECK_THAT(complaint_of("a: b: c\n"), Catch::StartsWith("x.yaml:1:5: this is no valid YAML"));
}

// The parser takes the end of the file for the quote's own: what followed was said to be missing.
TEST_CASE("a quote that is never closed is told with its place") {
  CHECK(complaint_of("a: 1\nb: \"two\nc: 3\n") ==
        "x.yaml:2:4: the quote that opens here is never closed");
  CHECK(complaint_of("a: 'it''s\nc: 3\n") ==
        "x.yaml:1:4: the quote that opens here is never closed");
  CHECK(complaint_of("a: \"b\\\"\n") == "x.yaml:1:4: the quote that opens here is never closed");
  CHECK(complaint_of("w: {a: \xc3\xa9, b: 'c}\n") ==
        "x.yaml:1:15: the quote that opens here is never closed");
  CHECK_THAT(complaint_of("a: 'b\nc: d\ne: 'f'\n"),
             Catch::EndsWith("; the quote on line 1 is closed on line 3"));
  CHECK(parsed("a: 'it''s'\nb: \"x\\\"y\"\nc: \"over\n  two\"\n").children.size() == 3);
  CHECK(parsed("a: \"b\\\\\"\n").children[0].text == "b\\");
  CHECK(parsed("a: it's\n").children[0].text == "it's");
}

TEST_CASE("bytes that are no UTF-8 text are refused at their place") {
  CHECK_THAT(complaint_of("ab: 1\nc: \xff\n"), Catch::StartsWith("x.yaml:2:4: "));
  CHECK_THAT(complaint_of(std::string("a: \0b\n", 6)), Catch::StartsWith("x.yaml:1:4: "));
  CHECK_THAT(complaint_of("a: \xc0\x80\n"), Catch::Contains("UTF-8"));      // overlong
  CHECK_THAT(complaint_of("a: \xed\xa0\x80\n"), Catch::Contains("UTF-8"));  // a surrogate
  CHECK_THAT(complaint_of("a: \x1b[31m\n"), Catch::Contains("control"));
  CHECK(parsed("a: \xc3\xa9t\xc3\xa9\n").children[0].text == "\xc3\xa9t\xc3\xa9");
}

TEST_CASE("nesting has an end") {
  std::string deep;
  for (int i = 0; i < kMostDepth; ++i) deep += "[";
  CHECK(parsed(deep + std::string(kMostDepth, ']')).kind == YamlNode::Kind::list);
  CHECK_THAT(complaint_of(deep + "[" + std::string(kMostDepth + 1, ']')),
             Catch::Contains("nested more than"));
  CHECK_THAT(complaint_of(std::string(100000, '[')), Catch::Contains("x.yaml:1:"));
  CHECK_THAT(complaint_of(std::string(100000, '{')), Catch::Contains("x.yaml:1:"));
}
