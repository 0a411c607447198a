#pragma once
// The report of one job: one screen of 80 columns. Misses first, then how the garment is put on,
// the draft values, what was estimated, what nothing decides, cautions.

#include "cli/write/judged.h"
#include "cli/write/page.h"

#include <string>

namespace easewright {

/// 'alto 2, concert dress (concert dress, choir bolt)'.
std::string title_of(const Judged& judged);

std::string write_report(const Judged& judged, Colour colour);

/// One line: 'alto 2, concert dress: fits' or what is missed, worst first.
std::string write_brief(const Judged& judged);

}  // namespace easewright
