#pragma once
// A cloth file, or a cloth written into its job. Its keys are the facts of model/cloth.h by their
// spoken names:
//
//   cloth: choir bolt
//   about: ...
//   nap: no
//   width: 140 cm
//   bias growth: 1 %

#include "cli/read/section.h"
#include "model/cloth.h"

#include <string>

namespace easewright {

Cloth read_cloth(const YamlNode& map, std::string path, const Source& source);

}  // namespace easewright
