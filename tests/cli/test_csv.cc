// The reader of comma-separated values. Oracle: RFC 4180, section 2, rule by rule; what goes beyond
// it is this program's own and says so.

#include "cli/read/csv.h"
#include "scratch.h"
#include "tests/catch.h"

using namespace easewright;
using tests::Scratch;

namespace {

using Records = std::vector<std::vector<std::string>>;

struct Taken {
  Records records;
  std::vector<Place> torn;
  std::string why;
  Place place;
};

Taken taken(std::string_view bytes) {
  const Scratch scratch;
  CsvReader reader;
  REQUIRE(reader.open(scratch.write("a.csv", bytes)).empty());
  Taken result;
  std::vector<CsvCell> cells;
  while (reader.next(cells)) {
    auto& record = result.records.emplace_back();
    for (const CsvCell& cell : cells) record.emplace_back(cell.text);
    if (reader.is_torn()) result.torn.push_back(reader.torn());
  }
  result.why = reader.why();
  result.place = reader.place();
  return result;
}

}  // namespace

TEST_CASE("a table reads as RFC 4180 has it") {
  struct Rule {
    const char* rule;
    std::string bytes;
    Records records;
  };
  const Records abc = {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
  const Rule rules[] = {
      {"1: records end in CRLF", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", abc},
      {"2: the last may have no line end", "aaa,bbb,ccc\r\nzzz,yyy,xxx", abc},
      {"5: cells may stand in quotes", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", abc},
      {"6: a quoted cell may hold line ends and commas",
       "\"aaa\",\"b \r\nbb\",\"c,c\"\r\nzzz,yyy,xxx",
       {{"aaa", "b \r\nbb", "c,c"}, {"zzz", "yyy", "xxx"}}},
      {"7: a quote in a quoted cell is doubled",
       "\"aaa\",\"b\"\"bb\",\"ccc\"",
       {{"aaa", "b\"bb", "ccc"}}},
      {"beyond it: LF alone", "aaa,bbb,ccc\nzzz,yyy,xxx\n", abc},
      {"beyond it: a byte order mark",
       "\xEF\xBB\xBF"
       "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
       abc},
      {"beyond it: blank lines and outer blanks", "\n aaa,bbb ,ccc\n\n \nzzz,yyy,xxx\n\n", abc},
      {"beyond it: semicolons where the first record has no comma",
       "aaa;bbb;ccc\nzzz;yyy;\"x,x\"\n",
       {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "x,x"}}},
      {"beyond it: tabs", "aaa\tbbb\tccc\nzzz\tyyy\txxx\n", abc},
      {"empty cells are cells", "a,,\n,,\n", {{"a", "", ""}, {"", "", ""}}},
      {"a quote inside a word is a letter", "36\",5'6\"\n", {{"36\"", "5'6\""}}},
  };
  for (const Rule& rule : rules) {
    INFO(rule.rule);
    const Taken t = taken(rule.bytes);
    CHECK(t.records == rule.records);
    CHECK(t.why.empty());
    CHECK(t.torn.empty());
  }
}

TEST_CASE("comments stand above the first record only, and a quote in one is no quote") {
  const Scratch scratch;
  CsvReader reader;
  REQUIRE(reader.open(scratch.write("a.csv", "# taken \"by hand\nx,y\n#1,2\n")).empty());
  std::vector<CsvCell> cells;
  REQUIRE(reader.next(cells));
  CHECK(reader.comments() == std::vector<std::string>{"taken \"by hand"});
  CHECK(cells.size() == 2);
  CHECK(cells[0].place.line == 2);
  REQUIRE(reader.next(cells));
  CHECK(cells[0].text == "#1");
}

TEST_CASE("places are those of the file, through quotes and line ends") {
  const Scratch scratch;
  CsvReader reader;
  REQUIRE(reader.open(scratch.write("a.csv", "a,b\n\"x\ny\",  \"z\",w\nq,r\n")).empty());
  std::vector<CsvCell> cells;
  REQUIRE(reader.next(cells));
  REQUIRE(reader.next(cells));
  REQUIRE(cells.size() == 3);
  CHECK((cells[0].place.line == 2 && cells[0].place.column == 1));
  CHECK((cells[1].place.line == 3 && cells[1].place.column == 6));
  CHECK((cells[2].place.line == 3 && cells[2].place.column == 10));
  REQUIRE(reader.next(cells));
  CHECK((cells[1].place.line == 4 && cells[1].place.column == 3));
}

TEST_CASE("a quote that is never closed is told where it opens, the records before it read") {
  const Taken t = taken("a,b\n1,2\n3,\"4\n5,6\n");
  CHECK(t.records.size() == 2);
  CHECK(t.why == "this quote is never closed");
  CHECK((t.place.line == 3 && t.place.column == 3));
}

TEST_CASE("what goes on after its closing quote is told") {
  const Taken t = taken("a,b\n\"1\"2,3\n\"4\" ,5\n");
  REQUIRE(t.torn.size() == 1);
  CHECK(t.torn[0].line == 2);
}

TEST_CASE("bytes that are no text end the reading") {
  CHECK(taken(std::string_view("a\0b\0\n", 5)).why.find("UTF-8") != std::string::npos);
  const std::string wide(CsvReader::kMostRecord + 10, 'x');
  CHECK(taken(wide).why.find("more than") != std::string::npos);
}

TEST_CASE("records across the reader's blocks are whole, and the hash is of all bytes") {
  // Each length of a record meets the end of a block somewhere else.
  std::string bytes = "name,\"no\"\"te\"\r\n";
  Records wanted = {{"name", "no\"te"}};
  for (int i = 0; i < 9000; ++i) {
    const std::string word(static_cast<size_t>(i % 23), 'w');
    bytes += std::to_string(i) + ",\"" + word + "\"\"\r\n,\"\r\n";
    wanted.push_back({std::to_string(i), word + "\"\r\n,"});
  }
  REQUIRE(bytes.size() > 2 * 65536);
  CHECK(taken(bytes).records == wanted);
  const auto hash = [](std::string_view text) {
    const Scratch scratch;
    CsvReader reader;
    REQUIRE(reader.open(scratch.write("a.csv", text)).empty());
    while (reader.skip()) {
    }
    return reader.hash();
  };
  const auto before = hash(bytes);
  CHECK(hash(bytes) == before);
  bytes[100000] = bytes[100000] == 'w' ? 'v' : 'w';
  CHECK(hash(bytes) != before);
}

TEST_CASE("a cell that is written reads back") {
  for (const char* text : {"", "alto 2", "a,b", "say \"ah\"", " blank", "#1", "a;b", "l\nm"}) {
    const std::string record = csv_cell(text) + ",x";
    std::string buffer;
    std::vector<CsvCell> cells;
    CHECK(split_record(record, ',', 1, buffer, cells).line == 0);
    REQUIRE(cells.size() == 2);
    CHECK(cells[0].text == text);
  }
}
