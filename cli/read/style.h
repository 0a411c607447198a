#pragma once
// A style file, or a style written into its job:
//
//   style: concert dress
//   about: ...
//   put on: [over the head, side opening]
//   switches: {neckline: V, lining: lined}
//   values:
//     strap slope: {habit: body.shoulder_slope, fixed: true}
//   wishes:
//     neckline depth: {is: 10 cm, tolerance: 0.5 cm, strength: wish}

#include "cli/read/section.h"
#include "model/style.h"

#include <string>

namespace easewright {

Style read_style(const YamlNode& map, std::string path, const Source& source);

/// The draft value of this name, by id or spoken; nothing after a complaint at `place`.
std::optional<ValueKey> value_named(std::string_view name,
                                    Place place,
                                    std::string_view path,
                                    const Source& source);

}  // namespace easewright
