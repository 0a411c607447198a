// The k-median: against trying every set, against points on a line, where a programme over
// intervals is exact and quick (common knowledge: each median serves a run of neighbours), and
// against instances whose answer is known by how they were made.

#include "solver/median.h"
#include "tests/catch.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>
#include <vector>

using namespace easewright::solver;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double cost_of(const MedianProblem& p, const std::vector<int>& open) {
  double sum = 0;
  for (int j = 0; j < p.points; ++j) {
    double least = std::numeric_limits<double>::infinity();
    for (const int i : open) least = std::min(least, p.at(i, j));
    sum += least;
  }
  return sum;
}

/// Every set of k centres.
double exhaustive(const MedianProblem& p) {
  std::vector<char> in(at(p.centres), 0);
  std::fill(in.begin(), in.begin() + p.open, 1);
  double best = std::numeric_limits<double>::infinity();
  do {
    std::vector<int> open;
    for (int i = 0; i < p.centres; ++i)
      if (in[at(i)] != 0) open.push_back(i);
    best = std::min(best, cost_of(p, open));
  } while (std::prev_permutation(in.begin(), in.end()));
  return best;
}

/// Points on a line, centres the points themselves, cost the distance.
MedianProblem on_a_line(const std::vector<double>& x, int open) {
  MedianProblem p;
  p.centres = p.points = static_cast<int>(x.size());
  p.open = open;
  for (const double a : x)
    for (const double b : x) p.cost.push_back(std::abs(a - b));
  return p;
}

/// The least cost on a line: best[k][j] = min over i of best[k - 1][i] + one median of points i..j,
/// and one median of a run is its middle point.
double line_answer(std::vector<double> x, int open) {
  std::sort(x.begin(), x.end());
  const std::size_t n = x.size();
  const auto run = [&](std::size_t from, std::size_t to) {
    double sum = 0;
    for (std::size_t i = from; i < to; ++i) sum += std::abs(x[i] - x[(from + to - 1) / 2]);
    return sum;
  };
  std::vector<double> best(n + 1, std::numeric_limits<double>::infinity());
  best[0] = 0;
  for (int k = 0; k < open; ++k) {
    std::vector<double> next(n + 1, std::numeric_limits<double>::infinity());
    next[0] = 0;
    for (std::size_t j = 1; j <= n; ++j)
      for (std::size_t i = 0; i < j; ++i) next[j] = std::min(next[j], best[i] + run(i, j));
    best = next;
  }
  return best[n];
}

void check_answer(const MedianProblem& p, const Median& m) {
  REQUIRE(m.open.size() == at(p.open));
  CHECK(std::is_sorted(m.open.begin(), m.open.end()));
  CHECK(std::adjacent_find(m.open.begin(), m.open.end()) == m.open.end());
  REQUIRE(m.nearest.size() == at(p.points));
  double sum = 0;
  for (int j = 0; j < p.points; ++j) {
    CHECK(std::binary_search(m.open.begin(), m.open.end(), m.nearest[at(j)]));
    sum += p.at(m.nearest[at(j)], j);
  }
  CHECK_THAT(m.cost, WithinAbs(sum, 1e-9 * (1 + sum)));
  CHECK_THAT(cost_of(p, m.open), WithinAbs(sum, 1e-9 * (1 + sum)));
  CHECK(m.bound <= m.cost);
}

}  // namespace

TEST_CASE("the median agrees with trying every set") {
  std::mt19937 chance(61);
  const auto draw = [&chance](int below) {
    return static_cast<int>(chance() % static_cast<unsigned>(below));
  };
  for (int trial = 0; trial < 400; ++trial) {
    MedianProblem p;
    p.centres = 2 + draw(9);
    p.points = 1 + draw(14);
    p.open = 1 + draw(p.centres);
    // No distances: nothing makes these costs symmetric or short cuts long. Some are equal, some
    // nothing, some the same for all: a body that nobody's dress serves.
    const int kind = draw(3);
    for (int i = 0; i < p.centres * p.points; ++i) {
      const double c = kind == 0   ? draw(1000) / 7.0
                       : kind == 1 ? draw(3)
                                   : (draw(3) == 0 ? 600 : draw(200));
      p.cost.push_back(c);
    }
    INFO("trial " << trial << ": " << p.open << " of " << p.centres << " for " << p.points);
    const Median m = median(p);
    check_answer(p, m);
    CHECK(m.proved);
    const double best = exhaustive(p);
    CHECK_THAT(m.cost, WithinAbs(best, 1e-9 * (1 + best)));
  }
}

TEST_CASE("medians on a line are those that runs of neighbours have") {
  std::mt19937 chance(62);
  for (const auto& [n, open] : {std::pair{30, 3}, {60, 5}, {120, 8}, {200, 12}}) {
    std::vector<double> x;
    for (int i = 0; i < n; ++i) x.push_back(static_cast<double>(chance() % 100000U) / 100.0);
    const MedianProblem p = on_a_line(x, open);
    const Median m = median(p);
    INFO(open << " of " << n << ", " << m.nodes << " nodes");
    check_answer(p, m);
    CHECK(m.proved);
    CHECK_THAT(m.cost, WithinAbs(line_answer(x, open), 1e-7));
  }
}

TEST_CASE("one median of a line is its middle point") {
  const Median m = median(on_a_line({0, 1, 2, 10, 50}, 1));
  CHECK(m.open == std::vector<int>{2});
  CHECK_THAT(m.cost, WithinAbs(2 + 1 + 8 + 48, 1e-12));
}

TEST_CASE("clusters far from each other have a median each") {
  // Made backwards: eight stars, their middles known; a star's points lie 3 apart from its middle
  // and further from each other.
  std::mt19937 chance(63);
  const int stars = 8, rays = 9;
  std::vector<std::pair<double, double>> points;
  for (int s = 0; s < stars; ++s) {
    const double cx = 1000.0 * (s % 4), cy = 1000.0 * (s / 4);
    points.emplace_back(cx, cy);
    for (int r = 0; r < rays; ++r) {
      const double turn = 2 * 3.14159265358979 * r / rays;
      points.emplace_back(cx + 3 * std::cos(turn), cy + 3 * std::sin(turn));
    }
  }
  std::shuffle(points.begin(), points.end(), chance);
  MedianProblem p;
  p.centres = p.points = static_cast<int>(points.size());
  p.open = stars;
  for (const auto& a : points)
    for (const auto& b : points)
      p.cost.push_back(std::hypot(a.first - b.first, a.second - b.second));
  const Median m = median(p);
  check_answer(p, m);
  CHECK(m.proved);
  CHECK_THAT(m.cost, WithinAbs(3.0 * stars * rays, 1e-6));
}

TEST_CASE("a search that is cut short says how good its answer is at least") {
  std::mt19937 chance(64);
  MedianProblem p;
  p.centres = p.points = 11;
  p.open = 4;
  int cut = 0;
  for (int trial = 0; trial < 200; ++trial) {
    p.cost.clear();
    for (int i = 0; i < p.centres * p.points; ++i)
      p.cost.push_back(static_cast<double>(chance() % 1000U));
    const Median m = median(p, {.most_nodes = 1});
    const double best = exhaustive(p);
    check_answer(p, m);
    CHECK(m.bound <= best + 1e-9 * best);
    CHECK(best <= m.cost + 1e-9 * best);
    if (m.proved) CHECK_THAT(m.cost, WithinAbs(best, 1e-9 * best));
    cut += !m.proved;
  }
  CHECK(cut > 10);  // costs without any order leave a gap at the root
}

TEST_CASE("the order of centres and points does not matter to the cost") {
  std::mt19937 chance(65);
  MedianProblem p;
  p.centres = 14, p.points = 25, p.open = 5;
  for (int i = 0; i < p.centres * p.points; ++i)
    p.cost.push_back(static_cast<double>(chance() % 500U));
  const double cost = median(p).cost;
  std::vector<int> rows(at(p.centres)), columns(at(p.points));
  std::iota(rows.begin(), rows.end(), 0);
  std::iota(columns.begin(), columns.end(), 0);
  for (int trial = 0; trial < 10; ++trial) {
    std::shuffle(rows.begin(), rows.end(), chance);
    std::shuffle(columns.begin(), columns.end(), chance);
    MedianProblem q = p;
    for (int i = 0; i < p.centres; ++i)
      for (int j = 0; j < p.points; ++j)
        q.cost[at(i * p.points + j)] = p.at(rows[at(i)], columns[at(j)]);
    CHECK_THAT(median(q).cost, WithinAbs(cost, 1e-9 * cost));
  }
}
