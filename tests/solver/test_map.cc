// Maps against regions that can be written down, and the same bytes on any number of threads.

#include "posing.h"
#include "solver/map.h"
#include "solver/solve.h"
#include "tests/catch.h"

#include <cmath>

using namespace easewright;
using namespace easewright::solver;
using tests::habit;
using tests::named;
using tests::pose;
using tests::within;

namespace {

Axis variable(int j, double from, double to, int count) {
  return {{Value::Kind::variable, j}, from, to, count};
}
Axis output(int i, double from, double to, int count) {
  return {{Value::Kind::output, i}, from, to, count};
}

/// x^2 + y^2 + z^2 <= 9 with z >= 1: a disc of radius sqrt 8 in x and y; should x - y <= 2.
Problem ball() {
  return pose({within(-4, 4, 0.3), within(-4, 4, 0.2), within(-4, 4, 1.5)},
              {named("ball", -kInfinity, 9, Level::must),
               named("z", 1, kInfinity, Level::must),
               named("difference", -kInfinity, 2, Level::should),
               habit(0.3),
               habit(0.2),
               habit(1.5)},
              {"x[0]**2+x[1]**2+x[2]**2", "x[2]", "x[0]-x[1]", "x[0]", "x[1]", "x[2]"});
}

}  // namespace

TEST_CASE("a map of two variables shows the region and what is missed outside") {
  const Problem p = ball();
  const MapQuery query{variable(0, -4, 4, 33), variable(1, -4, 4, 33), {}, 1};
  const Map map = find_map(p, solve(p), query);
  REQUIRE(map.cells.size() == 33 * 33);
  for (int row = 0; row < 33; ++row) {
    for (int column = 0; column < 33; ++column) {
      const double x = query.across.at(column);
      const double y = query.down.at(row);
      const double out = std::sqrt(x * x + y * y) - std::sqrt(8.0);
      const Cell& cell = map.at(column, row);
      INFO("x " << x << ", y " << y << ", missed " << cell.missed);
      REQUIRE(cell.reached);
      if (std::abs(out) < 1e-3 || std::abs(x - y - 2) < 1e-3)
        continue;  // on the edge either is right
      CHECK(cell.holds == (out < 0 && x - y < 2));
      if (out > 0) CHECK((cell.missed == 0 || cell.missed == 1));
      if (out < 0 && x - y > 2) {
        CHECK(cell.missed == 2);
        CHECK_THAT(cell.miss, WithinAbs(x - y - 2, 1e-6));
      }
    }
  }
}

TEST_CASE("a map of two outputs sets them") {
  // sum and product of two numbers: possible where sum^2 >= 4 product (real roots), within the
  // bounds +-4.
  const Problem p = pose({within(-4, 4, 1), within(-4, 4, 0.5)},
                         {named("sum", -kInfinity, kInfinity, Level::wish),
                          named("product", -kInfinity, kInfinity, Level::wish),
                          habit(1),
                          habit(0.5)},
                         {"x[0]+x[1]", "x[0]*x[1]", "x[0]", "x[1]"});
  const MapQuery query{output(0, 0.1, 3.1, 13), output(1, -1.03, 1.97, 13), {}, 1};
  const Map map = find_map(p, solve(p), query);
  for (int row = 0; row < 13; ++row) {
    for (int column = 0; column < 13; ++column) {
      const double room =
          query.across.at(column) * query.across.at(column) - 4 * query.down.at(row);
      INFO("sum " << query.across.at(column) << ", product " << query.down.at(row));
      if (room > 0.01) CHECK(map.at(column, row).holds);
      if (room < -0.01) CHECK_FALSE(map.at(column, row).reached);
    }
  }
}

TEST_CASE("a map is the same bytes on one thread and on many") {
  const Problem p = ball();
  const Outcome outcome = solve(p);
  MapQuery query{variable(0, -4, 4, 24), variable(1, -4, 4, 24), {}, 1};
  const Map one = find_map(p, outcome, query);
  for (const int threads : {2, 0}) {
    query.threads = threads;
    const Map many = find_map(p, outcome, query);
    REQUIRE(many.cells.size() == one.cells.size());
    for (std::size_t k = 0; k < one.cells.size(); ++k) {
      CHECK(many.cells[k].holds == one.cells[k].holds);
      CHECK(many.cells[k].missed == one.cells[k].missed);
      CHECK(many.cells[k].miss == one.cells[k].miss);  // the same number, not a near one
      CHECK(many.cells[k].reached == one.cells[k].reached);
    }
  }
}

TEST_CASE("outputs that are let go don't count, and values outside their bounds are not reached") {
  const Problem p = ball();
  const Outcome outcome = solve(p);
  const Map map = find_map(p, outcome, {variable(0, 2.5, 2.5, 1), variable(1, -1, -1, 1), {2}, 1});
  CHECK(map.at(0, 0).holds);
  CHECK(find_map(p, outcome, {variable(0, 2.5, 2.5, 1), variable(1, -1, -1, 1), {}, 1})
            .at(0, 0)
            .missed == 2);
  CHECK_FALSE(
      find_map(p, outcome, {variable(0, 5, 5, 1), variable(1, 0, 0, 1), {}, 1}).at(0, 0).reached);
}
