// Every seam of every shipped style over 200 open bodies: mates are equal or eased by what is
// stated, edges run on across seams, cut lines keep their allowances, and what is drawn is as long
// as the fit says. Oracles: the measures, which the fit integrates by itself; plane geometry,
// worked out here again; common practice for what a cutter accepts (joined seams 0.1, trade notes).

#include "model/garment/bodice.h"
#include "model/pattern/cut_line.h"
#include "model/pattern/pieces.h"
#include "model/rounding.h"
#include "tests/catch.h"
#include "tests/model/garments.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace easewright::tests {
namespace {

using M = MeasureKey;
using V = ValueKey;
using Point = Vec2<double>;
using Line = std::vector<Point>;

double norm(const Point& v) { return std::hypot(v.x, v.y); }
double cross(const Point& a, const Point& b) { return a.x * b.y - a.y * b.x; }
double dot(const Point& a, const Point& b) { return a.x * b.x + a.y * b.y; }

double area(const Line& outline) {
  double twice = 0;
  for (size_t i = 0; i < outline.size(); ++i)
    twice += cross(outline[i], outline[(i + 1) % outline.size()]);
  return twice / 2;
}

double to_segment(const Point& p, const Point& a, const Point& b) {
  const Point d = b - a;
  const double t = std::clamp(dot(p - a, d) / dot(d, d), 0.0, 1.0);
  return norm(p - (a + t * d));
}

double to_outline(const Point& p, const Line& outline) {
  double least = 1e9;
  for (size_t i = 0; i < outline.size(); ++i)
    least = std::min(least, to_segment(p, outline[i], outline[(i + 1) % outline.size()]));
  return least;
}

/// Two chords of a closed outline that cross, neighbours apart: every pair is looked at.
bool crosses_itself(const Line& o) {
  const size_t n = o.size();
  for (size_t i = 0; i < n; ++i) {
    const Point a = o[i], b = o[(i + 1) % n];
    for (size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;
      const Point c = o[j], d = o[(j + 1) % n];
      if (std::max(a.x, b.x) < std::min(c.x, d.x) || std::max(c.x, d.x) < std::min(a.x, b.x) ||
          std::max(a.y, b.y) < std::min(c.y, d.y) || std::max(c.y, d.y) < std::min(a.y, b.y))
        continue;
      if (cross(b - a, c - a) * cross(b - a, d - a) < 0 &&
          cross(d - c, a - c) * cross(d - c, b - c) < 0)
        return true;
    }
  }
  return false;
}

const Piece* named(const std::vector<Piece>& pieces, const std::string& name) {
  const auto it =
      std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) { return p.name == name; });
  return it == pieces.end() ? nullptr : &*it;
}

/// Direction of an edge at its end or beginning, from a chord some way in: within 3 degrees of the
/// curve's own, and independent of it.
Point leaving(const PieceEdge& e) {
  return (1 / norm(e.line[1] - e.line[0])) * (e.line[1] - e.line[0]);
}
Point arriving(const PieceEdge& e) {
  const size_t n = e.line.size();
  return (1 / norm(e.line[n - 1] - e.line[n - 2])) * (e.line[n - 1] - e.line[n - 2]);
}
double interior_angle(const Piece& piece, const std::string& before, const std::string& after) {
  const Point a = arriving(*piece.edge(before)), b = leaving(*piece.edge(after));
  return degrees(kPi - std::atan2(cross(a, b), dot(a, b)));
}

/// Collects what is wrong with one garment.
struct Slips {
  std::string who;
  std::vector<std::string> all;
  void near(const std::string& what, double is, double wanted, double tolerance) {
    if (!(std::abs(is - wanted) <= tolerance))
      all.push_back(fmt::format("{}: {} is {:.4f}, not {:.4f}", who, what, is, wanted));
  }
  void check(bool holds, const std::string& what) {
    if (!holds) all.push_back(who + ": " + what);
  }
};

/// Lengths that the fit reports, against the drawn edges.
void check_lengths(const FitResult& r, const std::vector<Piece>& pieces, Slips& slips) {
  const Piece& front = *named(pieces, "bodice front");
  const Piece& back = *named(pieces, "bodice back");
  const auto measure = [&](M key) { return r.measures[key]; };
  constexpr double kEqual = 0.01;
  slips.near(
      "front neckline", front.edge("neckline")->length(), measure(M::neckline_front), kEqual);
  slips.near("back neckline", back.edge("neckline")->length(), measure(M::neckline_back), kEqual);
  slips.near("front armhole", front.edge("armhole")->length(), measure(M::armhole_front), kEqual);
  slips.near("back armhole", back.edge("armhole")->length(), measure(M::armhole_back), kEqual);
  slips.near("front waist", front.edge("waist")->length(), measure(M::bodice_waist_front), kEqual);
  slips.near("back waist", back.edge("waist")->length(), measure(M::bodice_waist_back), kEqual);
  slips.near("back side", back.seam_length("side seam"), measure(M::bodice_side), kEqual);
  slips.near("front side",
             front.seam_length("side seam"),
             measure(M::bodice_side),
             kEqual + std::abs(measure(M::bodice_side_mismatch)));
  slips.near("shoulder", front.edge("shoulder")->length(), r.values[V::strap_width], kEqual);
  if (!r.posed->frame.skirt) return;
  const Piece& skirt_back = *named(pieces, "skirt back");
  const Piece& skirt_front = *named(pieces, "skirt front");
  const double overlap = r.posed->frame.wrapped ? r.values[V::skirt_overlap] : 0;
  const double run_in = r.posed->frame.wrapped ? r.values[V::slit_run_in] : 0;
  slips.near("skirt waist",
             2 * (skirt_back.edge("waist")->length() + skirt_front.edge("waist")->length()),
             measure(M::skirt_waist),
             kEqual);
  slips.near(
      "hem",
      2 * (skirt_back.edge("hem")->length() + skirt_front.edge("hem")->length() + run_in) - overlap,
      measure(M::skirt_hem),
      2 * kEqual);
  slips.near(
      "skirt side", skirt_back.edge("side seam")->length(), r.values[V::skirt_length], kEqual);
  if (!r.posed->frame.wrapped) return;
  // The fit's free edge begins at the side's level.
  const PieceEdge& free = *skirt_front.edge("free edge");
  slips.near(
      "free edge", free.length() - free.line.front().y, measure(M::slit_edge_length), kEqual);
  slips.near("overlap", skirt_front.edge("overlap")->line[0].x, overlap / 2, kEqual);
}

/// By how much an edge grows that is moved inwards by d, its ends sliding along straight
/// neighbours: -d (total turn + cot of both interior angles), a sharp bend counting 2 tan(half its
/// turn) (Steiner 1840, parallel curves).
double steiner(const Piece& piece, const std::string& name, double d) {
  const PieceEdge* edge = piece.edge(name);
  const size_t at = static_cast<size_t>(edge - piece.edges.data()), n = piece.edges.size();
  double turn = 0;
  for (size_t i = 1; i + 1 < edge->line.size(); ++i) {
    const Point a = edge->line[i] - edge->line[i - 1], b = edge->line[i + 1] - edge->line[i];
    turn += 2 * std::tan(0.5 * std::atan2(cross(a, b), dot(a, b)));
  }
  const auto cot = [&](const std::string& before, const std::string& after) {
    return 1 / std::tan(radians(interior_angle(piece, before, after)));
  };
  return -d * (turn + cot(piece.edges[(at + n - 1) % n].name, name) +
               cot(name, piece.edges[(at + 1) % n].name));
}

/// Mates are equal but for what is stated, and what is stated is what the draft means.
void check_pairs(const FitResult& r, const std::vector<Piece>& pieces, Slips& slips) {
  const std::vector<SeamPair> pairs = seam_pairs(pieces);
  const Frame& frame = r.posed->frame;
  std::map<std::string, const SeamPair*> by_name;
  double waist_eased = 0;
  for (const SeamPair& p : pairs) {
    by_name[p.first + " / " + p.second] = &p;
    slips.near(p.first + " against " + p.second, p.off, 0, 0.01);
    slips.near(p.first + " ease", p.first_length - p.second_length - p.eased, p.off, 1e-9);
    // A V meets its lining at the fold at any angle; all else runs on within a few degrees. A dart
    // stitched short of the bust point opens wider than its share.
    const bool dart = p.first.find("dart") != std::string::npos;
    slips.near(p.first + " beginning, degrees", degrees(p.corner_first), 0, dart ? 8 : 2);
    slips.near(p.first + " end, degrees", degrees(p.corner_last), 0, 2);
    const bool shoulder = p.first.find("shoulder") != std::string::npos;
    const bool waist = p.first.find("waist") != std::string::npos;
    const bool lining = p.first.substr(0, 6) != "lining" && p.second.substr(0, 6) == "lining";
    if (waist && p.first.substr(0, 6) == "bodice" && p.second.substr(0, 5) == "skirt")
      waist_eased += p.eased;
    if (!shoulder && !waist && !lining) slips.near(p.first + " eased", p.eased, 0, 0);
    if (shoulder)
      slips.near(p.first + " eased",
                 -p.eased,
                 r.measures[M::blade_shoulder_ratio] * r.values[V::strap_width],
                 1e-9);
  }
  const auto has = [&](const std::string& name) { return by_name.count(name) > 0; };
  slips.check(has("bodice front: side seam / bodice back: side seam"), "no side seam");
  slips.check(has("bodice front: shoulder / bodice back: shoulder"), "no shoulder seam");
  if (frame.skirt) {
    slips.check(has("bodice front: waist / skirt front: waist"), "no front waist");
    slips.check(has("bodice back: waist / skirt back: waist"), "no back waist");
    slips.check(has("skirt back: side seam / skirt front: side seam"), "no skirt side");
    // What is left of front and back together is the skirt's fullness, none with an elastic.
    slips.near("waist eased", 2 * waist_eased, -r.measures[M::skirt_waist_mismatch], 1e-6);
  }
  if (frame.lined) {
    for (const char* part : {"front", "back"}) {
      const Piece& cloth = *named(pieces, std::string("bodice ") + part);
      const Piece& lining = *named(pieces, std::string("lining ") + part);
      for (const char* edge : {"neckline", "armhole"}) {
        const std::string pair = fmt::format("bodice {0}: {1} / lining {0}: {1}", part, edge);
        slips.check(has(pair), "no pair " + pair);
        if (has(pair))
          slips.near(pair + ", Steiner", -by_name[pair]->eased, steiner(cloth, edge, 0.2), 0.02);
      }
      slips.near("lining waist, Steiner",
                 lining.edge("waist")->length() - cloth.edge("waist")->length(),
                 steiner(cloth, "waist", -1.0),
                 0.02);
      // 1 longer at the waist, 0.2 lower at the underarm.
      slips.near("lining side",
                 lining.seam_length("side seam"),
                 cloth.seam_length("side seam") + 1.0 - 0.2,
                 0.01);
    }
  }
}

/// Angles of the drawn corners themselves, where two pieces meet: 180 degrees together.
void check_smoothness(const FitResult& r, const std::vector<Piece>& pieces, Slips& slips) {
  const Piece& front = *named(pieces, "bodice front");
  const Piece& back = *named(pieces, "bodice back");
  const std::string below = front.edge("dart") ? "side seam, below dart" : "side seam";
  const std::string above = front.edge("dart") ? "side seam, above dart" : "side seam";
  constexpr double kSmooth = 5;  // degrees; chords are up to 2 off on each side
  const auto meet = [&](const char* where, double a, double b) {
    slips.near(std::string(where) + ", degrees", a + b, 180, kSmooth);
  };
  meet("strap and neck",
       interior_angle(front, "shoulder", "neckline"),
       interior_angle(back, "shoulder", "neckline"));
  meet("strap and armhole",
       interior_angle(front, "armhole", "shoulder"),
       interior_angle(back, "armhole", "shoulder"));
  meet("underarm",
       interior_angle(front, above, "armhole"),
       interior_angle(back, "side seam", "armhole"));
  meet("waist", interior_angle(front, "waist", below), interior_angle(back, "waist", "side seam"));
  if (!r.posed->frame.skirt) return;
  const Piece& skirt_back = *named(pieces, "skirt back");
  const Piece& skirt_front = *named(pieces, "skirt front");
  meet("hem",
       interior_angle(skirt_front, "hem", "side seam"),
       interior_angle(skirt_back, "hem", "side seam"));
  meet("skirt waist",
       interior_angle(skirt_front, "side seam", "waist"),
       interior_angle(skirt_back, "side seam", "waist"));
  meet("waist at the centre back", interior_angle(skirt_back, "waist", "centre back"), 90);
}

/// How far a point of an edge is from its nearest corner, sharp bends inside the edge among them.
/// Inside a hollow bend no more of the edge is left out than what its cut line has no room for.
double to_corner(const PieceEdge& e, const Point& p) {
  double least = std::min(norm(p - e.line.front()), norm(p - e.line.back()));
  for (size_t i = 1; i + 1 < e.line.size(); ++i) {
    const Point a = e.line[i] - e.line[i - 1], b = e.line[i + 1] - e.line[i];
    const double turn = std::abs(std::atan2(cross(a, b), dot(a, b))), off = norm(p - e.line[i]);
    if (turn > radians(8)) least = std::min(least, off);
    if (turn > radians(3) && off < e.allowance * std::tan(turn / 2) + 1e-6) return 0;
  }
  return least;
}

struct Sample {
  Point at, outward;
};
/// A point every cm of an edge, with the normal of the chord on which it lies.
std::vector<Sample> samples_of(const PieceEdge& e) {
  std::vector<Sample> samples;
  double next = 0.3;  // along the chord that is looked at
  for (size_t i = 0; i + 1 < e.line.size(); ++i) {
    const Point chord = e.line[i + 1] - e.line[i];
    const double size = norm(chord);
    for (; next < size; next += 1.0) {
      const Point along = (1 / size) * chord;
      samples.push_back({e.line[i] + next * along, {along.y, -along.x}});
    }
    next -= size;
  }
  return samples;
}

/// Outlines, and the allowance at samples all along each edge.
void check_outlines(const std::vector<Piece>& pieces, Slips& slips) {
  for (const Piece& piece : pieces) {
    for (const std::string& fault : faults_of(piece)) slips.check(false, fault);
    const Line sew = piece.sew();
    slips.check(area(sew) > 0, piece.name + " has no area");
    slips.check(area(piece.cut) > area(sew), piece.name + " has no allowance");
    slips.check(!crosses_itself(sew), piece.name + ": sew line crosses itself");
    slips.check(!crosses_itself(piece.cut), piece.name + ": cut line crosses itself");
    const size_t n = piece.edges.size();
    for (size_t i = 0; i < n; ++i) {
      const PieceEdge& e = piece.edges[i];
      const PieceEdge &before = piece.edges[(i + n - 1) % n], &next = piece.edges[(i + 1) % n];
      slips.check(norm(next.line.front() - e.line.back()) < 1e-6, piece.name + " is open");
      // Far enough from the corners that nothing else is nearer.
      const double widest = std::max({e.allowance, before.allowance, next.allowance});
      for (const Sample& sample : samples_of(e)) {
        const double room = to_corner(e, sample.at);
        if (room < 1.2 * widest) continue;
        const double off = to_outline(sample.at + e.allowance * sample.outward, piece.cut);
        // A fold that is near is no lack.
        const bool lacks =
            room > 2 * widest && to_outline(sample.at, piece.cut) < e.allowance - 0.005;
        if (off < 0.005 && !lacks) continue;
        slips.check(false,
                    fmt::format("{}: {} at {:.1f}, {:.1f} {} the cut line, {:.4f}",
                                piece.name,
                                e.name,
                                sample.at.x,
                                sample.at.y,
                                lacks ? "is too near" : "is off",
                                off));
      }
    }
    if (piece.on_fold)
      for (const Point& p : piece.cut)
        slips.check(p.x > -1e-6, piece.name + " lies beyond its fold");
  }
}

/// Notches that meet lie at the same place of both edges: as far along, or in proportion where one
/// edge is eased to the other.
void check_notches(const std::vector<Piece>& pieces, Slips& slips) {
  const auto share = [&](const std::string& piece_name, const std::string& mate) {
    const Piece* piece = named(pieces, piece_name);
    if (!piece) return std::nan("");
    for (const Notch& n : piece->notches)
      if (n.mate == mate) {
        const double length = piece->edges[static_cast<size_t>(n.edge)].length();
        return n.along / length;
      }
    return std::nan("");
  };
  for (const char* part : {"front", "back"}) {
    const std::string bodice = std::string("bodice ") + part, skirt = std::string("skirt ") + part;
    const std::string lining = std::string("lining ") + part;
    if (named(pieces, skirt)) {
      // The skirt's waist is walked from the side, the bodice's from the centre.
      slips.near(bodice + ": waist balance",
                 share(bodice, "waist balance"),
                 1 - share(skirt, "waist balance"),
                 1e-9);
      const std::string centre = std::string("centre ") + part;
      slips.near(bodice + ": centre", share(bodice, centre), 0, 1e-9);
      slips.near(skirt + ": centre", share(skirt, centre), 1, 1e-9);
    }
    if (named(pieces, lining))
      slips.near(bodice + ": armhole notch",
                 share(bodice, "armhole notch"),
                 share(lining, "armhole notch"),
                 0.01);
  }
  const auto from_waist = [&](const char* name) {
    const Piece& piece = *named(pieces, name);
    for (const Notch& n : piece.notches)
      if (n.mate == "side balance") return n.along;
    return std::nan("");
  };
  slips.near("side balance", from_waist("bodice front"), from_waist("bodice back"), 0.01);
}

Slips walk(const FitResult& r, const std::string& who) {
  Slips slips;
  slips.who = who;
  const std::vector<Piece> pieces = pieces_of(r);
  check_lengths(r, pieces, slips);
  check_pairs(r, pieces, slips);
  check_smoothness(r, pieces, slips);
  check_outlines(pieces, slips);
  check_notches(pieces, slips);
  return slips;
}

/// Fits, draws and walks; what is wrong is reported, each slip once.
void walk_all(const std::vector<Body>& bodies, const std::string& style) {
  const std::vector<FitResult> results = fitted(bodies, style);
  CHECK(results.size() * 20 > bodies.size() * 19);
  std::vector<Slips> all(results.size());
  tbb::parallel_for(size_t{0}, results.size(), [&](size_t i) {
    all[i] = walk(results[i], fmt::format("{}, garment {}", style, i));
  });
  for (const Slips& slips : all)
    for (const std::string& slip : slips.all) FAIL_CHECK(slip);
}

}  // namespace

TEST_CASE("every seam of every shipped style over 200 open bodies", "[survey]") {
  const std::vector<Body> bodies = open_bodies(200);
  if (bodies.empty()) {
    WARN("SKIPPED: no open bodies; set EASEWRIGHT_BODIES");
    return;
  }
  REQUIRE(bodies.size() == 200);
  for (const std::string& style : shipped_styles()) walk_all(bodies, style);
}

TEST_CASE("every seam of the junior dress over 60 children of 1977", "[survey]") {
  const std::vector<Body> children = survey_children_1977();
  if (children.empty()) {
    WARN("SKIPPED: no survey of children; set EASEWRIGHT_BODIES");
    return;
  }
  std::vector<Body> some;
  for (size_t i = 0; i < 60; ++i) some.push_back(children[i * children.size() / 60]);
  walk_all(some, "junior dress");
}

TEST_CASE("every seam of the choir's demo and of the sample, without surveys") {
  for (const std::string& style : shipped_styles())
    walk_all({demo_job("examples/sample.yaml").body,
              demo_job("choir/jobs/alto-2.yaml").body,
              demo_job("choir/jobs/soprano-1.yaml").body},
             style);
}

}  // namespace easewright::tests
