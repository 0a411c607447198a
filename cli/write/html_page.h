#pragma once
// The head and the foot that every page of ours has: it fetches nothing, and says so to browsers.

#include "cli/write/markup.h"

#include <string_view>

namespace easewright {

/// As far as the open body; `looks`: CSS of this page's own.
void begin_html(Markup& page, std::string_view title, std::string_view looks = {});
/// With one line under it all.
void end_html(Markup& page, std::string_view footer);

}  // namespace easewright
