#include "cli/read/entry.h"

#include "model/garment/measures.h"
#include "model/garment/values.h"

#include <algorithm>
#include <string_view>

namespace easewright {

YamlNode as_entry(const std::string& text, const std::function<bool(const std::string&)>& is_name) {
  YamlNode entry;
  entry.kind = YamlNode::Kind::text;
  for (size_t end = text.size(); end > 0; --end) {
    const bool word_ends =
        end == text.size() || text[end] == ' ' || text[end] == ':' || text[end] == '=';
    if (!word_ends || !is_name(text.substr(0, end))) continue;
    entry.key = text.substr(0, end);
    const size_t rest = text.find_first_not_of(" :=", end);
    entry.text = rest == std::string::npos ? "" : text.substr(rest);
    return entry;
  }
  // No known name: what stands before the first number, 'at least' or 'at most', or all but the
  // last word, is what was meant as one.
  const size_t amount =
      std::min({text.find_first_of("0123456789"), text.find(" at least"), text.find(" at most")});
  const size_t cut = amount != std::string::npos ? amount : text.find_last_of(' ');
  entry.key = text.substr(0, cut);
  while (!entry.key.empty() &&
         std::string_view(" :=").find(entry.key.back()) != std::string_view::npos)
    entry.key.pop_back();
  entry.text = cut == std::string::npos ? "" : text.substr(cut);
  return entry;
}

bool is_value_name(const std::string& name) {
  for (int i = 0; i < kValueKeys; ++i) {
    const auto id = info(static_cast<ValueKey>(i)).id;
    if (id == name || spoken(id) == name) return true;
  }
  return false;
}

bool is_wish_name(const std::string& name) {
  if (is_value_name(name)) return true;
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto id = info(static_cast<MeasureKey>(i)).id;
    if (id == name || spoken(id) == name) return true;
  }
  return false;
}

}  // namespace easewright
