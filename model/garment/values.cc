#include "model/garment/values.h"

namespace easewright {

const ValueInfo& info(ValueKey key) {
  static constexpr std::array<ValueInfo, kValueKeys> catalogue = {{
#define EASEWRIGHT_X(name, id, dimension, definition) {id, dimension, definition},
      EASEWRIGHT_DRAFT_VALUES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
  }};
  return catalogue.at(static_cast<size_t>(key));
}

}  // namespace easewright
