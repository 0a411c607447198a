#pragma once
// Everything that a run found, for programs. The schema is written down in cli/write/README.md.

#include "cli/write/report.h"

#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// `command` is 'fit' or 'check'. Ends with a newline. Numbers are rounded to a millionth.
std::string write_json(const std::vector<Judged>& all, std::string_view command);

}  // namespace easewright
