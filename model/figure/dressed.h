#pragma once
// The garment on the body's outline, front, back and side, to scale.
//
// Levels lie where they fall on this body. A length along the cloth hangs from a landmark of the
// body, and lengths between two landmarks are shared out evenly over the height between them: the
// front from the front neck point over the bust point to the waist, the back from the back neck
// point over the armpits to the waist. (Cloth over a sloping chest is longer than the drop below
// it: a neckline of 10 cm is drawn some 8 below the front neck point, and just as near to the bust
// point as on the body.) Below the waist lengths are drops.
// Widths along the cloth are laid round the body's section (section.h); what a garment is wider
// than the body stands off it all round. Of gathered cloth half does, the other half goes into
// folds.

#include "model/figure/silhouette.h"
#include "model/fit.h"
#include "model/garment/bodice.h"

#include <array>
#include <vector>

namespace easewright::figure {

enum class View { front, back, side };
inline constexpr int kViews = 3;

/// How a line of the drawing is to be read.
enum class LineKind {
  edge,    ///< where the cloth ends, or turns out of sight
  seam,    ///< a seam or a stitched line
  hidden,  ///< an edge under cloth
  gather,  ///< a fold
  belt     ///< outline of the belt
};

struct DrawnLine {
  LineKind kind = LineKind::edge;
  Path path;
};

/// One view of the garment; x = 0 is the body's middle.
struct Elevation {
  std::vector<Path> cloth;  ///< closed, in the order in which they lie on each other
  std::vector<Path> bare;   ///< closed: where a view shows the body through the garment
  std::vector<DrawnLine> lines;
  std::vector<Path> belt;  ///< closed, on top
};

/// Heights above the floor, cm; of parts that the garment has not, 0.
struct Levels {
  double neckline = 0, back_neckline = 0, notch = 0, underarm = 0, waist = 0;
  double hip = 0, slit_catch = 0, slit_start = 0, slit_opening = 0, hem = 0, belt_end = 0;
};

/// Points of the right half of the front and the back view, where marks are set.
struct Anchors {
  Point neckline, back_neckline;    ///< at the centre
  Point neck_edge, back_neck_edge;  ///< half-way along the edge
  Point strap_inner, strap_outer;   ///< at the shoulder
  Point notch, back_notch, underarm;
  Point side_seam;  ///< of the bodice, half-way, in the side view
  Point bust, side_waist, hip, hem;
  Point free_edge;                   ///< of the upper front, half-way down its curve
  Point under_edge;                  ///< of the under front, half-way down to where it shows
  Point opening, start, catch_tack;  ///< on the free edge
  Point hem_edge;                    ///< where it meets the hem
  Point belt_end;
};

struct Parts {
  bool bodice = true, skirt = true;
  /// The middle of the overlap lies so far to the viewer's right of the centre front, cm: a strip
  /// that is set to one front alone shifts it.
  double overlap_shift = 0;
};

struct Dressed {
  Silhouette body;
  Parts parts;
  Levels levels;
  Anchors anchors;
  double widest = 0;  ///< half width of body and garment below the armpits, arms left out
  std::array<Elevation, kViews> views;

  const Elevation& view(View which) const { return views[static_cast<size_t>(which)]; }
  Elevation& view(View which) { return views[static_cast<size_t>(which)]; }
};

/// `frame` holds the body; values, outlines and measures are those that the garment has on it.
Dressed dress(const Frame& frame,
              const Values<double>& values,
              const Bodice<double>& bodice,
              const Measures<double>& measures,
              Parts parts);

/// A draft on the body that it was solved for; the result must have an answer.
Dressed dress(const FitResult& result);

/// Height of what lies so far along the cloth below the front neck point, or the back one.
double front_height(const Silhouette& body, const Frame& frame, double below);
double back_height(const Silhouette& body, const Frame& frame, double below);

}  // namespace easewright::figure
