#pragma once
// How the pieces of one garment or of many lie on the cloth: what `cut` and `group --sewing` share.

#include "cli/draw/plan_drawing.h"
#include "cli/options.h"
#include "model/job.h"
#include "model/pattern/cutting.h"

#include <vector>

namespace easewright {

/// Of labels in characters: what a sheet, and a piece on the plan, have room for.
inline constexpr size_t kMostLabel = 60, kMostName = 24;

/// Where nothing was said of layers and a piece is wider than the folded cloth, a single one.
std::vector<CuttingPlan> plan_cutting(const Options& options,
                                      const std::vector<GarmentPieces>& garments,
                                      const Cloth& cloth);

/// What stands over each plan.
std::vector<draw::PlanHeading> plan_headings(const std::vector<CuttingPlan>& plans, const Job& job);

}  // namespace easewright
