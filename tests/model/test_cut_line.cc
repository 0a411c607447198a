// The cut line in closed forms (plane geometry), against polyclipping's own offset, and by folding:
// what is turned or pressed has to end on the raw edge under it.

#include "model/pattern/cut_line.h"
#include "model/pattern/polyline.h"
#include "tests/catch.h"

#include <algorithm>
#include <cmath>

#include <clipper.hpp>

namespace easewright::tests {
namespace {

using Point = Vec2<double>;

PieceEdge edge(Polyline line, double allowance, EdgeWork work = EdgeWork::seam, int order = 0) {
  PieceEdge e;
  e.name = "edge";
  e.line = std::move(line);
  e.allowance = allowance;
  e.work = work;
  e.order = order;
  return e;
}

/// Straight edges from corner to corner, all of one allowance.
std::vector<PieceEdge> polygon(const Polyline& corners, double allowance) {
  std::vector<PieceEdge> edges;
  for (size_t i = 0; i < corners.size(); ++i)
    edges.push_back(edge({corners[i], corners[(i + 1) % corners.size()]}, allowance));
  return edges;
}

bool has_corner(const Polyline& outline, const Point& wanted) {
  return std::any_of(outline.begin(), outline.end(), [&](const Point& p) {
    return std::hypot(p.x - wanted.x, p.y - wanted.y) < 1e-6;
  });
}

Point mirrored(const Point& p, const Point& a, const Point& b) {
  const Point u = (1 / std::hypot(b.x - a.x, b.y - a.y)) * (b - a);
  const Point d = p - a;
  return a + 2 * geometry::dot(d, u) * u - d;
}

double off_line(const Point& p, const Point& a, const Point& b) {
  return geometry::cross(b - a, p - a) / std::hypot(b.x - a.x, b.y - a.y);
}

Polyline circle(double radius, int chords, bool clockwise = false) {
  Polyline points;
  for (int i = 0; i < chords; ++i) {
    const double a = (clockwise ? -2 : 2) * std::acos(-1.0) * i / chords;
    points.push_back({radius * std::cos(a), radius * std::sin(a)});
  }
  return points;
}

}  // namespace

TEST_CASE("a rectangle with an allowance for each side has its corners where they meet") {
  std::vector<PieceEdge> edges = polygon({{0, 0}, {10, 0}, {10, 20}, {0, 20}}, 0);
  edges[0].allowance = 3, edges[1].allowance = 1.5, edges[2].allowance = 0.8;
  edges[3].work = EdgeWork::fold;
  const Polyline cut = cut_line_of(edges);
  REQUIRE(cut.size() == 4);
  for (const Point& corner : {Point{0, -3}, Point{11.5, -3}, Point{11.5, 20.8}, Point{0, 20.8}})
    CHECK(has_corner(cut, corner));
  CHECK_THAT(area_of(cut), WithinAbs(11.5 * 23.8, 1e-9));
}

TEST_CASE("an acute corner is carried on in full, however far") {
  // A corner of angle a runs out allowance / sin(a / 2). A mitre limit of 2 would cut it at 60
  // degrees, one of 20 at 6.
  for (const double angle : {60.0, 30.0, 10.0, 4.0}) {
    const double a = angle * std::acos(-1.0) / 180;
    const Polyline corners{{0, 0}, {40, 0}, {40 * std::cos(a), 40 * std::sin(a)}};
    const Polyline cut = cut_line_of(polygon(corners, 1.0));
    INFO(angle);
    const Point away{-std::cos(a / 2), -std::sin(a / 2)};
    CHECK(has_corner(cut, (1.0 / std::sin(a / 2)) * away));
  }
}

TEST_CASE("a corner that runs out far is said") {
  Piece piece;
  piece.name = "sliver";
  piece.edges = polygon({{0, 0}, {40, 0}, {40 * std::cos(0.2), 40 * std::sin(0.2)}}, 1.0);
  piece.cut = cut_line_of(piece.edges);
  const auto faults = faults_of(piece);
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].find("runs out 10.0 cm") != std::string::npos);
}

TEST_CASE("faults are found: open, crossed, clockwise, cut line inside") {
  Piece piece;
  piece.name = "piece";
  piece.edges = polygon({{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 1.0);
  piece.cut = cut_line_of(piece.edges);
  CHECK(faults_of(piece).empty());
  Piece open = piece;
  open.edges[0].line.back().x = 9;
  CHECK_FALSE(faults_of(open).empty());
  Piece crossed = piece;
  crossed.edges = polygon({{0, 0}, {10, 10}, {10, 0}, {0, 9}}, 1.0);
  CHECK_FALSE(faults_of(crossed).empty());
  Piece turned = piece;
  turned.edges = polygon({{0, 0}, {0, 10}, {10, 10}, {10, 0}}, 1.0);
  CHECK_FALSE(faults_of(turned).empty());
  Piece inside = piece;
  inside.cut = {{1, 1}, {9, 1}, {9, 9}, {1, 9}};
  CHECK_FALSE(faults_of(inside).empty());
  Piece bare = piece;
  bare.cut.clear();
  CHECK_FALSE(faults_of(bare).empty());
}

TEST_CASE("one allowance all round is polyclipping's mitred offset") {
  // A square neckline, a scooped armhole, a slanting side: every kind of corner.
  Polyline outline{{0, 0}, {20, 2}, {24, 20}};
  for (int i = 0; i <= 40; ++i) {
    const double a = std::acos(-1.0) / 2 * i / 40;
    outline.push_back({24 - 8 * std::sin(a), 30 - 9 * std::cos(a)});
  }
  for (const Point& p : {Point{15, 40}, Point{9, 42}, Point{8, 25}, Point{0, 25}})
    outline.push_back(p);
  for (const double allowance : {0.6, 1.0, 1.5, 2.9}) {
    const Polyline cut = cut_line_of(polygon(outline, allowance));
    ClipperLib::Path path, ours;
    constexpr double kUnits = 1e6;
    for (const Point& p : outline)
      path.emplace_back(std::llround(p.x * kUnits), std::llround(p.y * kUnits));
    for (const Point& p : cut)
      ours.emplace_back(std::llround(p.x * kUnits), std::llround(p.y * kUnits));
    ClipperLib::ClipperOffset offset(100);
    offset.AddPath(path, ClipperLib::jtMiter, ClipperLib::etClosedPolygon);
    ClipperLib::Paths theirs, apart;
    offset.Execute(theirs, allowance * kUnits);
    ClipperLib::Clipper clipper;
    clipper.AddPaths(theirs, ClipperLib::ptSubject, true);
    clipper.AddPath(ours, ClipperLib::ptClip, true);
    clipper.Execute(ClipperLib::ctXor, apart);
    double area = 0;
    for (const auto& p : apart) area += std::abs(ClipperLib::Area(p)) / (kUnits * kUnits);
    INFO(allowance);
    REQUIRE(theirs.size() == 1);
    // A hundredth of a millimetre round the outline.
    CHECK(area < 0.001 * 130);
  }
}

TEST_CASE("a turned hem ends on the raw edge of the side, whatever the flare") {
  for (const double lean : {-0.3, 0.0, 0.08, 0.4}) {
    // Hem along the bottom, sides leaning out by `lean`.
    const Point left{0, 0}, right{30, 0};
    const Point top_right{30 - 20 * lean, 20}, top_left{20 * lean, 20};
    std::vector<PieceEdge> edges{edge({left, right}, 4, EdgeWork::hem),
                                 edge({right, top_right}, 1.5),
                                 edge({top_right, top_left}, 1),
                                 edge({top_left, left}, 2)};
    const Polyline cut = cut_line_of(edges);
    INFO(lean);
    int ends = 0;
    for (const Point& p : cut) {
      if (std::abs(p.y + 4) > 1e-9) continue;
      ++ends;
      const Point turned = mirrored(p, left, right);
      const double right_off = off_line(turned, right, top_right);
      const double left_off = off_line(turned, top_left, left);
      // Exactly on one of the raw edges.
      CHECK(std::min(std::abs(right_off + 1.5), std::abs(left_off + 2)) < 1e-9);
    }
    CHECK(ends == 2);
  }
}

TEST_CASE("a seam that is pressed open ends on the raw edge that crosses it") {
  // A strap: shoulder sewn first, neck and armhole afterwards, at 102 and 85 degrees.
  const double neck = 102 * std::acos(-1.0) / 180, arm = 85 * std::acos(-1.0) / 180;
  const Point outer{12, 40}, inner{7, 40};
  const Point neck_end{7 + 15 * std::cos(neck), 40 - 15 * std::sin(neck)};
  const Point arm_begin{12 - 15 * std::cos(arm), 40 - 15 * std::sin(arm)};
  std::vector<PieceEdge> edges{edge({arm_begin, outer}, 0.8, EdgeWork::faced, 3),
                               edge({outer, inner}, 1.5, EdgeWork::seam, 1),
                               edge({inner, neck_end}, 0.8, EdgeWork::faced, 2),
                               edge({neck_end, arm_begin}, 1, EdgeWork::seam, 5)};
  const Polyline cut = cut_line_of(edges);
  int ends = 0;
  for (const Point& p : cut) {
    if (std::abs(p.y - 41.5) > 1e-9) continue;
    ++ends;
    const Point pressed = mirrored(p, outer, inner);
    CHECK(std::min(std::abs(off_line(pressed, arm_begin, outer) + 0.8),
                   std::abs(off_line(pressed, inner, neck_end) + 0.8)) < 1e-9);
  }
  CHECK(ends == 2);
}

TEST_CASE("a bend tighter than its allowance leaves no loop") {
  // A half circle of radius 1 cut out of a side, allowance 1.5: the cut line can't follow it.
  Polyline notch;
  for (int i = 0; i <= 60; ++i) {
    const double a = std::acos(-1.0) * (0.5 - i / 60.0);
    notch.push_back({10 - std::cos(a), 10 - std::sin(a)});
  }
  std::reverse(notch.begin(), notch.end());
  if (notch.front().y > notch.back().y) std::reverse(notch.begin(), notch.end());
  std::vector<PieceEdge> edges{edge({{0, 0}, {10, 0}}, 1.5),
                               edge({{10, 0}, {10, 9}}, 1.5),
                               edge(notch, 1.5),
                               edge({{10, 11}, {10, 20}}, 1.5),
                               edge({{10, 20}, {0, 20}}, 1.5),
                               edge({{0, 20}, {0, 0}}, 1.5)};
  Piece piece;
  piece.name = "bitten";
  piece.edges = edges;
  piece.cut = cut_line_of(edges);
  CHECK(faults_of(piece).empty());
  // Nothing of the cut line is nearer to the sew line than its allowance.
  const Polyline sew = piece.sew();
  double least = 1e9;
  for (const Point& p : piece.cut) {
    const Point foot = point_at(sew, nearest_along(sew, p));
    if (p.x > 0) least = std::min(least, std::hypot(p.x - foot.x, p.y - foot.y));
  }
  CHECK(least > 1.5 - 1e-4);
}

TEST_CASE("parallel curves grow by distance times turn (Steiner 1840)") {
  Polyline ring = circle(7, 2000);
  ring.push_back(ring.front());
  const double turn = 2 * std::acos(-1.0);
  for (const double d : {-2.0, -0.2, 0.5, 3.0})
    CHECK_THAT(length_of(parallel(ring, d)) - length_of(ring), WithinAbs(d * turn, 0.02));
}

TEST_CASE("edges moved inwards keep closed and slide along their neighbours") {
  std::vector<PieceEdge> edges = polygon({{0, 0}, {10, 0}, {10, 20}, {2, 20}, {0, 10}}, 1);
  const auto moved = moved_edges(edges, {1.0, 0, -0.2, 0, 0});
  for (size_t i = 0; i < moved.size(); ++i) {
    const Point gap = moved[(i + 1) % moved.size()].line.front() - moved[i].line.back();
    CHECK(std::hypot(gap.x, gap.y) < 1e-9);
  }
  CHECK_THAT(moved[0].line[0].y, WithinAbs(-1, 1e-9));
  CHECK_THAT(moved[1].length(), WithinAbs(20.8, 1e-9));
  // The slanting edge gives way where the top one came down.
  CHECK_THAT(moved[2].length(), WithinAbs(8 + 0.2 / 5, 1e-9));
}

TEST_CASE("a flattened curve keeps its place, length and part") {
  // A quarter circle by the usual cubic is within 0.03 % of one (from memory of any text on
  // cubics).
  const double k = 0.5522847498, r = 12;
  const geometry::Bezier<double> quarter{{r, 0}, {r, k * r}, {k * r, r}, {0, r}};
  const Polyline line = flattened(quarter);
  CHECK_THAT(length_of(line), WithinAbs(0.5 * std::acos(-1.0) * r, 0.01));
  for (double along = 0; along < length_of(line); along += 0.37) {
    const Point p = point_at(line, along);
    CHECK_THAT(std::hypot(p.x, p.y), WithinAbs(r, 0.0003 * r + kFlat));
    CHECK_THAT(nearest_along(line, p), WithinAbs(along, 1e-9));
  }
  CHECK_THAT(length_of(part_of(line, 2.0, 7.5)), WithinAbs(5.5, 1e-9));
}

}  // namespace easewright::tests
