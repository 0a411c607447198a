#pragma once
// Sizes: which k bodies of a group to draft for, so that all the others are served with the least
// alteration.
//
// Each body's own draft is tried on every other (serve.h), and what that costs in minutes is a
// k-median's matrix (solver/median.h). A body that no draft serves in less than a garment of its
// own takes counts as one. In a group of up to about 200 every pair is planned, and the sets are
// compared exactly; in a larger one each body is planned in its nearest drafts alone, nearest by
// what is felt of the draft as it stands, and in a very large one not everybody is a candidate.

#include "model/group/serve.h"

#include <atomic>
#include <cstddef>
#include <string>
#include <vector>

namespace easewright {

struct SizesOptions {
  int count = 4;  ///< drafts, >= 1
  /// Minutes to cut and sew a garment anew, for whom alteration does not pay. Common practice: a
  /// lined dress with a casing and a wrapped skirt takes about ten hours.
  double own_minutes = 600;
  double minutes_per_miss = 40;  ///< see ServeOptions
  double round_cm = 0.1;
  int most_plans = 40000;     ///< pairs that are planned; past it the nearest drafts of each body
  long most_pairs = 4000000;  ///< that are tried on at all; past it every n-th drafts
  std::atomic<std::size_t>* done = nullptr;  ///< bodies tried on so far, for a progress bar
};

/// How one body is served.
struct SizedBody {
  int body = 0;            ///< place in the group
  int draft = -1;          ///< place in Sizes::drafts
  bool is_draft = false;   ///< it is drafted for itself
  bool needs_own = false;  ///< no draft serves it in less than a garment of its own takes;
                           ///< `serving` is the best there is
  Serving serving;
};

struct Sizes {
  std::vector<int> drafts;        ///< places of the bodies to draft for, ascending
  std::vector<SizedBody> bodies;  ///< of those that are possible, in the group's order
  std::vector<int> refused;       ///< places of bodies that no garment can be computed on
  double cost = 0;                ///< of all, minutes, as weighed when the drafts were chosen
  double bound = 0;               ///< no other set costs less, by the pairs that were planned
  bool proved = false;            ///< no other set is better, by the same pairs
  std::size_t candidates = 0;     ///< bodies whose drafts were tried on
  std::size_t planned = 0;        ///< drafts that each body was planned in
  bool all_planned = false;       ///< every pair was
};

/// `job.body` does not count. Bodies that are refused serve nobody and are not served.
Sizes sizes(const Job& job,
            const std::vector<Body>& bodies,
            const MadeHow& how,
            const Catalogue& catalogue,
            const AlterCatalogue& vocabulary,
            const SizesOptions& options);

}  // namespace easewright
