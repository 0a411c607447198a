#pragma once
// What is cut from what, and how the pieces lie on it: the pieces of one garment or of a group,
// sorted by material, each material's nested on its own width.
//
// Cloth and lining are washed before they are cut. What a cloth file says is the cloth as it is
// bought; so the pieces lie on a width, and are matched to a print, as the wash leaves them, and
// what is bought is longer than what is cut. The lining shrinks as the cloth does, has no nap and
// no print. Elastic and tape are bought by length and need no plan.

#include "model/cloth.h"
#include "model/pattern/nest.h"
#include "model/pattern/piece.h"

#include <string>
#include <vector>

namespace easewright {

/// The pieces of one garment.
struct GarmentPieces {
  std::string who;  ///< the body's label, 'alto 2'; empty: pieces go by their own names
  std::vector<Piece> pieces;
};

struct CuttingOptions {
  Layering layering = Layering::single;
  double gap = 0.2;      ///< between cut lines, cm
  double seconds = 1.0;  ///< for all materials together, at most
  unsigned seed = 1;
  int threads = 0;  ///< 0: as many as there are processors
};

/// Where a shape of the plan comes from: garments[garment].pieces[piece].
struct CutSource {
  size_t garment = 0, piece = 0;
};

/// The plan of one material.
struct CuttingPlan {
  CutOf material = CutOf::cloth;   ///< cloth or lining
  NestCloth cloth;                 ///< as it lies: washed
  double bought_width = 0;         ///< before the wash, cm
  std::vector<NestShape> shapes;   ///< what plan.placed[i].shape counts in
  std::vector<CutSource> sources;  ///< of the shapes
  NestPlan plan;                   ///< with plan.error nothing below counts
  /// Of the placed, as they are written on the plan: 'alto 2: skirt back', 'alto 2: belt, 1 of 2',
  /// 'alto 2: skirt front, flipped' (the twin on a single layer), 'alto 2: skirt front, cuts 2'
  /// (through both layers).
  std::vector<std::string> names;
  ToBuy to_buy;
};

/// The plans of cloth and lining, in this order; a material of which nothing is cut is left out.
///
/// The search tries a number of layouts that follows from the pieces, so that the same pieces get
/// the same plan each time; only where that would take more than half the time allowed does the
/// clock cut it short.
///
/// Errors: in each plan's own `error`, which names garment and piece.
std::vector<CuttingPlan> cutting_plans(const std::vector<GarmentPieces>& garments,
                                       const Cloth& cloth,
                                       const CuttingOptions& options = {});

}  // namespace easewright
