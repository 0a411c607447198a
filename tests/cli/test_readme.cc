// The README can't go stale: what its fenced blocks show is what their commands print, and every
// command and option that it names is one.

#include "scratch.h"
#include "tests/catch.h"

#include <algorithm>
#include <string>
#include <vector>

using namespace easewright::tests;

namespace {

const std::string kFence = "```";
const std::string kProgram = "easewright ";

struct Shown {
  std::string command;
  std::vector<std::string> lines;
};

/// Fenced blocks that begin with the program's name.
std::vector<Shown> shown_in(const std::vector<std::string>& readme) {
  std::vector<Shown> all;
  for (auto at = readme.begin(); at != readme.end(); ++at) {
    if (*at != kFence) continue;
    const auto end = std::find(at + 1, readme.end(), kFence);
    REQUIRE(end != readme.end());
    if (at + 1 != end && at[1].starts_with(kProgram)) all.push_back({at[1], {at + 2, end}});
    at = end;
  }
  return all;
}

/// The words of a command line as a shell splits them; single quotes are the only ones in use.
std::vector<std::string> words_of(const std::string& command) {
  std::vector<std::string> words;
  bool quoted = false, open = false;
  for (const char c : command) {
    if (c == '\'') {
      quoted = !quoted;
    } else if (c == ' ' && !quoted) {
      open = false;
      continue;
    }
    if (!open) words.emplace_back();
    open = true;
    if (c != '\'') words.back() += c;
  }
  return words;
}

/// True when `printed` reads as shown: line by line, where '...' stands for any lines at all.
bool reads_as(const std::vector<std::string>& shown, const std::vector<std::string>& printed) {
  const auto match = [&](const auto& self, size_t s, size_t p) -> bool {
    if (s == shown.size()) return p == printed.size();
    if (shown[s] == "...")
      return self(self, s + 1, p) || (p < printed.size() && self(self, s, p + 1));
    return p < printed.size() && shown[s] == printed[p] && self(self, s + 1, p + 1);
  };
  return match(match, 0, 0);
}

std::vector<std::string> readme() {
  return lines_of(bytes_of(std::string(EASEWRIGHT_SOURCE_DIR) + "/README.md"));
}

}  // namespace

TEST_CASE("the judge of what is shown knows a line that is missing, added or changed") {
  const std::vector<std::string> printed = {"a", "b", "c", "d"};
  CHECK(reads_as({"a", "b", "c", "d"}, printed));
  CHECK(reads_as({"...", "c", "d"}, printed));
  CHECK(reads_as({"a", "...", "d"}, printed));
  CHECK(reads_as({"a", "..."}, printed));
  CHECK_FALSE(reads_as({"a", "b", "c"}, printed));
  CHECK_FALSE(reads_as({"a", "c", "d"}, printed));
  CHECK_FALSE(reads_as({"...", "b", "d"}, printed));
  CHECK_FALSE(reads_as({"a", "x", "..."}, printed));
  CHECK(words_of("x 'a b' c") == std::vector<std::string>{"x", "a b", "c"});
}

TEST_CASE("what the README shows is what its commands print") {
  const std::vector<Shown> all = shown_in(readme());
  CHECK(all.size() >= 3);
  for (const Shown& shown : all) {
    INFO(shown.command);
    std::vector<std::string> words = words_of(shown.command);
    words.erase(words.begin());
    // What is written goes to a folder of the test's own; where it went is left out of what is
    // shown.
    const Scratch scratch;
    const auto out = std::find(words.begin(), words.end(), "--out");
    if (out != words.end() && out + 1 != words.end()) *(out + 1) = scratch.path(*(out + 1));
    const Ran ran = run_program(words);
    INFO("it prints\n" << ran.out << ran.err);
    CHECK(ran.exit_code <= 1);
    // At least one line stands for itself, or nothing would be compared.
    CHECK(std::any_of(shown.lines.begin(), shown.lines.end(), [](const std::string& line) {
      return line != "...";
    }));
    CHECK(reads_as(shown.lines, lines_of(ran.out)));
  }
}

TEST_CASE("every command and option of the README is one") {
  std::string help = run_program({"--help"}).out;
  std::vector<std::string> commands;
  for (const char* command : {"fit",
                              "check",
                              "reach",
                              "map",
                              "cut",
                              "slip",
                              "figure",
                              "alter",
                              "group",
                              "sizes",
                              "list"}) {
    const Ran ran = run_program({command, "--help"});
    if (ran.exit_code != 0) continue;  // no such command: a line that names it fails below
    commands.emplace_back(command);
    help += ran.out;
  }
  size_t named = 0, told = 0;
  for (const std::string& line : readme()) {
    INFO(line);
    for (size_t at = line.find("--"); at != std::string::npos; at = line.find("--", at + 2)) {
      const bool word = at + 2 < line.size() && line[at + 2] >= 'a' && line[at + 2] <= 'z';
      if (!word || (at > 0 && line[at - 1] == '-')) continue;  // a ruled line
      const size_t end = line.find_first_not_of("abcdefghijklmnopqrstuvwxyz-", at);
      const std::string option = line.substr(at, end == std::string::npos ? end : end - at);
      CHECK_THAT(help, Catch::Contains(option + " ") || Catch::Contains(option + "\n"));
      ++named;
    }
    const size_t at = line.find(kProgram);
    // A command line, not prose: it begins its line.
    if (at == std::string::npos || at != line.find_first_not_of(' ') || at == 0) continue;
    const std::string rest = line.substr(at + kProgram.size());
    CHECK(std::find(commands.begin(), commands.end(), rest.substr(0, rest.find(' '))) !=
          commands.end());
    ++told;
  }
  CHECK(named >= 5);
  CHECK(told >= 4);
}
