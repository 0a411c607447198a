#include "model/body/measures.h"

#include <array>

namespace easewright {

const BodyMeasureInfo& info(BodyKey key) {
  static constexpr std::array<BodyMeasureInfo, kBodyKeys> catalogue = {{
#define EASEWRIGHT_X(id, dimension, sd, least, most, definition) \
  {#id, dimension, sd, least, most, definition},
      EASEWRIGHT_BODY_MEASURES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
  }};
  return catalogue.at(static_cast<size_t>(key));
}

std::optional<BodyKey> find_body_key(std::string_view name) {
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (info(key).id == name || spoken(info(key).id) == name) return key;
  }
  return std::nullopt;
}

}  // namespace easewright
