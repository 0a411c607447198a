#pragma once
// What can be done to a made garment, on its own outlines.
//
// A change is one act on the cloth by an amount. It folds, shifts along a seam, cuts off or recuts;
// only what is recut gets a new curve. What is let out again after it was taken in is the cloth of
// before: a change and its inverse return the start. Side effects follow from the geometry.

#include "model/alter/made.h"
#include "model/rules/expression.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

// clang-format off
// EASEWRIGHT_CHANGES(X): X(identifier, "words", dimension of the amount, "what it does; amount > 0")
#define EASEWRIGHT_CHANGES(X)                                                                                                  \
  X(sides_in, "sides in", kLength, "each panel edge of both side seams in by the amount, armhole to hem; curves cut off")      \
  X(sides_out, "sides out", kLength, "the inverse, from the allowance")                                                        \
  X(sides_in_bodice, "bodice sides in", kLength, "the same from the underarm, to nothing at the waist seam")                   \
  X(sides_out_bodice, "bodice sides out", kLength, "the inverse, from the allowance")                                          \
  X(sides_in_skirt, "skirt sides in", kLength, "from nothing at the waist seam to the amount at the hip, on to the hem")       \
  X(sides_out_skirt, "skirt sides out", kLength, "the inverse, from the allowance")                                            \
  X(straps_up, "straps up", kLength, "front and back strap ends shorter by the amount, parallel")                              \
  X(straps_up_front, "front straps up", kLength, "the front's strap ends alone, parallel")                                     \
  X(straps_up_back, "back straps up", kLength, "the back's strap ends alone, parallel")                                        \
  X(straps_up_neck_end, "straps up at the neck end", kLength, "front and back by the amount at the neck end, to nothing at the arm") \
  X(straps_up_arm_end, "straps up at the arm end", kLength, "front and back by the amount at the arm end, to nothing at the neck")   \
  X(straps_down, "straps down", kLength, "front and back strap ends longer, from the shoulder allowance, parallel")            \
  X(straps_down_arm_end, "straps down at the arm end", kLength, "front and back longer by the amount at the arm end, to nothing at the neck; from the shoulder allowance") \
  X(strap_extended, "straps extended", kLength, "new cloth between the strap ends: front and back longer by the amount in all") \
  X(strap_narrower_arm, "strap narrower at the arm", kLength, "armhole edge of the strap recut inwards")                       \
  X(strap_narrower_neck, "strap narrower at the neck", kLength, "neck edge of the strap recut outwards")                       \
  X(strap_wider_arm, "strap wider at the arm", kLength, "new cloth along the strap's arm edge")                                \
  X(armhole_lower, "armhole lower", kLength, "underarm down along the side seam; lower curves recut")                          \
  X(armhole_scoop_front, "front armhole scooped", kLength, "front edge further in at the notch; recut")                        \
  X(armhole_scoop_back, "back armhole scooped", kLength, "back edge further in at the notch; recut")                           \
  X(armhole_dart, "armhole fold to the bust", kLength, "width folded out of each front armhole edge, to nothing at the bust point") \
  X(armhole_eased, "front armhole eased", kLength, "length of each front armhole edge eased into its finish")                  \
  X(gusset, "underarm gusset", kLength, "new cloth at the underarm: each side seam wider by the amount at the underarm, to nothing at the waist") \
  X(neck_dart, "neck fold to the bust", kLength, "width folded out of each half of the neck edge, to nothing at the bust point") \
  X(neck_tape, "neckline stayed", kLength, "each half of the front neckline drawn up on tape")                                 \
  X(neckline_deeper, "neckline deeper", kLength, "centre of the front neckline down; recut")                                   \
  X(neckline_filled, "neckline filled", kLength, "infill of new cloth: centre of the front neckline up")                       \
  X(back_neck_lower, "back neckline lower", kLength, "centre of the back neckline down; recut")                                \
  X(back_neck_dart, "back neck folds", kLength, "width folded out of each half of the back neck edge, to nothing at the blade") \
  X(side_dart, "side dart", kAngle, "of the shaping gathered into the waist, so much sewn as a side dart")                     \
  X(waist_tuck, "waist up by a tuck", kLength, "length folded out all round above the waist seam")                             \
  X(waist_down, "waist let down", kLength, "length let out all round at the waist seam, from its allowance")                   \
  X(waist_band, "waist band set in", kLength, "new cloth all round above the waist seam: the bodice longer")                  \
  X(waist_front_up, "waist up at the centre front", kLength, "centre front waist up, to nothing at the sides")                 \
  X(waist_front_down, "waist down at the centre front", kLength, "the inverse, from the allowance")                            \
  X(waist_back_up, "waist up at the centre back", kLength, "skirt's centre back waist down-cut by the amount, to nothing at the sides") \
  X(skirt_front_lower, "skirt waist lower in front", kLength, "skirt's centre front waist edge cut lower by the amount, to nothing at the sides") \
  X(skirt_front_out, "skirt waist let out in front", kLength, "the inverse, from the allowance")                               \
  X(skirt_back_out, "skirt waist let out behind", kLength, "the same at the centre back, from the allowance")                  \
  X(elastic_shorter, "elastic shorter", kLength, "the waist elastic cut shorter")                                              \
  X(elastic_longer, "elastic longer", kLength, "a longer waist elastic threaded in its place")                                 \
  X(overlap_wider, "overlap wider", kLength, "the fronts overlap more, the skirt's round as much smaller; waist seam reset")   \
  X(overlap_narrower, "overlap narrower", kLength, "the inverse")                                                              \
  X(slit_insert, "slit insert", kLength, "new cloth along the under front's free edge: overlap more, the round stays")         \
  X(slit_caught, "slit caught lower", kLength, "the overlap caught together further down")                                     \
  X(slit_released, "slit released", kLength, "the bar tack higher")                                                            \
  X(slit_edge_filled, "slit edge straightened", kLength, "new cloth along the curve: less run in at the hem")                  \
  X(hem_up, "hem up", kLength, "shorter all round at the hem")                                                                 \
  X(hem_down, "hem down", kLength, "longer all round, from the turned hem")                                                    \
  X(hem_front_up, "hem up at the centre front", kLength, "hem cut higher by the amount at the centre front, to nothing at the sides") \
  X(hem_front_down, "hem down at the centre front", kLength, "the inverse, from the turned hem")                               \
  X(hem_back_up, "hem up at the centre back", kLength, "hem cut higher by the amount at the centre back, to nothing at the sides") \
  X(hem_back_down, "hem down at the centre back", kLength, "the inverse, from the turned hem")                                 \
  X(hem_sides_up, "hem up at the sides", kLength, "hem cut higher by the amount at both sides, to nothing at the centres")     \
  X(hem_sides_down, "hem down at the sides", kLength, "the inverse, from the turned hem")                                      \
  X(hem_band, "hem band", kLength, "new cloth at the hem")                                                                     \
  X(belt_shorter, "belt shorter", kLength, "cut from both ends alike")
// clang-format on

enum class Change {
#define EASEWRIGHT_X(name, ...) name,
  EASEWRIGHT_CHANGES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kChanges = static_cast<int>(Change::count);

struct ChangeInfo {
  std::string_view name;
  Dimension dimension;
  std::string_view definition;
};
const ChangeInfo& info(Change change);

/// The change that takes this one back where cloth allows it (sides in, then out); count where
/// nothing does (a recut edge).
Change inverse_of(Change change);

/// The garment after a change by amount (cm or rad, >= 0; a continuous function of it, smooth but
/// where curves end). Geometry alone: allowances and good sense are limits_of's. Amounts beyond
/// what the cloth can geometrically give are cut to what it can.
Made changed(const Made& made, Change change, double amount);
/// The same in place.
void make_change(Made& made, Change change, double amount);

/// What the cloth can geometrically give of a change, whatever the allowances; cm or rad.
double most_of(const Made& made, Change change);

enum class ClothStructure { any, woven, knit };
enum class WhenLined { same, blocked, dearer };

// What moves unpick and sew again. Two moves that open the same are done with it open once.
// clang-format off
// EASEWRIGHT_OPENINGS(X): X(identifier, "words")
#define EASEWRIGHT_OPENINGS(X)                        \
  X(strap_seams, "strap seams")                       \
  X(bodice_sides, "side seams above the waist")       \
  X(skirt_sides, "side seams below the waist")        \
  X(side_closure, "closure in the side seam")         \
  X(front_waist, "waist seam in front")               \
  X(back_waist, "waist seam behind")                  \
  X(armholes, "armhole edges")                        \
  X(neck, "neck edge")                                \
  X(front_edges, "free edges of the fronts")          \
  X(hem, "hem")                                       \
  X(casing, "casing")
// clang-format on

enum class Opening {
#define EASEWRIGHT_X(name, ...) name,
  EASEWRIGHT_OPENINGS(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kOpenings = static_cast<int>(Opening::count);
std::string_view to_string(Opening opening);

/// Minutes that opening each and closing it again takes; 0: it isn't opened.
using OpeningMinutes = std::array<double, static_cast<size_t>(kOpenings)>;

/// A move as data/moves has it: a change with its limits, its labour and its words.
struct Move {
  std::string name;   ///< 'take in the side seams'
  std::string place;  ///< 'both side seams, armhole to hem'
  Change change = Change::count;
  double least = 0.3, most = 2;       ///< of one go, inside units
  std::optional<SeamKey> let_out_of;  ///< most is also this seam's allowance less what must stay
  bool adds_cloth = false;
  ClothStructure structure = ClothStructure::any;
  bool leaves_holes = false;  ///< not on cloth where a stitched line shows
  WhenLined lined = WhenLined::same;
  double lined_factor = 1;                          ///< labour when lined, for `dearer`
  double minutes_fixed = 10, minutes_per_unit = 0;  ///< per cm, or per degree
  OpeningMinutes opens{};                           ///< of the fixed minutes
  int order = 0;                                    ///< place in the order of work, small first
  std::vector<Condition> when;                      ///< switches it needs
  std::string says;     ///< instruction; {amount}, and {nothing} where it tapers to nothing
  std::string mark;     ///< what to mark before unpicking
  std::string check;    ///< what to check after it
  std::string caution;  ///< often empty
  std::string source;
};

/// Least and most of a move on this garment; nothing where it is impossible there: no such part, a
/// cut edge that would have to rise, no allowance, blocked by the lining or the cloth.
struct MoveLimits {
  double least = 0, most = 0;
  double minutes_fixed = 0, minutes_per_unit = 0;
  OpeningMinutes opens{};  ///< of the fixed minutes, finishes of edges included
};
std::optional<MoveLimits> limits_of(const Move& move, const Made& made);

/// An edge whose finish a change opens: all along it, or where a seam runs into it. The minutes are
/// those of `with`: whoever opens the seam crosses the edge.
struct OpenedEdge {
  SeamKey edge = SeamKey::count;
  bool whole = false;
  Opening with = Opening::count;
};
std::vector<OpenedEdge> edges_opened(Change change);

/// Minutes beyond a move's own that opening and closing the finishes of its edges takes here, and
/// the closure of a side opening that lies in a seam which it sews again, by what is opened. Common
/// practice.
OpeningMinutes minutes_of_edges(Change change, const Made& made);
/// Why limits_of gave nothing, as a short clause: 'the side seams hold no more than must stay'.
std::string why_impossible(const Move& move, const Made& made);

}  // namespace easewright
