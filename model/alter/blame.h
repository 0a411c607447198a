#pragma once
// What the likeliest body leaves of the faults lies in the garment: an edge that was stretched, or
// not cut and sewn as it was drafted.

#include "model/alter/believe.h"

#include <utility>
#include <vector>

namespace easewright {

struct Blame {
  bool any = false;
  /// Pairs that would have the same part of the garment off to both sides: neither is laid to it.
  std::vector<std::pair<int, int>> against;
};

/// What a fault reads on the garment as the body wears it.
double reading_of(const SeenFault& fault, const Made& made, const CompleteBody& body);

/// Lays to the garment what `belief` leaves of each fault by more than its error. A gape is laid to
/// an edge that was stretched, by no more than a bias edge grows (5 %, common practice); anything
/// else to a measure or value that it reads, off its draft by 3 cm (rounds 6), 10 degrees or 8 % at
/// most. What the
/// body doesn't explain at all is laid there whole; of the rest the part that making tolerances
/// have against the fault's own error (armhole and neck edge 0.6 cm, rounds 1 cm, common practice).
Blame blame_garment(const Belief& belief, const std::vector<SeenFault>& faults, Made& made);

}  // namespace easewright
