#include "cli/read/values.h"

#include "cli/read/expression.h"
#include "cli/read/style.h"
#include "cli/read/switches.h"

#include <fmt/format.h>

namespace easewright {
namespace {

ValueDefault read_default(const YamlNode& entry,
                          Dimension dimension,
                          std::string path,
                          const Source& source) {
  ValueDefault standard;
  Section section(entry, std::move(path), source);
  const auto side = [&](std::string_view name) {
    const YamlNode* node = section.need(name);
    if (node == nullptr) return Expression();
    auto expression = expression_of(*node, dimension, Names::given, section.path_to(name), source);
    return expression ? std::move(*expression) : Expression();
  };
  standard.habit = side("habit");
  standard.least = side("least");
  standard.most = side("most");
  if (const YamlNode* node = section.need("scale")) {
    const auto scale = quantity_of(*node, section.path_to("scale"), source, dimension);
    if (scale && *scale <= 0)
      source.complain(node->place, section.path_to("scale"), "has to be above 0");
    if (scale && *scale > 0) standard.scale = *scale;
  }
  if (const YamlNode* when = section.find("when")) {
    standard.when = read_conditions(*when, section.path_to("when"), source);
  }
  section.find_text("source");
  section.finish();
  return standard;
}

}  // namespace

void read_values(const YamlNode& map,
                 const Source& source,
                 std::array<ValueDefault, kValueKeys>& values) {
  Section section(map, "", source);
  const YamlNode* list = section.need("values");
  section.finish();
  if (list == nullptr) return;
  std::array<bool, kValueKeys> seen{};
  Section all(*list, "values", source);
  for (const YamlNode* entry : all.entries()) {
    const std::string path = all.path_to(entry->key);
    const auto key = value_named(entry->key, entry->key_place, path, source);
    if (!key) continue;
    seen[static_cast<size_t>(*key)] = true;
    values[static_cast<size_t>(*key)] = read_default(*entry, info(*key).dimension, path, source);
  }
  for (int i = 0; i < kValueKeys; ++i) {
    if (seen[static_cast<size_t>(i)]) continue;
    const std::string name = spoken(info(static_cast<ValueKey>(i)).id);
    source.complain(list->place, "values", fmt::format("the key '{}' is missing", name));
  }
}

}  // namespace easewright
