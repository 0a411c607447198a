#pragma once
// What no plan meets, and what it would need.

#include "model/alter/asked.h"
#include "model/alter/moves.h"

#include <string>
#include <utility>
#include <vector>

namespace easewright {

/// A must or should that no plan meets, and what it would need.
struct Unmet {
  Finding finding;
  std::vector<std::string> blocked;  ///< moves that would help and why they can't be done here
  std::vector<std::string> spoils;   ///< moves that would help and what they would spoil
  bool recut = false;                ///< nothing in the catalogue reaches it: recut that piece
};

/// Moves that can't be done, and why.
using Impossible = std::vector<std::pair<const Move*, std::string>>;

/// What the garment leaves of what was asked, each with the moves that would help.
std::vector<Unmet> find_unmet(const Asked& asked,
                              const Made& made,
                              const Frame& body,
                              const std::vector<Possible>& possible,
                              const Impossible& impossible);

}  // namespace easewright
