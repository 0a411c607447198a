#include "cli/read/cloth.h"

#include "cli/write/quantity.h"

namespace easewright {
namespace {

void read_fact(const ClothFactInfo& fact, Section& section, Cloth& cloth) {
  const std::string key = spoken(fact.id);
  const YamlNode* node = section.find(key);
  if (node == nullptr) return;
  const auto value = quantity_of(*node, section.path_to(key), section.source(), fact.dimension);
  if (!value) return;
  if (*value < fact.least || *value > fact.most) {
    section.source().complain(node->place,
                              section.path_to(key),
                              write_quantity(*value, fact.dimension, {}) + " is outside " +
                                  write_range(fact.least, fact.most, fact.dimension, {}));
    return;
  }
  cloth.*fact.member = *value;
}

}  // namespace

Cloth read_cloth(const YamlNode& map, std::string path, const Source& source) {
  Cloth cloth;
  Section section(map, std::move(path), source);
  cloth.label = section.need_text("cloth").value_or("");
  section.find_text("about");
  cloth.nap = section.find_yes_or_no("nap").value_or(cloth.nap);
  cloth.leaves_holes = section.find_yes_or_no("leaves holes").value_or(cloth.leaves_holes);
  for (int i = 0; i < kClothFacts; ++i) read_fact(cloth_fact(i), section, cloth);
  section.finish();
  return cloth;
}

}  // namespace easewright
