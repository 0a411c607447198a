#pragma once
// The cutting plan: the cloth as it lies on the table, its length from left to right, the fold or a
// selvedge above; every piece on it by name; a ruler along it in metres and in yards.

#include "cli/draw/canvas.h"
#include "model/pattern/cutting.h"

#include <deque>
#include <string>
#include <vector>

namespace easewright::draw {

/// What stands over a plan.
struct PlanHeading {
  std::string title;               ///< 'cloth: choir bolt, 145 cm wide, folded'
  std::vector<std::string> lines;  ///< what to buy, how full it is
};

struct PlanDrawing {
  std::deque<Canvas> canvases;  ///< pages refer to them
  std::vector<Page> pages;      ///< A4, lying: for printing
  Page sheet;                   ///< all of it on one: for the screen

  PlanDrawing() = default;
  PlanDrawing(PlanDrawing&&) = default;
  PlanDrawing(const PlanDrawing&) = delete;
};

/// Of every plan, headings in the same order; of garments as they were planned. `title` stands over
/// all. Plans with an error are left out.
PlanDrawing draw_plans(const std::vector<CuttingPlan>& plans,
                       const std::vector<GarmentPieces>& garments,
                       const std::vector<PlanHeading>& headings,
                       const std::string& title);

}  // namespace easewright::draw
