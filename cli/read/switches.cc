#include "cli/read/switches.h"

#include "cli/read/nearest.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

std::vector<std::string> switch_names() {
  std::vector<std::string> names;
  names.reserve(kSwitches);
  for (int i = 0; i < kSwitches; ++i) names.push_back(spoken(info(static_cast<Switch>(i)).id));
  return names;
}

}  // namespace

std::optional<Switch> switch_named(std::string_view name,
                                   Place place,
                                   std::string_view path,
                                   const Source& source) {
  const auto which = find_switch(name);
  if (!which)
    source.complain(place, path, "there is no such switch" + suggestion(name, switch_names()));
  return which;
}

void read_switch(
    Switch which, const YamlNode& node, std::string_view path, const Source& source, Style& style) {
  if (which == Switch::build) {
    source.complain(node.place, path, "the build is the body's ('build: woman' in the body file)");
    return;
  }
  if (which == Switch::put_on) {
    std::vector<int> ways;
    for (const YamlNode* item : texts_of(node, path, source)) {
      const auto way = word_of(*item, path, source, info(which).options);
      if (way) ways.push_back(static_cast<int>(*way));
    }
    if (!ways.empty()) style.put_on = std::move(ways);
    return;
  }
  const auto option = word_of(node, path, source, info(which).options);
  if (option) style.switches.at[static_cast<size_t>(which)] = static_cast<int>(*option);
}

void read_switches(const YamlNode& map, std::string_view path, const Source& source, Style& style) {
  Section section(map, std::string(path), source);
  for (const YamlNode* entry : section.entries()) {
    const std::string entry_path = section.path_to(entry->key);
    const auto which = switch_named(entry->key, entry->key_place, entry_path, source);
    if (which) read_switch(*which, *entry, entry_path, source, style);
  }
}

std::vector<Condition> read_conditions(const YamlNode& map,
                                       std::string_view path,
                                       const Source& source) {
  std::vector<Condition> conditions;
  Section section(map, std::string(path), source);
  for (const YamlNode* entry : section.entries()) {
    const std::string entry_path = section.path_to(entry->key);
    const auto which = switch_named(entry->key, entry->key_place, entry_path, source);
    if (!which) continue;
    Condition condition{*which, {}};
    for (const YamlNode* item : texts_of(*entry, entry_path, source)) {
      const auto option = word_of(*item, entry_path, source, info(*which).options);
      if (option) condition.options.push_back(info(*which).options[*option]);
    }
    if (!condition.options.empty()) conditions.push_back(std::move(condition));
  }
  return conditions;
}

}  // namespace easewright
