#include "model/pattern/cutting.h"

#include "model/pattern/nest_shapes.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Match groups of one garment: each has its own hundred.
constexpr int kGroupsApart = 100;

/// Layouts for a few pieces (all there are of one dress; 0.2 s with two), and for each of many:
/// eight dresses, 56 pieces, get 24 thousand, which fill 81 % and take 1.3 s of one processor.
constexpr long kLeastLayouts = 25000, kLayoutsEach = 430;

NestCloth washed(const Cloth& cloth, CutOf material, const CuttingOptions& options) {
  const bool lining = material == CutOf::lining;
  NestCloth lies;
  lies.width = (lining ? options.lining_width : cloth.width) * (1 - cloth.shrinkage_width);
  lies.layering = options.layering;
  lies.gap = options.gap;
  if (lining) return lies;
  lies.nap = cloth.nap;
  lies.repeat = cloth.repeat_length * (1 - cloth.shrinkage_length);
  lies.repeat_across = cloth.repeat_width * (1 - cloth.shrinkage_width);
  return lies;
}

CuttingPlan gathered(const std::vector<GarmentPieces>& garments,
                     const Cloth& cloth,
                     CutOf material,
                     const CuttingOptions& options) {
  CuttingPlan plan;
  plan.material = material;
  plan.cloth = washed(cloth, material, options);
  plan.bought_width = material == CutOf::lining ? options.lining_width : cloth.width;
  for (size_t g = 0; g < garments.size(); ++g) {
    const GarmentPieces& garment = garments[g];
    for (NestShape& shape :
         nest_shapes(garment.pieces, material, garment.who, static_cast<int>(g) * kGroupsApart)) {
      plan.shapes.push_back(std::move(shape));
    }
    for (size_t p = 0; p < garment.pieces.size(); ++p) {
      if (garment.pieces[p].cut_of == material) plan.sources.push_back({g, p});
    }
  }
  return plan;
}

std::string name_of(const Placed& placed, const NestShape& shape) {
  if (placed.copies > 1) return fmt::format("{}, cuts {}", shape.name, placed.copies);
  if (shape.mirrored_pairs && !shape.on_fold) {
    return placed.mirrored ? shape.name + ", flipped" : shape.name;
  }
  if (shape.count > 1) return fmt::format("{}, {} of {}", shape.name, placed.copy + 1, shape.count);
  return shape.name;
}

long pieces_in(const CuttingPlan& plan) {
  long pieces = 0;
  for (const NestShape& shape : plan.shapes) pieces += std::max(0, shape.count);
  return pieces;
}

}  // namespace

std::vector<CuttingPlan> cutting_plans(const std::vector<GarmentPieces>& garments,
                                       const Cloth& cloth,
                                       const CuttingOptions& options) {
  std::vector<CuttingPlan> plans;
  long pieces = 0;
  for (const CutOf material : {CutOf::cloth, CutOf::lining}) {
    CuttingPlan plan = gathered(garments, cloth, material, options);
    if (plan.shapes.empty()) continue;
    pieces += pieces_in(plan);
    plans.push_back(std::move(plan));
  }
  for (CuttingPlan& plan : plans) {
    const long here = pieces_in(plan);
    NestOptions search;
    search.layouts = std::max(kLeastLayouts, kLayoutsEach * here);
    // Without any time left a first layout is still tried.
    search.at_most =
        std::max(1e-3, options.seconds * static_cast<double>(here) / static_cast<double>(pieces));
    search.seed = options.seed;
    search.threads = options.threads;
    plan.plan = nest(plan.shapes, plan.cloth, search);
    if (!plan.plan.error.empty()) continue;
    for (const Placed& placed : plan.plan.placed) {
      plan.names.push_back(name_of(placed, plan.shapes[static_cast<size_t>(placed.shape)]));
    }
    plan.to_buy = to_buy(plan.plan.length, cloth.shrinkage_length);
  }
  return plans;
}

}  // namespace easewright
