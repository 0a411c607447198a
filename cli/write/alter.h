#pragma once
// The plan of an alteration as a worker reads it: what was seen and what had to be believed, two or
// three plans with their steps, what a shorter one leaves, what none meets, and cautions once. The
// first plan is told in full, the others in a line each; with tell_all all of them.

#include "cli/write/page.h"
#include "model/alter/plan.h"

#include <string>
#include <string_view>
#include <vector>

namespace easewright {

class AlterPaper;

struct Altered {
  std::string file;
  const Job* job = nullptr;
  const InHand* in_hand = nullptr;
  AlterResult result;
  bool tell_all = false;
};

/// True where all that was seen is explained, and there is nothing to do or a plan meets all that
/// was to be met.
bool can_be_met(const Altered& altered);

/// A measure or draft value that the garment has otherwise than its draft, as a fault showed that
/// no likely body explains. Sums that were sewn together against a tape's are none of these.
struct OffDraft {
  std::string_view id;
  double by = 0;  ///< inside units
  Dimension dimension;
};
std::vector<OffDraft> off_its_draft(const Altered& altered);

std::string write_alteration(const Altered& altered, Colour colour);
void write_alteration_on(const Altered& altered, AlterPaper& paper);

/// The same as one HTML page, `figure` in it: an <svg> element, or empty.
std::string write_alteration_html(const Altered& altered, const std::string& figure);

/// The schema is written down in cli/write/README.md.
std::string write_alteration_json(const Altered& altered);

}  // namespace easewright
