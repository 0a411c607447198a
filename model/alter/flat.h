#pragma once
// Flat measurements of a made garment: what a tape reads on it lying closed on a table.

#include "model/alter/made.h"

#include <optional>
#include <string_view>
#include <vector>

namespace easewright {

// clang-format off
// EASEWRIGHT_FLAT(X): X(identifier, "words", error cm (one s.d.), "from where to where")
#define EASEWRIGHT_FLAT(X)                                                                                              \
  X(chest_width, "chest width", 0.5, "side seam to side seam at the underarm, front and back smoothed flat")            \
  X(front_chest_width, "front chest width", 0.4, "the front alone, underarm to underarm")                               \
  X(waist_width, "waist width", 0.7, "side seam to side seam along the waist seam, the elastic stretched out")          \
  X(side_seam, "side seam", 0.4, "underarm to waist seam along the side seam")                                          \
  X(front_length, "front length", 0.5, "neck end of the strap seam straight down to the waist seam, front")             \
  X(back_length, "back length", 0.5, "neck end of the strap seam straight down to the waist seam, back")                \
  X(centre_front_length, "centre front length", 0.4, "bottom of the neckline to the waist seam")                        \
  X(centre_back_length, "centre back length", 0.4, "bottom of the back neckline to the waist seam")                     \
  X(neckline_drop, "neckline drop", 0.4, "level of the strap's neck end down to the bottom of the neckline, front")     \
  X(back_neckline_drop, "back neckline drop", 0.4, "the same behind")                                                   \
  X(neck_opening, "neck opening", 0.5, "between the straps' neck ends, across")                                         \
  X(strap_width, "strap width", 0.2, "across the strap at its seam")                                                    \
  X(strap_drop, "strap drop", 0.3, "arm end of the strap seam below the level of its neck end")                         \
  X(across_front, "across front", 0.4, "armhole edge to armhole edge at the narrowest, front")                          \
  X(across_back, "across back", 0.4, "armhole edge to armhole edge at the narrowest, back")                             \
  X(armhole_edge, "armhole edge", 0.6, "once round the armhole along its edge")                                         \
  X(neck_edge, "neck edge", 0.6, "once round the neckline along its edge")                                              \
  X(elastic, "elastic", 0.6, "the waist elastic at rest, once round")                                                   \
  X(casing_width, "casing width", 0.2, "inside width of the casing")                                                    \
  X(hip_width, "hip width", 0.7, "side seam to side seam at hip level, the skirt closed")                               \
  X(front_panel_width, "front panel width", 0.5, "one front panel at hip level, free edge to side seam")                \
  X(overlap, "overlap", 0.5, "how far the fronts lie over each other at the waist seam")                                \
  X(skirt_length, "skirt length", 0.6, "waist seam to hem along the side seam")                                         \
  X(hem_width, "hem width", 1.0, "side seam to side seam along the hem, the skirt closed")                              \
  X(slit_start, "slit start", 0.6, "waist seam down to where the free edge begins to curve away")                       \
  X(slit_run_in, "slit run in", 0.6, "how far the free edge has curved away at the hem")                                \
  X(caught_length, "caught length", 0.4, "waist seam down to the bar tack of the overlap")                              \
  X(belt_length, "belt length", 1.0, "end to end")
// clang-format on

enum class FlatKey {
#define EASEWRIGHT_X(name, ...) name,
  EASEWRIGHT_FLAT(EASEWRIGHT_X)
#undef EASEWRIGHT_X
      count
};
inline constexpr int kFlatKeys = static_cast<int>(FlatKey::count);

struct FlatInfo {
  std::string_view name;
  double error;
  std::string_view how;
};
const FlatInfo& info(FlatKey key);

/// Whether a garment of this kind has the measurement.
bool has_flat(MadeKind kind, const Switches& switches, FlatKey key);

/// What a tape reads on the garment, cm; 0 for what it has not.
std::array<double, static_cast<size_t>(kFlatKeys)> measure_flat(const Made& made);

struct FlatReading {
  FlatKey key = FlatKey::count;
  double value = 0;  ///< cm
  double error = 0;  ///< one s.d., cm
};

/// The garment that these readings were taken on: the draft on `frame` nearest to `usual` (what a
/// fit of the body that it was made for gives) which reads so. A least-squares problem: readings
/// weigh by their errors, draft values that no reading touches stay as usual.
struct FromFlat {
  Made made;
  std::vector<ValueKey> read;     ///< values that the readings settle; the others are as usual
  std::vector<double> residuals;  ///< of each reading, in its errors: over 3 is a slip of the tape
};
FromFlat made_from_flat(const Frame& frame,
                        const Values<double>& usual,
                        MadeKind kind,
                        const std::vector<FlatReading>& readings);

}  // namespace easewright
