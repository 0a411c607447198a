#pragma once
// Garments that fit, in a body file, in place of the tape or beside it:
//
//   garment that fits:                      # one, or a list of them
//     garment: the blue linen dress
//     kind: dress                           # dress, top or skirt
//     switches: {waist: seam, skirt: closed, put on: side opening, lining: unlined}
//     fits: closely                         # or loosely
//     stretch: 0 %                          # of its cloth, by the hand test
//     flat: {chest width: 48 cm, hip width: 52 cm}

#include "cli/read/section.h"
#include "model/body/body.h"

#include <string_view>

namespace easewright {

/// Adds what the garments say to the body's evidence.
void read_garments_that_fit(const YamlNode& node,
                            std::string_view path,
                            const Source& source,
                            Body& body);

}  // namespace easewright
