#pragma once
// How the HTML report looks: ink on paper, a stitched line round the slip.

#include <string_view>

namespace easewright {

/// The style sheet, as it stands between <style> and </style>: no '&' and no '<' in it.
std::string_view html_style();

}  // namespace easewright
