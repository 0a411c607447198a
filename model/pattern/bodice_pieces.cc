// Bodice front and back, and their linings.

#include "model/pattern/cut_line.h"
#include "model/pattern/drafting.h"

#include <algorithm>
#include <cmath>

namespace easewright::drafting {
namespace {

using geometry::cross;
using geometry::dot;

Polyline armhole_line(const HalfBodice<double>& half) {
  Polyline line = flattened(half.armhole_upper);
  append(line, flattened(half.armhole_lower));
  return reversed(line);  // underarm to strap
}

Polyline neck_line(const HalfBodice<double>& half) {
  Polyline line = flattened(half.neck[0]);
  if (half.neck_curves == 2) append(line, flattened(half.neck[1]));
  return reversed(line);  // strap to centre
}

Vec2<double> unit(const Vec2<double>& v) { return (1 / std::hypot(v.x, v.y)) * v; }

/// An edge walked against its curves takes their directions turned round.
void set_ends_against(PieceEdge& e,
                      const geometry::Bezier<double>& first,
                      const geometry::Bezier<double>& last) {
  e.leaves = -1.0 * unit(last.tangent(1));
  e.arrives = -1.0 * unit(first.tangent(0));
}

std::string at(const std::string& piece, const std::string& seam) { return piece + ": " + seam; }

bool has_dart(const HalfBodice<double>& half) {
  return geometry::distance(half.dart_upper, half.dart_lower) > kLeastDart;
}

Vec2<double> dart_tip(const Draft& d, const HalfBodice<double>& half) {
  const Vec2<double> mouth = 0.5 * (half.dart_upper + half.dart_lower);
  const Vec2<double> axis = mouth - half.pivot;
  const double length = std::hypot(axis.x, axis.y);
  const double wanted = d[ValueKey::shaping_side] > radians(20) ? kBigDartShort : kDartShort;
  // A short dart keeps half its length at least.
  return half.pivot + (std::min(wanted, 0.5 * length) / length) * axis;
}

constexpr const char* kDartDown = "dart fold, press down";
constexpr const char* kDartUp = "dart fold, press up";

/// Which way a sewn dart is pressed: the lining's against the cloth's, so that the two don't lie on
/// each other (common practice).
enum class Pressed { down, up };

/// The edge across a dart: folded, its wedge ends on the side seam that it is pressed onto. So that
/// seam, which runs from the dart to `end`, is mirrored over its leg, up to the dart's axis.
Polyline dart_fold(const Vec2<double>& lower,
                   const Vec2<double>& upper,
                   const Vec2<double>& tip,
                   const Vec2<double>& end,
                   Pressed pressed) {
  const Vec2<double>& corner = pressed == Pressed::down ? lower : upper;
  const Vec2<double> leg = unit(corner - tip);
  const Vec2<double> seam = unit(end - corner);
  const Vec2<double> image = 2 * dot(seam, leg) * leg - seam;
  const Vec2<double> axis = unit(0.5 * (upper + lower) - tip);
  const double along = cross(Vec2<double>(tip - corner), axis) / cross(image, axis);
  return {lower, corner + along * image, upper};
}

/// The six edges of a half, counter-clockwise from the centre's waist; eight with a side dart.
std::vector<PieceEdge> half_edges(const Draft& d,
                                  const HalfBodice<double>& half,
                                  const std::string& name) {
  const bool front = name == kBodiceFront;
  const Allowances& a = d.allowances;
  const std::string other = front ? kBodiceBack : kBodiceFront;
  const std::string skirt = front ? kSkirtFront : kSkirtBack;
  const std::string lining = front ? kLiningFront : kLiningBack;
  const auto lined = [&](const char* seam) { return d.frame.lined ? at(lining, seam) : ""; };
  std::vector<PieceEdge> edges;
  edges.push_back(edge("waist",
                       flattened(half.waist),
                       d.waist_allowance(),
                       d.waist_work(),
                       d.frame.skirt ? at(skirt, "waist") : "",
                       kWaist));
  edges.back().leaves = unit(half.waist.tangent(0));
  edges.back().arrives = unit(half.waist.tangent(1));
  const std::string side = at(other, "side seam");
  if (front && has_dart(half)) {
    edges.push_back(edge("side seam, below dart",
                         {half.side_waist, half.dart_lower},
                         a.side,
                         EdgeWork::seam,
                         side,
                         kSide));
    edges.push_back(edge(
        "dart",
        dart_fold(
            half.dart_lower, half.dart_upper, dart_tip(d, half), half.side_waist, Pressed::down),
        a.side,
        EdgeWork::seam,
        "",
        kSide));
    edges.push_back(edge("side seam, above dart",
                         {half.dart_upper, half.underarm},
                         a.side,
                         EdgeWork::seam,
                         side,
                         kSide));
  } else {
    edges.push_back(
        edge("side seam", {half.side_waist, half.underarm}, a.side, EdgeWork::seam, side, kSide));
  }
  edges.push_back(
      edge("armhole", armhole_line(half), a.armhole, EdgeWork::faced, lined("armhole"), kArmhole));
  set_ends_against(edges.back(), half.armhole_upper, half.armhole_lower);
  edges.push_back(edge("shoulder",
                       {half.strap_outer, half.strap_inner},
                       a.shoulder,
                       EdgeWork::seam,
                       at(other, "shoulder"),
                       kShoulder));
  edges.push_back(
      edge("neckline", neck_line(half), a.neck, EdgeWork::faced, lined("neckline"), kNeck));
  set_ends_against(
      edges.back(), half.neck[0], half.neck[static_cast<size_t>(half.neck_curves - 1)]);
  const bool seam = !front && d.centre_back_seam();
  edges.push_back(edge(front ? "centre front" : "centre back",
                       {half.centre_neck, half.centre_waist},
                       seam ? a.centre : 0,
                       seam ? EdgeWork::seam : EdgeWork::fold,
                       seam ? at(name, "centre back") : "",
                       kCentre));
  return edges;
}

void set_eased(Piece& piece, const std::string& name, double eased) {
  for (PieceEdge& e : piece.edges)
    if (e.name == name) e.eased = eased;
}

/// The back's shoulder is longer by the blade's share in it.
double shoulder_ease(const Draft& d) {
  return d.result.measures[MeasureKey::blade_shoulder_ratio] * d[ValueKey::strap_width];
}

/// What both halves have: notches, casing line, grain.
void mark_half(const Draft& d, const HalfBodice<double>& half, Piece& piece, NotchKind kind) {
  const PieceEdge& armhole = *piece.edge("armhole");
  add_notch(piece, "armhole", nearest_along(armhole.line, half.notch), kind, "armhole notch");
  // Front and back meet in the side seam: one notch on each, as far above the waist; below the
  // dart, where there is one.
  const HalfBodice<double>& front = d.bodice.front;
  const Vec2<double> top = has_dart(front) ? front.dart_lower : front.underarm;
  add_notch(piece,
            piece.edge("side seam") ? "side seam" : "side seam, below dart",
            0.5 * geometry::distance(front.side_waist, top),
            NotchKind::single,
            "side balance");
  if (d.side_opening()) {
    const std::string upper = piece.edge("side seam") ? "side seam" : "side seam, above dart";
    add_notch(piece,
              upper,
              piece.edge(upper)->length() - kOpeningBelowArmhole,
              NotchKind::single,
              "left side opening begins");
  }
  const PieceEdge& waist = *piece.edge("waist");
  const double match = piece.name == kBodiceFront ? front_waist_match(d) : 0.5;
  if (!d.centre_back_seam() || piece.name == kBodiceFront)
    add_notch(piece, "waist", 0, kind, piece.name == kBodiceFront ? "centre front" : "centre back");
  add_notch(piece, "waist", match * waist.length(), kind, "waist balance");
  if (d.frame.elastic_waist) {
    piece.marks.push_back({PieceMark::Kind::casing_line,
                           parallel(waist.line, -d[ValueKey::casing_width]),
                           "casing, " + d.read(d[ValueKey::casing_width])});
  }
  const double left = 0.35 * half.notch.x;
  piece.grain = {Vec2<double>{left, 0.15 * half.centre_neck.y},
                 Vec2<double>{left, 0.75 * half.centre_neck.y}};
}

}  // namespace

Piece bodice_front(const Draft& d) {
  const HalfBodice<double>& half = d.bodice.front;
  Piece piece;
  piece.name = kBodiceFront;
  piece.on_fold = true;
  piece.edges = half_edges(d, half, piece.name);
  if (d.frame.skirt)
    set_eased(
        piece, "waist", d.result.measures[MeasureKey::bodice_waist_front] - skirt_front_waist(d));
  set_eased(piece, "shoulder", -shoulder_ease(d));
  mark_half(d, half, piece, NotchKind::single);
  piece.marks.push_back({PieceMark::Kind::point, {half.pivot}, "bust point"});
  if (piece.edge("dart")) {
    const Vec2<double> tip = dart_tip(d, half);
    piece.marks.push_back({PieceMark::Kind::dart_leg, {half.dart_lower, tip}, "dart"});
    piece.marks.push_back({PieceMark::Kind::dart_leg, {half.dart_upper, tip}, "dart"});
    piece.marks.push_back({PieceMark::Kind::fold, {piece.edge("dart")->line[1], tip}, kDartDown});
    add_notch(piece, "dart", 0, NotchKind::single, "dart");
    add_notch(piece, "dart", piece.edge("dart")->length(), NotchKind::single, "dart");
  }
  // Elastic would spread the bust's share evenly; in a plain seam it lies flat.
  const double fullness = d.result.measures[MeasureKey::shaping_waist_width];
  const double waist = piece.edge("waist")->length();
  double free_from = 0.1 * waist;
  if (d.frame.elastic_waist && fullness > 0.1 && d.is_felt(fullness)) {
    const double foot = half.pivot.x;
    mark_along(piece,
               "waist",
               foot - kGatherReach,
               foot + kGatherReach + fullness,
               PieceMark::Kind::gather,
               "gather " + d.read(fullness) + " under the bust");
    // What is eased into the skirt is eased beside it.
    free_from = std::max(free_from, foot + kGatherReach + fullness + 0.5);
  }
  mark_waist_fullness(d, piece, free_from, 0.95 * waist);
  const double taken = d[ValueKey::armhole_taken];
  if (d.is_felt(taken)) {
    // Between the underarm's hollow and the strap, where the edge stands off.
    const double length = piece.edge("armhole")->length();
    mark_along(piece,
               "armhole",
               0.35 * length,
               0.85 * length,
               PieceMark::Kind::gather,
               "ease " + d.read(taken));
  }
  return piece;
}

Piece bodice_back(const Draft& d) {
  const HalfBodice<double>& half = d.bodice.back;
  Piece piece;
  piece.name = kBodiceBack;
  piece.on_fold = !d.centre_back_seam();
  piece.mirrored = !piece.on_fold;
  piece.count = piece.on_fold ? 1 : 2;
  piece.edges = half_edges(d, half, piece.name);
  if (d.frame.skirt)
    set_eased(
        piece, "waist", d.result.measures[MeasureKey::bodice_waist_back] - skirt_back_waist(d));
  mark_half(d, half, piece, NotchKind::pair);
  const double waist = piece.edge("waist")->length();
  mark_waist_fullness(d, piece, 0.1 * waist, 0.9 * waist);
  const double eased = shoulder_ease(d);
  set_eased(piece, "shoulder", eased);
  if (d.is_felt(eased)) {
    const double length = piece.edge("shoulder")->length();
    mark_along(piece,
               "shoulder",
               0.15 * length,
               0.85 * length,
               PieceMark::Kind::gather,
               "ease " + d.read(eased));
  }
  return piece;
}

namespace {

/// Turns a dart that is pressed down into one that is pressed up.
void press_up(std::vector<PieceEdge>& edges, std::vector<PieceMark>& marks) {
  const auto dart =
      std::find_if(edges.begin(), edges.end(), [](const PieceEdge& e) { return e.name == "dart"; });
  if (dart == edges.end()) return;
  for (PieceMark& m : marks) {
    if (m.label != kDartDown) continue;
    const Vec2<double> tip = m.line.back();
    dart->line = dart_fold(
        dart->line.front(), dart->line.back(), tip, std::next(dart)->line.back(), Pressed::up);
    m = {PieceMark::Kind::fold, {dart->line[1], tip}, kDartUp};
  }
}

}  // namespace

Piece lining_of(const Piece& cloth, const std::string& name) {
  Piece piece = cloth;
  piece.name = name;
  piece.cut_of = CutOf::lining;
  std::vector<double> distances;
  for (const PieceEdge& e : cloth.edges) {
    const bool inside = e.name == "neckline" || e.name == "armhole";
    distances.push_back(inside ? -kLiningInside : e.name == "waist" ? kLiningLonger : 0);
  }
  piece.edges = moved_edges(cloth.edges, distances);
  press_up(piece.edges, piece.marks);
  const std::string other = name == kLiningFront ? kLiningBack : kLiningFront;
  piece.notches.clear();
  for (size_t i = 0; i < piece.edges.size(); ++i) {
    PieceEdge& e = piece.edges[i];
    const double longer = e.length() - cloth.edges[i].length();
    if (e.name == "neckline" || e.name == "armhole" || e.name == "waist") {
      e.mate = at(cloth.name, e.name);
      e.eased = longer;
    } else if (e.name == "shoulder") {
      e.mate = at(other, e.name);
    } else if (e.name == "centre back" && e.work == EdgeWork::seam) {
      e.mate = at(name, "centre back");
    } else if (!e.mate.empty()) {
      e.mate = at(other, e.seam());
    }
  }
  for (const Notch& n : cloth.notches) {
    const PieceEdge& e = piece.edges[static_cast<size_t>(n.edge)];
    const Vec2<double> on_cloth = place_of(cloth, n).at;
    // Along the waist by proportion, else at the nearest place.
    const double along =
        e.name == "waist" ? n.along * e.length() / cloth.edges[static_cast<size_t>(n.edge)].length()
                          : nearest_along(e.line, on_cloth);
    piece.notches.push_back({n.edge, along, n.kind, n.mate});
  }
  piece.marks.erase(std::remove_if(piece.marks.begin(),
                                   piece.marks.end(),
                                   [](const PieceMark& m) {
                                     return m.kind == PieceMark::Kind::casing_line ||
                                            m.kind == PieceMark::Kind::gather;
                                   }),
                    piece.marks.end());
  return piece;
}

}  // namespace easewright::drafting
