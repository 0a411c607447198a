// Cup scales: EN 13402 (ranges from memory of the standard, limits rule and worked examples of a
// published help page), Japanese scale (dictionary page on body sizes).
#include "model/body/cup.h"
#include "tests/catch.h"

using namespace easewright;

TEST_CASE("EN cups and bands of published examples", "[cup]") {
  struct Row {
    double bust, under;
    const char* cup;
    int band;
  };
  // The first three: published help page. The fourth: means of the 1988 women, difference 13.74.
  const Row rows[] = {
      {100, 82, "C", 80}, {108, 89, "D", 90}, {107, 87, "D", 85}, {90.71, 76.97, "A", 75}};
  for (const Row& row : rows) {
    INFO(row.bust << " over " << row.under);
    CHECK(en_cup(row.bust, row.under).cup == row.cup);
    CHECK(en_cup(row.bust, row.under).band_cm == row.band);
  }
}

TEST_CASE("the scales disagree on one difference", "[cup]") {
  CHECK(en_cup(90, 75).cup == "B");        // 15.0: EN 14 to 16
  CHECK(japanese_cup(90, 75).cup == "C");  // Japanese C is 15
  CHECK(japanese_cup(85, 75).cup == "A");
  CHECK(japanese_cup(87.5, 75).cup == "B");
  CHECK(japanese_cup(92.5, 75).cup == "D");
}

TEST_CASE("EN classes include their upper limit and not the lower", "[cup]") {
  CHECK(en_cup(94, 80).cup == "A");
  CHECK(en_cup(94.01, 80).cup == "B");
  CHECK(en_cup(92, 80).cup == "AA");
  CHECK(en_cup(90, 80).cup.empty());
}
