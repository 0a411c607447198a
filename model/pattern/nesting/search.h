#pragma once
// The search over the order of laying and the lie of each item.
//
// Simulated annealing in a few chains that know nothing of each other, so that the answer depends
// on the seed and the number of layouts alone, not on the number of threads. A move swaps two
// items, puts one elsewhere in the order, or gives one another lie; the layout before the first
// place that changed is kept, and a layout is given up as soon as it is too long to be accepted.

#include "model/pattern/nesting/lay.h"

#include <vector>

namespace easewright::nesting {

struct Found {
  std::vector<Lying> lying;
  double cost = 0;
  long layouts = 0;
};

Found search(const Prepared& prepared, double repeat_cm, const NestOptions& options);

}  // namespace easewright::nesting
