#pragma once
// The head and the foot that every page of ours has: it fetches nothing, and says so to browsers.

#include "cli/write/markup.h"

#include <string_view>

namespace easewright {

/// As far as the open body.
void begin_html(Markup& page, std::string_view title);
/// With one line under it all.
void end_html(Markup& page, std::string_view footer);

}  // namespace easewright
