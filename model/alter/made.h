#pragma once
// A garment as it is made: cloth that was cut, not a draft. Its outlines stay as they are until a
// move folds them, shifts them along a seam, cuts them off or recuts them (moves.h); draft values
// are read off afterwards. Worn by a body, the same cloth gives other values: it hangs from that
// body's shoulders, and what the body needs beyond what is sewn shows in the edges.

#include "model/garment/bodice.h"
#include "model/garment/garment.h"
#include "model/style.h"

#include <array>
#include <string>

namespace easewright {

// clang-format off
// EASEWRIGHT_SEAMS(X): X(identifier, "word", allowance as made where none is given, cm, common practice)
#define EASEWRIGHT_SEAMS(X)                     \
  X(side, "side", 1.5)                          \
  X(shoulder, "shoulder", 1.0)                  \
  X(centre_back, "centre back", 1.5)            \
  X(waist, "waist", 1.0)                        \
  X(neck, "neck", 0.6)                          \
  X(armhole, "armhole", 0.6)                    \
  X(front_edge, "front edge", 1.0)              \
  X(hem, "hem", 3.0)
// clang-format on

enum class SeamKey {
#define EASEWRIGHT_X(name, ...) name,
  EASEWRIGHT_SEAMS(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kSeamKeys = static_cast<int>(SeamKey::count);

/// What a seam or hem holds, each layer, cm.
struct Seam {
  double allowance = 1.0;  ///< beyond the sew line
  double keep = 0.6;       ///< must stay when it is let out
};

// How an edge or a seam is finished, and the minutes that it takes to open the finish all along the
// edge (both armholes, the whole neck, the whole hem) and to close it again, beyond an edge that is
// turned and stitched, which a move's own labour has in it. Common practice.
// clang-format off
// EASEWRIGHT_FINISHES(X): X(identifier, "words", minutes)
#define EASEWRIGHT_FINISHES(X)   \
  X(pressed_open, "pressed open", 0) \
  X(turned, "turned", 0)             \
  X(overlocked, "overlocked", 6)     \
  X(narrow_hem, "narrow hem", 10)    \
  X(faced, "faced", 16)              \
  X(bound, "bound", 24)
// clang-format on

enum class Finish {
#define EASEWRIGHT_X(name, ...) name,
  EASEWRIGHT_FINISHES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kFinishes = static_cast<int>(Finish::count);

std::string_view to_string(Finish finish);
double minutes_to_open(Finish finish);

/// At the centre front and the centre back, cm.
struct HemLevel {
  double front = 0, back = 0;
};

enum class MadeKind { dress, top, skirt };

struct Made {
  std::string label;
  MadeKind kind = MadeKind::dress;
  Switches switches;
  Cloth cloth;
  bool holes_show = false;   ///< sheers, pile, coated cloth: a line once stitched stays
  Frame cut_for;             ///< the body it was cut for
  Values<double> values{};   ///< its draft on that body; moves keep them true to the cloth
  Bodice<double> bodice;     ///< sew lines; y = 0 is the waist seam
  double bust_shaping = 0;   ///< sewn, gathered or darted into the cloth, rad: not left in an edge
  double blade_shaping = 0;  ///< the same behind
  /// Part of what a body needs beyond it that shows in the neckline, as the cut left it there; the
  /// rest shows in the armhole.
  double bust_to_neck = 0.5, blade_to_neck = 0.5;
  double neck_folded = 0;  ///< taken out of each half of the front neckline by folds, cm
  double back_neck_folded = 0, armhole_folded = 0;  ///< each half, cm
  double neck_stretched = 0;     ///< each half of the front neck edge longer than it was cut, cm
  double armhole_stretched = 0;  ///< each front armhole edge the same
  double front_scooped = 0;      ///< front armhole edge cut back at the notch since it was drafted
  Measures<double> sewn_off{};  ///< by how much it measures more than its draft, as a try-on showed
  Values<double> values_off{};  ///< by how much a value reads more than its draft, the same
  double front_taken_up = 0;    ///< strap ends shorter (+) than they were cut, pieced out where -
  double back_taken_up = 0;
  double front_shorter = 0;     ///< front straps taken up by so much more than the back's
  double skirt_waist_kept = 0;  ///< each skirt panel edge: wider at the waist seam than its hip
                                ///< width says, where a side was tapered to nothing there
  HemLevel hem_up;  ///< hem cut higher at the centre than it was drafted, to nothing at the sides
  std::array<Seam, static_cast<size_t>(kSeamKeys)> seams;
  std::array<Finish, static_cast<size_t>(kSeamKeys)> finishes{};  ///< of the seams and edges

  Seam& seam(SeamKey key) { return seams[static_cast<size_t>(key)]; }
  const Seam& seam(SeamKey key) const { return seams[static_cast<size_t>(key)]; }
  Finish finish(SeamKey key) const { return finishes[static_cast<size_t>(key)]; }
};

std::string_view to_string(SeamKey key);
std::string_view to_string(MadeKind kind);

/// Whether a skirt alone has it: what hangs from the waist seam, and the casing with its elastic.
bool skirt_has(ValueKey key);
bool skirt_has(MeasureKey key);

/// By how much the bust's fullness, as it was cut in front, lies above (+) the wearer's bust point,
/// cm. Straps that go up carry it with them.
double bust_point_off(const Made& made, const struct Worn& worn);

/// A draft cut and sewn as it stands, with allowances as usual.
Made made_from(const Frame& frame, const Values<double>& values, MadeKind kind = MadeKind::dress);

/// The garment on a body: draft values as that body reads them, outlines with the body's bust point
/// and levels in them, and the measures. On the body it was cut for, with nothing altered, these
/// are the draft's own to 1e-9. The body's frame must come from frame_of with the garment's
/// switches and cloth.
struct Worn {
  Values<double> values{};
  Bodice<double> bodice;
  Measures<double> measures{};
  HemLevel hem_up;  ///< as the garment's
};
Worn wear(const Made& made, const Frame& body);

}  // namespace easewright
