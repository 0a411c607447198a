// How far a long run is: the line that a terminal shows, and that nothing but one does.

#include "cli/write/progress.h"
#include "scratch.h"
#include "tests/catch.h"

using easewright::progress_line;

TEST_CASE("progress is a bar, a count and a time, cut to the terminal") {
  CHECK(progress_line(0, 1000, 0, 80) == "[....................]  0 of 1000");
  CHECK(progress_line(532, 1000, 170, 80) ==
        "[##########..........]  532 of 1000, about 3 min to go");
  CHECK(progress_line(999, 1000, 1.2, 80) ==
        "[###################.]  999 of 1000, about 2 s to go");
  CHECK(progress_line(1000, 1000, 0, 80) == "[####################]  1000 of 1000");
  CHECK(progress_line(10, 100000, 40000, 80) ==
        "[....................]  10 of 100000, about 12 h to go");
  CHECK(progress_line(0, 0, 0, 80) == "[####################]  0 of 0");
  CHECK(progress_line(532, 1000, 170, 12) == "[##########.");
}

TEST_CASE("no progress is written where there is no terminal") {
  const easewright::tests::Scratch scratch;
  std::string csv = "build,stature (cm),bust girth (cm)\n";
  for (int i = 0; i < 400; ++i) csv += "woman,165,92\n";
  const auto ran = easewright::tests::run_program({"group",
                                                   easewright::tests::choir_job("alto-2"),
                                                   scratch.write("b.csv", csv),
                                                   "--no-why",
                                                   "--brief"});
  CHECK(ran.exit_code <= 1);
  CHECK(ran.err.empty());
}
