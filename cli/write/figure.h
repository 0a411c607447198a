#pragma once
// The figure of a job with its words: the garment on the body, misses on the spot where they are
// felt; and before and after an alteration.

#include "cli/draw/canvas.h"
#include "cli/write/alter.h"
#include "cli/write/judged.h"

#include <string>

namespace easewright {

struct DrawnFigure {
  draw::Canvas canvas;
  draw::About about;
  LengthUnit unit = LengthUnit::cm;
};

/// The result must have an answer.
DrawnFigure figure_of(const Judged& judged);

/// Before and after a plan of the alteration, counted from 0. Marked are felt misses of musts and
/// shoulds alone: the rest is not altered for.
DrawnFigure figure_of(const Altered& altered, size_t plan);

/// As a file of its own, a page of paper; or as an element to stand in an HTML page, its ids
/// beginning with `prefix`.
std::string figure_svg(const DrawnFigure& figure);
std::string figure_pdf(const DrawnFigure& figure);
std::string figure_element(const DrawnFigure& figure, const std::string& prefix);

}  // namespace easewright
