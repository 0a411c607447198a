#include "model/pattern/cut_line.h"

#include "model/pattern/polyline.h"

#include <algorithm>
#include <cmath>

#include <clipper.hpp>
#include <fmt/format.h>

namespace easewright {
namespace {

using geometry::cross;
using geometry::dot;

/// How far a moved edge is carried on in search of its neighbour, cm.
constexpr double kReach = 60;
/// Below this sine two edges run on straight: there is no corner to work.
constexpr double kStraight = 2e-3;

/// A moved edge on its way to the cut line.
struct Moved {
  Polyline line;
  Ends ends;

  explicit Moved(const PieceEdge& edge, double distance)
      : line(parallel(edge.line, distance, {edge.departure(), edge.arrival()})),
        ends{edge.departure(), edge.arrival()} {}
  explicit Moved(Polyline straight) : line(std::move(straight)), ends(ends_of(line)) {}
};

bool coincide(const Vec2<double>& a, const Vec2<double>& b) {
  return std::hypot(b.x - a.x, b.y - a.y) < 1e-7;
}

/// Ends a line at a crossing with a chord of its longer self, which has a point added after its
/// end.
void end_at(Polyline& line, const Polyline& longer, const Crossing& c) {
  line.assign(longer.begin(), longer.begin() + static_cast<long>(c.first) + 1);
  if (line.size() > 1 && coincide(line.back(), c.at)) line.pop_back();
  line.push_back(c.at);
}
/// The same for a point added before its beginning.
void begin_at(Polyline& line, const Polyline& longer, const Crossing& c) {
  line.assign(longer.begin() + static_cast<long>(c.second) + 1, longer.end());
  if (line.size() > 1 && coincide(line.front(), c.at)) line.erase(line.begin());
  line.insert(line.begin(), c.at);
}

/// Carries two moved edges on, or cuts them back, to where they meet near their corner.
bool mitre(Moved& before, Moved& after, const Vec2<double>& corner) {
  Polyline a = before.line, b = after.line;
  a.push_back(a.back() + kReach * before.ends.arrives);
  b.insert(b.begin(), b.front() - kReach * after.ends.leaves);
  const auto met = crossing_near(a, b, corner);
  if (!met) return false;
  end_at(before.line, a, *met);
  begin_at(after.line, b, *met);
  return true;
}

/// Whether `first` of two edges at a corner is turned or pressed open before the other crosses it.
bool is_mirrored_about(const PieceEdge& first, const PieceEdge& other) {
  const auto turns = [](const PieceEdge& e) {
    return e.work == EdgeWork::hem || e.work == EdgeWork::casing;
  };
  if (first.work == EdgeWork::fold || other.work == EdgeWork::fold) return false;
  if (turns(first) && turns(other)) return first.work == EdgeWork::hem && other.work != first.work;
  if (turns(first)) return true;
  if (turns(other)) return false;
  return first.work == EdgeWork::seam && first.order < other.order;
}

/// The cut line beyond the line of an edge worked first, as the mirror image of the other edge's
/// cut line. `along` is the direction from the corner into the first edge, `other` into the other
/// one. Gives the point on the first edge's line and the one on its cut line.
struct Mirror {
  Vec2<double> on_line, on_cut;
};
Mirror mirror(const Vec2<double>& corner,
              const Vec2<double>& along,
              const Vec2<double>& other,
              double allowance,
              double other_allowance) {
  const double sine = std::abs(cross(along, other));
  const Vec2<double> on_line = corner - (other_allowance / sine) * along;
  const Vec2<double> image = 2 * dot(other, along) * along - other;
  return {on_line, on_line + (allowance / sine) * image};
}

/// Works one corner between two moved edges; false where they don't meet.
bool work_corner(Moved& before, Moved& after, const PieceEdge& first, const PieceEdge& second) {
  const Vec2<double> corner = second.line.front();
  const Vec2<double> arrive = first.arrival(), leave = second.departure();
  const double sine = cross(arrive, leave), cosine = dot(arrive, leave);
  if (std::abs(sine) < kStraight && cosine > 0) {
    // Straight on: one point where the allowances agree, a step where they don't.
    if (std::abs(first.allowance - second.allowance) < 1e-9)
      after.line.front() = before.line.back();
    return true;
  }
  // Mirroring needs a corner not far from square: 45 to 135 degrees.
  const bool squarish = sine > std::sqrt(0.5);
  const bool about_first = is_mirrored_about(first, second);
  const bool about_second = is_mirrored_about(second, first);
  if (!squarish || about_first == about_second) return mitre(before, after, corner);
  const Vec2<double> back = -1.0 * arrive;
  if (about_first) {
    const Mirror m = mirror(corner, back, leave, first.allowance, second.allowance);
    Moved across({m.on_cut, m.on_line}), line({corner + back, corner});
    return mitre(before, across, m.on_cut) && mitre(line, after, m.on_line);
  }
  const Mirror m = mirror(corner, leave, back, second.allowance, first.allowance);
  Moved line({corner, corner + leave}), across({m.on_line, m.on_cut});
  return mitre(before, line, m.on_line) && mitre(across, after, m.on_cut);
}

std::vector<Moved> moved_lines(const std::vector<PieceEdge>& edges,
                               const std::vector<double>& distances) {
  std::vector<Moved> moved;
  for (size_t i = 0; i < edges.size(); ++i) moved.emplace_back(edges[i], distances[i]);
  return moved;
}

// 1e6 units a cm: far finer than anything that can be cut, far below what overflows.
constexpr double kUnits = 1e6;

ClipperLib::Path path_of(const Polyline& outline) {
  ClipperLib::Path path;
  for (const auto& p : outline)
    path.emplace_back(std::llround(p.x * kUnits), std::llround(p.y * kUnits));
  return path;
}

/// The outline without its loops: what lies inside it at least once, counter-clockwise.
ClipperLib::Paths without_loops(const ClipperLib::Path& path) {
  ClipperLib::Paths clean;
  ClipperLib::SimplifyPolygon(path, clean, ClipperLib::pftPositive);
  return clean;
}

Polyline outline_of(const ClipperLib::Path& path) {
  Polyline outline;
  for (const auto& p : path)
    outline.push_back({static_cast<double>(p.X) / kUnits, static_cast<double>(p.Y) / kUnits});
  return outline;
}

/// polyclipping throws at what is no number.
bool is_finite(const Polyline& outline) {
  return std::all_of(outline.begin(), outline.end(), [](const Vec2<double>& p) {
    return std::isfinite(p.x) && std::isfinite(p.y);
  });
}

/// A simple outline is one path, of the same area: the smallest loop would change it by more than
/// this many square units.
bool is_simple(const Polyline& outline) {
  constexpr double kSame = 1e6;
  if (!is_finite(outline)) return false;
  const ClipperLib::Path path = path_of(outline);
  const ClipperLib::Paths clean = without_loops(path);
  return clean.size() == 1 && std::abs(ClipperLib::Area(clean[0]) - ClipperLib::Area(path)) < kSame;
}

}  // namespace

std::vector<Vec2<double>> cut_line_of(const std::vector<PieceEdge>& edges) {
  std::vector<double> allowances;
  for (const PieceEdge& e : edges) allowances.push_back(e.allowance);
  std::vector<Moved> moved = moved_lines(edges, allowances);
  for (size_t i = 0; i < edges.size(); ++i) {
    const size_t next = (i + 1) % edges.size();
    if (!work_corner(moved[i], moved[next], edges[i], edges[next])) return {};
  }
  Polyline outline;
  for (const Moved& m : moved) outline.insert(outline.end(), m.line.begin(), m.line.end());
  // Closed while it is tidied, so that the first point is looked at as well.
  outline.push_back(outline.front());
  outline = without_idle_points(outline);
  outline.pop_back();
  if (!is_finite(outline)) return {};
  if (is_simple(outline)) return outline;
  const ClipperLib::Paths clean = without_loops(path_of(outline));
  const auto largest =
      std::max_element(clean.begin(), clean.end(), [](const auto& a, const auto& b) {
        return ClipperLib::Area(a) < ClipperLib::Area(b);
      });
  return largest == clean.end() ? Polyline{} : outline_of(*largest);
}

std::vector<PieceEdge> moved_edges(const std::vector<PieceEdge>& edges,
                                   const std::vector<double>& distances) {
  std::vector<Moved> moved = moved_lines(edges, distances);
  for (size_t i = 0; i < edges.size(); ++i) {
    const size_t next = (i + 1) % edges.size();
    const Vec2<double> arrive = edges[i].arrival(), leave = edges[next].departure();
    if (std::abs(cross(arrive, leave)) < kStraight && dot(arrive, leave) > 0) {
      moved[next].line.front() = moved[i].line.back();
    } else {
      mitre(moved[i], moved[next], edges[next].line.front());
    }
  }
  // Where a curve has been cut back, it begins or ends in another direction than before.
  constexpr double kCutBack = 0.1;
  std::vector<PieceEdge> result = edges;
  for (size_t i = 0; i < edges.size(); ++i) {
    PieceEdge& e = result[i];
    const Moved whole(edges[i], distances[i]);
    e.line = without_idle_points(moved[i].line);
    const Vec2<double> at_beginning = e.line.front() - whole.line.front();
    const Vec2<double> at_end = e.line.back() - whole.line.back();
    if (dot(at_beginning, whole.ends.leaves) > kCutBack) e.leaves = {0, 0};
    if (dot(at_end, whole.ends.arrives) < -kCutBack) e.arrives = {0, 0};
  }
  return result;
}

std::vector<std::string> faults_of(const Piece& piece) {
  std::vector<std::string> faults;
  const auto say = [&](const std::string& what) { faults.push_back(piece.name + ": " + what); };
  if (piece.edges.size() < 3) {
    say("has no outline");
    return faults;
  }
  for (size_t i = 0; i < piece.edges.size(); ++i) {
    const Polyline& line = piece.edges[i].line;
    const Polyline& next = piece.edges[(i + 1) % piece.edges.size()].line;
    const Vec2<double> gap = next.front() - line.back();
    if (!(std::hypot(gap.x, gap.y) < 1e-6))
      say(fmt::format("'{}' does not end where the next edge begins", piece.edges[i].name));
  }
  const Polyline sew = piece.sew();
  if (!is_finite(sew)) {
    say("the sew line can't be drawn");
    return faults;
  }
  if (!(area_of(sew) > 0)) say("the sew line is not counter-clockwise");
  if (!is_simple(sew)) say("the sew line crosses itself");
  if (piece.cut.empty()) {
    say("the cut line does not close");
    return faults;
  }
  if (!is_simple(piece.cut)) say("the cut line crosses itself");
  ClipperLib::Clipper clipper;
  clipper.AddPath(path_of(sew), ClipperLib::ptSubject, true);
  clipper.AddPath(path_of(piece.cut), ClipperLib::ptClip, true);
  ClipperLib::Paths outside;
  clipper.Execute(
      ClipperLib::ctDifference, outside, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  double beyond = 0;
  for (const auto& p : outside) beyond += ClipperLib::Area(p) / (kUnits * kUnits);
  // A hair's breadth along a whole edge comes to less than this.
  if (std::abs(beyond) > 1e-3) say(fmt::format("{:.3f} cm2 lie outside the cut line", beyond));
  double widest = 0;
  for (const PieceEdge& e : piece.edges) widest = std::max(widest, e.allowance);
  for (const auto& p : piece.cut) {
    const Vec2<double> foot = point_at(sew, nearest_along(sew, p));
    double off = std::hypot(p.x - foot.x, p.y - foot.y);
    const Polyline closing{sew.back(), sew.front()};
    const Vec2<double> last = point_at(closing, nearest_along(closing, p));
    off = std::min(off, std::hypot(p.x - last.x, p.y - last.y));
    if (off > 4 * widest + 1e-3) {
      say(fmt::format("a corner of the cut line runs out {:.1f} cm", off));
      break;
    }
  }
  return faults;
}

}  // namespace easewright
