#include "model/pattern/pieces.h"
#include "model/pattern/polyline.h"
#include "model/rounding.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace easewright {
namespace {

using geometry::cross;
using geometry::dot;

/// A seam of one piece: its edges in the order in which they are walked.
struct Seam {
  const Piece* piece = nullptr;
  std::string name;
  std::vector<size_t> edges;

  std::string title() const { return piece->name + ": " + name; }
  const PieceEdge& first() const { return piece->edges[edges.front()]; }
  const PieceEdge& last() const { return piece->edges[edges.back()]; }
  double length() const { return piece->seam_length(name); }
  double eased() const {
    double sum = 0;
    for (const size_t i : edges) sum += piece->edges[i].eased;
    return sum;
  }
  /// The edge before the seam's beginning, and the one after its end.
  const PieceEdge& before() const {
    return piece->edges[(edges.front() + piece->edges.size() - 1) % piece->edges.size()];
  }
  const PieceEdge& after() const { return piece->edges[(edges.back() + 1) % piece->edges.size()]; }
};

std::vector<Seam> seams_of(const std::vector<Piece>& pieces) {
  std::vector<Seam> seams;
  for (const Piece& piece : pieces) {
    for (size_t i = 0; i < piece.edges.size(); ++i) {
      const std::string name = piece.edges[i].seam();
      const auto same = std::find_if(seams.begin(), seams.end(), [&](const Seam& s) {
        return s.piece == &piece && s.name == name;
      });
      if (same == seams.end()) {
        seams.push_back({&piece, name, {i}});
      } else {
        same->edges.push_back(i);
      }
    }
  }
  return seams;
}

const Seam* find(const std::vector<Seam>& seams, const std::string& title) {
  const auto it =
      std::find_if(seams.begin(), seams.end(), [&](const Seam& s) { return s.title() == title; });
  return it == seams.end() ? nullptr : &*it;
}

/// Interior angle between two edges at the corner where the first ends.
double corner_angle(const PieceEdge& arriving, const PieceEdge& leaving) {
  const Vec2<double> a = arriving.arrival(), b = leaving.departure();
  return std::acos(-1.0) - std::atan2(cross(a, b), dot(a, b));
}

double angle_at_beginning(const Seam& s) { return corner_angle(s.before(), s.first()); }
double angle_at_end(const Seam& s) { return corner_angle(s.last(), s.after()); }

/// Whether the second seam is walked against the first once they are sewn: the edges across their
/// ends tell.
bool is_against(const Seam& a, const Seam& b) {
  return a.before().seam() == b.after().seam() || a.after().seam() == b.before().seam();
}

/// A seam ends at a fold where its piece goes on as its own mirror image, and at the centre of a
/// piece that goes on beyond it: the edge has to run square to the centre line there.
bool goes_on(const PieceEdge& beyond) {
  return beyond.work == EdgeWork::fold || beyond.seam() == "overlap";
}
double off_square(const Seam& s, bool beginning) {
  const Vec2<double> run = beginning ? s.first().departure() : s.last().arrival();
  return std::asin(std::clamp(std::abs(run.y), 0.0, 1.0));
}

double corner_between(const Seam& a, const Seam& b, bool beginning, bool lining) {
  const bool against = is_against(a, b);
  const bool b_beginning = beginning != against;
  const PieceEdge& beyond_a = beginning ? a.before() : a.after();
  const PieceEdge& beyond_b = b_beginning ? b.before() : b.after();
  if (goes_on(beyond_a) || goes_on(beyond_b)) {
    // Faced edges meet at the fold at any angle, a V's for one, as long as both do.
    const double off_a = off_square(a, beginning), off_b = off_square(b, b_beginning);
    return lining ? off_a - off_b : std::max(off_a, off_b);
  }
  const double angle_a = beginning ? angle_at_beginning(a) : angle_at_end(a);
  const double angle_b = b_beginning ? angle_at_beginning(b) : angle_at_end(b);
  return lining ? angle_a - angle_b : angle_a + angle_b - std::acos(-1.0);
}

SeamPair pair_of(const Seam& a, const Seam& b) {
  SeamPair pair;
  pair.first = a.title();
  pair.second = b.title();
  pair.first_length = a.length();
  pair.second_length = b.length();
  // A seam of two halves of one piece says nothing that its mate does not.
  pair.eased = &a == &b ? 0 : a.eased();
  pair.off = pair.first_length - pair.second_length - pair.eased;
  if (&a == &b) {
    // Both halves of one seam: each end has to be square to run on.
    pair.corner_first = 2 * angle_at_beginning(a) - std::acos(-1.0);
    pair.corner_last = 2 * angle_at_end(a) - std::acos(-1.0);
    return pair;
  }
  const bool lining = a.piece->cut_of != b.piece->cut_of;
  pair.corner_first = corner_between(a, b, true, lining);
  pair.corner_last = corner_between(a, b, false, lining);
  return pair;
}

/// Both legs of a dart, and the seam across its mouth once it is closed.
void add_darts(const std::vector<Piece>& pieces, std::vector<SeamPair>& pairs) {
  for (const Piece& piece : pieces) {
    std::vector<const PieceMark*> legs;
    for (const PieceMark& m : piece.marks)
      if (m.kind == PieceMark::Kind::dart_leg) legs.push_back(&m);
    const PieceEdge* dart = piece.edge("dart");
    if (legs.size() != 2 || !dart) continue;
    SeamPair pair;
    pair.first = piece.name + ": dart, lower leg";
    pair.second = piece.name + ": dart, upper leg";
    pair.first_length = length_of(legs[0]->line);
    pair.second_length = length_of(legs[1]->line);
    pair.off = pair.first_length - pair.second_length;
    const auto at = static_cast<size_t>(dart - piece.edges.data());
    const PieceEdge& below = piece.edges[at - 1];
    const PieceEdge& above = piece.edges[at + 1];
    PieceEdge lower, upper;
    lower.line = legs[0]->line;
    upper.line = reversed(legs[1]->line);
    pair.corner_first = corner_angle(below, lower) + corner_angle(upper, above) - std::acos(-1.0);
    pairs.push_back(pair);
  }
}

}  // namespace

std::vector<SeamPair> seam_pairs(const std::vector<Piece>& pieces) {
  const std::vector<Seam> seams = seams_of(pieces);
  std::vector<SeamPair> pairs;
  std::set<std::pair<std::string, std::string>> seen;
  for (const Seam& a : seams) {
    if (a.first().mate.empty()) continue;
    const Seam* b = find(seams, a.first().mate);
    if (!b || !seen.insert(std::minmax(a.title(), b->title())).second) continue;
    pairs.push_back(pair_of(a, *b));
  }
  add_darts(pieces, pairs);
  return pairs;
}

SeamPair as_read(const SeamPair& pair, LengthUnit unit) {
  const double step = reading_step(unit, kLength);
  const auto rounded = [step](double x) { return step * std::round(x / step); };
  SeamPair read = pair;
  read.first_length = rounded(pair.first_length);
  read.eased = rounded(pair.eased);
  read.off = std::abs(pair.off) > kTrued + 0.5 * step ? rounded(pair.off) : 0;
  read.second_length = read.first_length - read.eased - read.off;
  return read;
}

}  // namespace easewright
