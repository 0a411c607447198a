#include "model/cloth.h"

#include <array>

namespace easewright {

const ClothFactInfo& cloth_fact(int i) {
  static const std::array<ClothFactInfo, kClothFacts> facts = {{
#define EASEWRIGHT_X(id, dimension, value, least, most, definition) \
  {#id, dimension, least, most, &Cloth::id, definition},
      EASEWRIGHT_CLOTH_FACTS(EASEWRIGHT_X)
#undef EASEWRIGHT_X
  }};
  return facts.at(static_cast<size_t>(i));
}

}  // namespace easewright
