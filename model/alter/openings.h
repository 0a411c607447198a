#pragma once
// Work that moves share: a seam or an edge that is unpicked and sewn again once, whichever of them
// are done. What moves spend on the same opening may differ (through a lining, say): the least of
// it is shared, and the rest is each move's own.

#include "model/alter/altered.h"
#include "model/alter/moves.h"

#include <vector>

namespace easewright {

/// Minutes of each opening that the moves share; 0 where fewer than two of them open it.
OpeningMinutes shared_minutes(const std::vector<Possible>& moves);

bool opens(const Possible& possible, Opening opening);

}  // namespace easewright
