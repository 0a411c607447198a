#pragma once
// Wishes as people write them:
//
//   neckline depth: 12 cm              strap width: 4 to 6 cm
//   neckline depth: at least 10 cm     strap width: {is: 5 cm, tolerance: 0.3 cm, strength: should}
//   neckline depth: at most 14 cm      slit start: {from: body.knee_height / 2, to: 40 cm}

#include "cli/read/section.h"
#include "model/style.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// 'must', 'should', 'wish', 'habit', in the order of solver::Level.
const std::vector<std::string>& strength_words();

/// A miss of this size is felt, where a wish does not say: 0.5 cm, 2 deg, 0.05, 1 year.
double default_tolerance(Dimension dimension);

/// The draft value or measure of this name, by id or spoken; nothing after a complaint at `place`.
std::optional<Name> wishable_name(std::string_view name,
                                  Place place,
                                  std::string_view path,
                                  const Source& source);

/// One wish; `node` is the map entry whose key names it. Nothing after a complaint.
std::optional<Wish> read_wish(const YamlNode& node, std::string_view path, const Source& source);

/// A map of wishes.
std::vector<Wish> read_wishes(const YamlNode& map, std::string_view path, const Source& source);

}  // namespace easewright
