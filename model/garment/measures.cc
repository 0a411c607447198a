#include "model/garment/measures.h"

namespace easewright {

const MeasureInfo& info(MeasureKey key) {
  static constexpr std::array<MeasureInfo, kMeasureKeys> catalogue = {{
#define EASEWRIGHT_X(name, id, dimension, definition) {id, dimension, definition},
      EASEWRIGHT_MEASURES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
  }};
  return catalogue.at(static_cast<size_t>(key));
}

}  // namespace easewright
