#include "model/style.h"

#include <algorithm>

namespace easewright {
namespace {

std::vector<std::string> split_options(std::string_view text) {
  std::vector<std::string> options;
  while (true) {
    const size_t bar = text.find('|');
    options.emplace_back(text.substr(0, bar));
    if (bar == std::string_view::npos) return options;
    text.remove_prefix(bar + 1);
  }
}

}  // namespace

const SwitchInfo& info(Switch which) {
  static const std::array<SwitchInfo, kSwitches> catalogue = {{
#define EASEWRIGHT_X(id, options, definition) {#id, split_options(options), definition},
      EASEWRIGHT_SWITCHES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
  }};
  return catalogue.at(static_cast<size_t>(which));
}

std::optional<Switch> find_switch(std::string_view name) {
  for (int i = 0; i < kSwitches; ++i) {
    const auto which = static_cast<Switch>(i);
    if (info(which).id == name || spoken(info(which).id) == name) return which;
  }
  return std::nullopt;
}

bool Switches::set(Switch which, std::string_view option) {
  const auto& options = info(which).options;
  const auto found = std::find(options.begin(), options.end(), option);
  if (found == options.end()) return false;
  at[static_cast<size_t>(which)] = static_cast<int>(found - options.begin());
  return true;
}

bool Condition::holds(const Switches& switches) const {
  return std::find(options.begin(), options.end(), switches[which]) != options.end();
}

}  // namespace easewright
