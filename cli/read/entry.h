#pragma once
// What a command line says in one text, 'neckline depth 20 cm', as the map entry that a file would
// have.

#include "cli/read/yaml.h"

#include <functional>
#include <string>

namespace easewright {

/// The longest known name in front is the key; ':' or '=' after it is no harm. Without a known
/// name, what was meant as one is the key, so that a suggestion can be made.
YamlNode as_entry(const std::string& text, const std::function<bool(const std::string&)>& is_name);

/// By id or spoken: of a draft value; of a draft value or a measure.
bool is_value_name(const std::string& name);
bool is_wish_name(const std::string& name);

}  // namespace easewright
