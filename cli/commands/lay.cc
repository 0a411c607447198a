#include "cli/commands/lay.h"

#include "cli/draw/lettering.h"
#include "cli/write/cut_words.h"

#include <algorithm>

namespace easewright {
namespace {

/// Of search for a cutting plan at most.
constexpr double kSeconds = 1, kGroupSeconds = 2;

/// Folded, as cloth is sold and cut at home; but one way and prints want a single layer (common
/// practice), and a group of garments needs less cloth in one.
Layering layering_of(const Options& options, const Cloth& cloth, size_t garments) {
  const bool matched = cloth.nap || cloth.repeat_length > 0 || cloth.repeat_width > 0;
  const bool single = matched || garments > 1;
  return options.layering.value_or(single ? Layering::single : Layering::folded);
}

bool can_be_laid(const std::vector<CuttingPlan>& plans) {
  return std::all_of(
      plans.begin(), plans.end(), [](const CuttingPlan& p) { return p.plan.error.empty(); });
}

}  // namespace

std::vector<CuttingPlan> plan_cutting(const Options& options,
                                      const std::vector<GarmentPieces>& garments,
                                      const Cloth& cloth) {
  CuttingOptions how;
  how.layering = layering_of(options, cloth, garments.size());
  how.seconds = garments.size() > 1 ? kGroupSeconds : kSeconds;
  auto plans = cutting_plans(garments, cloth, how);
  if (can_be_laid(plans) || options.layering) return plans;
  how.layering = Layering::single;
  return cutting_plans(garments, cloth, how);
}

std::vector<draw::PlanHeading> plan_headings(const std::vector<CuttingPlan>& plans,
                                             const Job& job) {
  std::vector<draw::PlanHeading> headings;
  for (const CuttingPlan& plan : plans) {
    const std::string what = plan.material == CutOf::lining
                                 ? "Lining"
                                 : "Cloth: " + draw::shortened(job.cloth.label, kMostLabel);
    headings.push_back(
        {what + ", " + lay_words(plan, job.unit), {buy_words(plan) + "; " + filled_words(plan)}});
  }
  return headings;
}

}  // namespace easewright
