#include "cli/read/style.h"

#include "cli/read/expression.h"
#include "cli/read/nearest.h"
#include "cli/read/switches.h"
#include "cli/read/wish.h"

namespace easewright {
namespace {

std::optional<ValueOverride> read_override(const YamlNode& entry,
                                           std::string path,
                                           const Source& source) {
  const auto key = value_named(entry.key, entry.key_place, path, source);
  if (!key) return std::nullopt;
  ValueOverride own;
  own.key = *key;
  Section section(entry, std::move(path), source);
  const auto side = [&](std::string_view name) -> std::optional<Expression> {
    const YamlNode* node = section.find(name);
    if (node == nullptr) return std::nullopt;
    return expression_of(*node, info(*key).dimension, Names::given, section.path_to(name), source);
  };
  own.habit = side("habit");
  own.least = side("least");
  own.most = side("most");
  own.fixed = section.find_yes_or_no("fixed").value_or(false);
  section.finish();
  return own;
}

}  // namespace

std::optional<ValueKey> value_named(std::string_view name,
                                    Place place,
                                    std::string_view path,
                                    const Source& source) {
  std::vector<std::string> names;
  for (int i = 0; i < kValueKeys; ++i) {
    const auto key = static_cast<ValueKey>(i);
    names.push_back(spoken(info(key).id));
    if (names.back() == name || info(key).id == name) return key;
  }
  source.complain(place, path, "there is no such draft value" + suggestion(name, names));
  return std::nullopt;
}

Style read_style(const YamlNode& map, std::string path, const Source& source) {
  Style style;
  Section section(map, std::move(path), source);
  style.label = section.need_text("style").value_or("");
  style.description = section.find_text("about").value_or("");
  if (const YamlNode* switches = section.find_filled("switches")) {
    read_switches(*switches, section.path_to("switches"), source, style);
  }
  if (const YamlNode* ways = section.find_filled("put on")) {
    read_switch(Switch::put_on, *ways, section.path_to("put on"), source, style);
  }
  if (const YamlNode* values = section.find_filled("values")) {
    Section own(*values, section.path_to("values"), source);
    for (const YamlNode* entry : own.entries()) {
      auto override = read_override(*entry, own.path_to(entry->key), source);
      if (override) style.overrides.push_back(std::move(*override));
    }
  }
  if (const YamlNode* wishes = section.find_filled("wishes")) {
    style.wishes = read_wishes(*wishes, section.path_to("wishes"), source);
  }
  section.finish();
  return style;
}

}  // namespace easewright
