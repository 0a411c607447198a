#pragma once
// Few pieces: every order of laying with every lie of each, so that nothing is left to chance.

#include "model/pattern/nesting/lay.h"

#include <functional>

namespace easewright::nesting {

/// How many layouts there are: orders of the items, equal ones counted once, times their lies. Not
/// counted beyond `most`.
double count_of_layouts(const Prepared& prepared, double most);

/// A layout and its length, units.
using Report = std::function<void(const std::vector<Lying>&, std::int64_t)>;

/// Tries them all for one column, but those that are longer than `shortest` long before their end;
/// reports each that is shorter than all before. Goes on while it may.
///
/// Returns how many it tried or gave up.
long lay_every(const Prepared& prepared,
               Lay& lay,
               std::int64_t shortest,
               const Report& report,
               const std::function<bool()>& may_go_on);

}  // namespace easewright::nesting
