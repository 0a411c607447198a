// Skirt back and front.
//
// A panel hangs from its waist edge at y = 0, straight to the hip; from there (the corner rounded)
// each side seam edge spreads by `skirt.flare`, measured along the hem: the side seam turns out
// about its hip point by flare / (length - hip), and the hem runs level to below that point and
// then as an arc about it. So the hem is square to the side seam, the side seam is as long as the
// skirt, and girths below the hip are the draft's.

#include "model/pattern/drafting.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace easewright::drafting {
namespace {

/// The waist edge from the centre to the side: level at both ends, `rise` higher at the centre.
struct WaistEdge {
  double width = 0;  ///< level, centre to side
  double rise = 0;

  /// Height this far from the centre; mirrored beyond it, level past the side.
  double height(double x) const {
    const double t = std::min(std::abs(x) / width, 1.0);
    return rise * (1 - t * t * (3 - 2 * t));
  }
  /// From one place to another, from the centre.
  Polyline line(double from, double to) const {
    // The cubic's second derivative over the whole width is 6 times its rise at most.
    const int steps = chords_for(std::sqrt(6 * std::abs(rise) / (8 * kFlat)));
    Polyline points;
    for (int i = 0; i <= steps; ++i) {
      const double x = from + (to - from) * i / steps;
      points.push_back({x, height(x)});
    }
    return points;
  }
};

/// The edge whose length is `length`: its side end gives way by less than 0.1 cm, as the curve is a
/// little longer than the straight line by which the waist was drafted.
WaistEdge waist_edge(double width, double rise, double length) {
  const WaistEdge drafted{width, rise};
  WaistEdge edge = drafted;
  for (int i = 0; i < 20; ++i) edge.width += length - length_of(edge.line(0, edge.width));
  // Of a draft that can't be, no width has that length: then it stays as it is, and is off.
  constexpr double kGivesWay = 1;
  return std::abs(edge.width - width) <= kGivesWay ? edge : drafted;
}

/// A rounded corner lies so far from the sharp one at most, cm: a girth measured there is the
/// draft's within 0.2, less than a tape tells.
constexpr double kHipRound = 0.05;

/// Two lines that meet, with the arc between them that touches both and passes the corner by `off`;
/// or by less, so that half of the shorter one stays straight.
Polyline rounded(const std::array<Vec2<double>, 3>& corner, double off) {
  const Vec2<double> in = corner[1] - corner[0], out = corner[2] - corner[1];
  const double in_length = std::hypot(in.x, in.y), out_length = std::hypot(out.x, out.y);
  const double turn = std::atan2(geometry::cross(in, out), geometry::dot(in, out));
  if (std::abs(turn) < 1e-4) return {corner[0], corner[1], corner[2]};
  const double reach =
      std::min(off / std::tan(0.25 * std::abs(turn)), 0.5 * std::min(in_length, out_length));
  const double radius = reach / std::tan(0.5 * turn);  // negative where it turns clockwise
  const Vec2<double> along = (1 / in_length) * in;
  const Vec2<double> begins = corner[1] - reach * along;
  Polyline line{corner[0]};
  const int steps = chords_for(std::abs(turn) * std::sqrt(std::abs(radius) / (8 * kFlat)));
  for (int i = 0; i <= steps; ++i) {
    const double turned = turn * i / steps;
    const double forth = radius * std::sin(turned), aside = radius * (1 - std::cos(turned));
    line.push_back(begins + forth * along + aside * Vec2<double>{-along.y, along.x});
  }
  line.push_back(corner[2]);
  return line;
}

/// Side seam and hem of a panel whose side lies at `width`.
struct Flare {
  double width = 0, hip = 0, length = 0, spread = 0;

  double angle() const { return spread / (length - hip); }
  Vec2<double> at_side(double radius, double turned) const {
    return {width + radius * std::sin(turned), -hip - radius * std::cos(turned)};
  }
  /// Hem from x to the side: level as far as below the hip point, then round it. A slit that runs
  /// in past there leaves the rest of the arc.
  Polyline hem(double from) const {
    Polyline line{{from, -length}};
    const double radius = length - hip;
    const double past = std::clamp((from - width) / radius, 0.0, 1.0);
    const double begins = std::min(std::asin(past), angle());
    const int steps = chords_for((angle() - begins) * std::sqrt(radius / (8 * kFlat)));
    for (int i = past > 0 ? 1 : 0; i <= steps; ++i)
      line.push_back(at_side(radius, begins + (angle() - begins) * i / steps));
    return line;
  }
  Vec2<double> hem_arrives() const { return {std::cos(angle()), std::sin(angle())}; }
  /// Hem to waist, its corner at the hip rounded: a sharp one shows as a peak when it is sewn.
  Polyline side(const Vec2<double>& waist) const {
    const Vec2<double> below = at_side(length - hip, angle());
    return rounded({below, {width, -hip}, waist}, kHipRound);
  }
};

Flare flare_of(const Draft& d, ValueKey width) {
  const double length = d[ValueKey::skirt_length];
  // A skirt that ends at the hip or above it has no flare to spread.
  const double hip = std::min(d.frame.hip_y, length - 1);
  return {d[width], hip, length, length > d.frame.hip_y ? d[ValueKey::skirt_flare] : 0};
}

/// A pair's notches lie 0.6 apart: single ones have to be further from each other, cm (common
/// practice).
constexpr double kApart = 2;

double overlap(const Draft& d) { return d.frame.wrapped ? d[ValueKey::skirt_overlap] : 0; }

std::string seam(const char* piece, const char* name) { return std::string(piece) + ": " + name; }

/// Side balance, quarters and what the waist is gathered or eased by.
void mark_panel(const Draft& d, Piece& piece, double centre, NotchKind kind) {
  const double side = piece.edge("side seam")->length();
  // Where the opening ends beside the hip, its end is what front and back are matched by.
  if (!d.side_opening() || std::abs(d.frame.hip_y - kOpeningBelowWaist) >= kApart)
    add_notch(piece, "side seam", side - d.frame.hip_y, NotchKind::single, "hip");
  if (d.side_opening())
    add_notch(
        piece, "side seam", side - kOpeningBelowWaist, NotchKind::single, "left side opening ends");
  const PieceEdge& waist = *piece.edge("waist");
  const double match = piece.name == kSkirtFront ? front_waist_match(d) : 0.5;
  add_notch(piece, "waist", (1 - match) * waist.length(), kind, "waist balance");
  add_notch(piece,
            "waist",
            waist.length(),
            kind,
            piece.name == kSkirtFront ? "centre front" : "centre back");
  mark_waist_fullness(d, piece, 0.1 * waist.length(), 0.9 * waist.length());
  const double length = d[ValueKey::skirt_length];
  piece.grain = {Vec2<double>{centre, -0.75 * length}, Vec2<double>{centre, -0.2 * length}};
}

/// The free edge, top to hem: straight down to the slit's start, then away by run-in u^2.
Polyline free_edge(const Draft& d, double top) {
  const double start = d[ValueKey::slit_start], length = d[ValueKey::skirt_length];
  const double run = d[ValueKey::slit_run_in];
  Polyline line{{0, top}};
  if (start >= length - 1e-6 || run <= 0) {
    line.push_back({0, -length});
    return line;
  }
  const int steps = chords_for(std::sqrt(2 * run / (8 * kFlat)));
  for (int i = 0; i <= steps; ++i) {
    const double u = static_cast<double>(i) / steps;
    line.push_back({run * u * u, -start - u * (length - start)});
  }
  return line;
}

}  // namespace

double skirt_front_waist(const Draft& d) {
  return std::hypot(d[ValueKey::skirt_front_width], d[ValueKey::skirt_front_rise]) -
         0.5 * overlap(d);
}

double front_waist_match(const Draft& d) {
  constexpr double kHalfWay = 0.5, kNearerTheSide = 0.7;
  if (!d.frame.skirt || !d.frame.wrapped) return kHalfWay;
  const double off = std::abs(kHalfWay * skirt_front_waist(d) - 0.5 * overlap(d));
  return off < kApart ? kNearerTheSide : kHalfWay;
}

double skirt_back_waist(const Draft& d) {
  return std::hypot(d[ValueKey::skirt_back_width], d[ValueKey::skirt_back_rise]);
}

Piece skirt_back(const Draft& d) {
  Piece piece;
  piece.name = kSkirtBack;
  piece.on_fold = !d.centre_back_seam();
  piece.mirrored = !piece.on_fold;
  piece.count = piece.on_fold ? 1 : 2;
  const Flare flare = flare_of(d, ValueKey::skirt_back_width);
  const double rise = d[ValueKey::skirt_back_rise];
  const WaistEdge waist = waist_edge(flare.width, rise, skirt_back_waist(d));
  const bool centre_seam = d.centre_back_seam();
  piece.edges = {edge("hem", flare.hem(0), d.hem_allowance(), EdgeWork::hem, "", kHem),
                 edge("side seam",
                      flare.side({waist.width, 0}),
                      d.allowances.side,
                      EdgeWork::seam,
                      seam(kSkirtFront, "side seam"),
                      kSide),
                 edge("waist",
                      reversed(waist.line(0, waist.width)),
                      d.waist_allowance(),
                      d.waist_work(),
                      seam(kBodiceBack, "waist"),
                      kWaist),
                 edge("centre back",
                      {{0, rise}, {0, -flare.length}},
                      centre_seam ? d.allowances.centre : 0,
                      centre_seam ? EdgeWork::seam : EdgeWork::fold,
                      centre_seam ? seam(kSkirtBack, "centre back") : "",
                      kCentre)};
  piece.edges[0].leaves = {1, 0};
  piece.edges[0].arrives = flare.hem_arrives();
  piece.edges[2].leaves = piece.edges[2].arrives = {-1, 0};
  piece.edges[2].eased = skirt_back_waist(d) - d.result.measures[MeasureKey::bodice_waist_back];
  mark_panel(d, piece, 0.3 * flare.width, NotchKind::pair);
  return piece;
}

Piece skirt_front(const Draft& d) {
  Piece piece;
  piece.name = kSkirtFront;
  const bool wrapped = d.frame.wrapped;
  piece.on_fold = !wrapped;
  piece.mirrored = wrapped;
  piece.count = wrapped ? 2 : 1;
  const Flare flare = flare_of(d, ValueKey::skirt_front_width);
  const double rise = d[ValueKey::skirt_front_rise];
  const double centre = 0.5 * overlap(d);
  const WaistEdge waist = waist_edge(flare.width - centre, rise, skirt_front_waist(d));
  const auto placed = [centre](Polyline line) {
    for (auto& p : line) p.x += centre;
    return line;
  };
  const double side_x = centre + waist.width;
  const Polyline edge_line =
      wrapped ? free_edge(d, waist.height(centre)) : Polyline{{0, rise}, {0, -flare.length}};
  piece.edges.push_back(
      edge("hem", flare.hem(edge_line.back().x), d.hem_allowance(), EdgeWork::hem, "", kHem));
  piece.edges.back().leaves = {1, 0};
  piece.edges.back().arrives = flare.hem_arrives();
  piece.edges.push_back(edge("side seam",
                             flare.side({side_x, 0}),
                             d.allowances.side,
                             EdgeWork::seam,
                             seam(kSkirtBack, "side seam"),
                             kSide));
  piece.edges.push_back(edge("waist",
                             placed(reversed(waist.line(0, waist.width))),
                             d.waist_allowance(),
                             d.waist_work(),
                             seam(kBodiceFront, "waist"),
                             kWaist));
  piece.edges.back().leaves = piece.edges.back().arrives = {-1, 0};
  piece.edges.back().eased =
      skirt_front_waist(d) - d.result.measures[MeasureKey::bodice_waist_front];
  if (wrapped && centre > 1e-6) {
    // Lies over the other front: its edge beyond the centre is the mirror image of that one's.
    piece.edges.push_back(edge("overlap",
                               placed(reversed(waist.line(-centre, 0))),
                               d.waist_allowance(),
                               d.waist_work(),
                               "",
                               kWaist));
  }
  piece.edges.push_back(
      wrapped ? edge("free edge", edge_line, d.free_edge_allowance(), EdgeWork::hem, "", kHem)
              : edge("centre front", edge_line, 0, EdgeWork::fold, "", kCentre));
  mark_panel(d, piece, wrapped ? centre : 0.3 * flare.width, NotchKind::single);
  if (!wrapped) return piece;

  piece.marks.push_back(
      {PieceMark::Kind::placement, {{centre, rise}, {centre, -flare.length}}, "centre front"});
  if (centre > 1e-6) {
    const double under = 2 * centre;
    if (under < side_x) {
      piece.marks.push_back({PieceMark::Kind::placement,
                             {{under, waist.height(centre)}, {under, -d[ValueKey::slit_start]}},
                             "edge of the other front"});
      const PieceEdge& edge_of_waist = *piece.edge("waist");
      add_notch(piece,
                "waist",
                nearest_along(edge_of_waist.line, {under, waist.height(centre)}),
                NotchKind::single,
                "overlap");
    }
  }
  const double top = waist.height(centre);
  const double start = d[ValueKey::slit_start];
  if (start < flare.length) {
    add_notch(piece, "free edge", top + start, NotchKind::single, "slit start");
    piece.marks.push_back({PieceMark::Kind::slit_start, {{0, -start}}, "slit starts"});
  }
  const double caught = d.frame.slit_sewn ? 0 : d[ValueKey::slit_catch];
  if (caught > 0.5 && caught < flare.length) {
    const PieceEdge& free = *piece.edge("free edge");
    const double along = top + caught;
    piece.marks.push_back({PieceMark::Kind::point, {point_at(free.line, along)}, "bar tack"});
  }
  return piece;
}

}  // namespace easewright::drafting
