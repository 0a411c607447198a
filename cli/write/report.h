#pragma once
// The report of one job: one screen of 80 columns. Misses first, then how the garment is put on, the draft values, what was
// estimated, what nothing decides, cautions.

#include <string>

#include "cli/write/page.h"
#include "model/fit.h"

namespace easewright {

/// A job and its answer.
struct Judged {
  std::string file;
  const Job* job = nullptr;
  FitResult result;
};

/// True when musts and shoulds hold and the search found an answer.
bool fits(const FitResult& result);

std::string write_report(const Judged& judged, Colour colour);

/// One line: 'alto 2, concert dress: fits' or what is missed, worst first.
std::string write_brief(const Judged& judged);

}  // namespace easewright
