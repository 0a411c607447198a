#pragma once
// data/tables/values.yaml: where every draft value starts, how far it may go, and when a garment
// has it.
//
//   values:
//     neckline depth: {habit: 10 cm, least: 2 cm, most: 30 cm, scale: 1 cm}
//     slit start: {habit: ..., least: ..., most: ..., scale: 1 cm, when: {skirt: wrapped}}

#include "cli/read/section.h"
#include "model/garment/values.h"
#include "model/style.h"

#include <array>

namespace easewright {

/// Every draft value has to be there.
void read_values(const YamlNode& map,
                 const Source& source,
                 std::array<ValueDefault, kValueKeys>& values);

}  // namespace easewright
