#pragma once
// The report as one HTML file: to read, to print, to keep. Nothing in it comes from elsewhere:
// style and drawings are inline, letters are the reader's own. Every meaning is in words or shapes;
// tints only repeat it.

#include "cli/write/judged.h"
#include "model/pattern/slip.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// A picture in the page.
struct Drawing {
  std::string name;     ///< its caption, '1 bodice front'; empty where it has its own words
  std::string element;  ///< <svg ...>...</svg>, well-formed, its ids like nobody else's
  double width_cm = 0;  ///< of what it shows: drawings that give it stand side by side at one scale
};

/// What stands in the page for one job.
struct Leaf {
  const Judged* judged = nullptr;
  std::optional<Slip> slip;     ///< nothing without an answer
  std::vector<Drawing> figure;  ///< the garment on the body: front, back, side; may be empty
  std::vector<Drawing> pieces;
  std::vector<std::string> cautions;  ///< of pieces whose lines are no sound outline
};

std::string write_html(const std::vector<Leaf>& leaves);

}  // namespace easewright
