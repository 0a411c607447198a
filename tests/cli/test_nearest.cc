// Suggestions. Distances by hand; 'optimal string alignment' as commonly defined.

#include "cli/read/nearest.h"
#include "tests/catch.h"

using namespace easewright;

TEST_CASE("the edit distance counts insertions, deletions, substitutions and swaps") {
  CHECK(edit_distance("", "") == 0);
  CHECK(edit_distance("waist", "") == 5);
  CHECK(edit_distance("waist", "wasit") == 1);
  CHECK(edit_distance("kitten", "sitting") == 3);
  CHECK(edit_distance("ca", "abc") == 3);  // 2 would be the unrestricted distance
}

TEST_CASE("the nearest word is found whatever joins its parts") {
  const std::vector<std::string> words = {"waist girth", "hip girth", "bust girth"};
  CHECK(nearest("wasit girth", words) == "waist girth");
  CHECK(nearest("waist_girth", words) == "waist girth");
  CHECK(nearest("Hip-Girth", words) == "hip girth");
  CHECK(nearest("sauce", {"rule", "source"}) == "source");
  CHECK(nearest("elephant", words).empty());
  CHECK(nearest(std::string(5000, 'x'), words).empty());
  CHECK(suggestion("bust girt", words) == " (did you mean 'bust girth'?)");
  CHECK(suggestion("elephant", words).empty());
}
