#pragma once
// What the makers of single pieces share. Part of pieces.cc.

#include "model/garment/bodice.h"
#include "model/pattern/pieces.h"
#include "model/pattern/polyline.h"

#include <string>
#include <vector>

namespace easewright::drafting {

/// Names of the pieces: mates refer to them.
inline constexpr const char* kBodiceFront = "bodice front";
inline constexpr const char* kBodiceBack = "bodice back";
inline constexpr const char* kSkirtFront = "skirt front";
inline constexpr const char* kSkirtBack = "skirt back";
inline constexpr const char* kLiningFront = "lining front";
inline constexpr const char* kLiningBack = "lining back";

/// Order of work (cutter's notes, point 22): straps, neck and armholes, sides, hem, waist.
enum Order { kShoulder = 1, kNeck, kArmhole, kCentre, kDart, kSide, kHem, kWaist };

/// Gathers under the bust lie within this of the bust point (common practice), cm.
inline constexpr double kGatherReach = 6;
/// A dart is stitched to this much short of the bust point, beyond 20 degrees further (common
/// practice), cm.
inline constexpr double kDartShort = 2.5, kBigDartShort = 4;
/// A narrower dart can't be sewn and is left out, cm.
inline constexpr double kLeastDart = 0.05;
/// A lining's neck and armhole edges are so much smaller, and it is so much longer at the waist, cm
/// (common practice).
inline constexpr double kLiningInside = 0.2, kLiningLonger = 1.0;

/// A side opening runs from so much below the armhole to so much below the waist, cm (common
/// practice).
inline constexpr double kOpeningBelowArmhole = 4, kOpeningBelowWaist = 18;

struct Draft {
  const FitResult& result;
  const Frame& frame;
  const Values<double>& v;
  const Bodice<double> bodice;
  const Allowances& allowances;
  LengthUnit unit;

  double operator[](ValueKey key) const { return v[key]; }
  bool centre_back_seam() const { return frame.switches.is(Switch::centre_back, "seam"); }
  bool side_opening() const { return frame.switches.is(Switch::put_on, "side opening"); }
  double waist_allowance() const;
  double hem_allowance() const;
  double free_edge_allowance() const;
  EdgeWork waist_work() const;
  std::string read(double cm) const;  ///< '1.2 cm' or '1/2 in'
  /// Whether a tape in the reader's unit tells the length from none.
  bool is_felt(double cm) const;
};

/// Where bodice and skirt are matched along the front waist, as a share of it from the centre: half
/// way, but clear of the notch where the other front's edge lies, or the two would pass for the
/// back's pair.
double front_waist_match(const Draft& d);
/// Half waist edge of a skirt panel, centre to side: its length, which the bodice's is joined to.
double skirt_front_waist(const Draft& d);
double skirt_back_waist(const Draft& d);

Piece bodice_front(const Draft& d);
Piece bodice_back(const Draft& d);
/// From the cloth's piece.
Piece lining_of(const Piece& cloth, const std::string& name);
Piece skirt_back(const Draft& d);
Piece skirt_front(const Draft& d);
Piece belt(const Draft& d);
Piece elastic(const Draft& d);
Piece stay_tape(const Draft& d);

/// An edge from corner to corner, cm; `mate` is empty where it meets none.
PieceEdge edge(
    std::string name, Polyline line, double allowance, EdgeWork work, std::string mate, int order);
/// Adds a notch this far along the edge of that name.
void add_notch(
    Piece& piece, const std::string& edge, double along, NotchKind kind, const std::string& mate);
/// Marks what a waist edge is longer by than its mate, between two places along it, where that is
/// worth a mark: an elastic gathers both, so that it is eased, a plain seam gathers it.
void mark_waist_fullness(const Draft& d, Piece& piece, double from, double to);
/// Adds a mark along a part of an edge.
void mark_along(Piece& piece,
                const std::string& edge,
                double from,
                double to,
                PieceMark::Kind kind,
                const std::string& label);

}  // namespace easewright::drafting
