#include "model/alter/moves.h"

#include <utility>

namespace easewright {
namespace {

constexpr ChangeInfo kInfo[] = {
#define EASEWRIGHT_X(id, name, dimension, definition) {name, dimension, definition},
    EASEWRIGHT_CHANGES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};

}  // namespace

const ChangeInfo& info(Change change) { return kInfo[static_cast<size_t>(change)]; }

Change inverse_of(Change change) {
  const std::pair<Change, Change> pairs[] = {{Change::sides_in, Change::sides_out},
                                             {Change::sides_in_bodice, Change::sides_out_bodice},
                                             {Change::sides_in_skirt, Change::sides_out_skirt},
                                             {Change::straps_up, Change::straps_down},
                                             {Change::waist_tuck, Change::waist_down},
                                             {Change::waist_front_up, Change::waist_front_down},
                                             {Change::waist_back_up, Change::skirt_back_out},
                                             {Change::skirt_front_lower, Change::skirt_front_out},
                                             {Change::elastic_shorter, Change::elastic_longer},
                                             {Change::overlap_wider, Change::overlap_narrower},
                                             {Change::slit_caught, Change::slit_released},
                                             {Change::hem_up, Change::hem_down},
                                             {Change::hem_front_up, Change::hem_front_down},
                                             {Change::hem_back_up, Change::hem_back_down},
                                             {Change::hem_sides_up, Change::hem_sides_down}};
  for (const auto& [a, b] : pairs) {
    if (change == a) return b;
    if (change == b) return a;
  }
  return Change::count;
}

}  // namespace easewright
