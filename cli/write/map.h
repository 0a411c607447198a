#pragma once
// What goes with what: a map of two values, as a page of characters, as rows of figures, and for
// programs. The page is read without colour: '.' where everything holds, a letter for the rule that
// is missed first.

#include "cli/write/judged.h"
#include "cli/write/page.h"

#include <string>
#include <vector>

namespace easewright {

/// What the letters stand for. A letter is a capital where the rule is a must; no letter is used
/// twice, not even once as a capital and once small.
struct MapKey {
  struct Entry {
    char letter = 'a';
    int rule = -1;  ///< place in Posed::rules; -1: what is left when the letters run out
    long cells = 0;
  };
  std::vector<Entry> entries;  ///< most cells first
  long holds = 0;              ///< cells in which everything holds
  long unreached = 0;          ///< cells in which nothing could be computed

  /// '.', '?' or a letter.
  char letter_of(const ValueMap& map, const solver::Cell& cell) const;
};

MapKey key_of(const ValueMap& map, const FitResult& result);

/// What an axis is called: 'neckline depth (cm)'.
std::string axis_name(const MapAxis& axis, LengthUnit unit);

/// Where the fit stands along an axis, from 0 to 1; outside that when the map doesn't show it.
double along(const MapAxis& axis, const FitResult& result);

/// At most `width` columns; a map with more cells is shown at fewer.
std::string write_map(
    const Judged& judged, const ValueMap& map, const MapKey& key, Colour colour, size_t width);

/// A header, then a row a cell: both values, whether all holds, the rule that is missed first, its
/// strength and the miss.
std::string write_map_csv(const Judged& judged, const ValueMap& map);

/// The schema is written down in cli/write/README.md.
std::string write_map_json(const Judged& judged, const ValueMap& map);

}  // namespace easewright
