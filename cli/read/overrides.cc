#include "cli/read/overrides.h"

#include <fmt/format.h>

#include <functional>

#include "cli/read/nearest.h"
#include "cli/read/switches.h"
#include "cli/read/wish.h"
#include "model/body/sanity.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"

namespace easewright {
namespace {

/// 'neckline depth 20 cm' as the map entry that a file would have: the longest known name in front is the key. ':' or
/// '=' after the name is no harm.
YamlNode as_entry(const std::string& text, const std::function<bool(const std::string&)>& is_name) {
  YamlNode entry;
  entry.kind = YamlNode::Kind::text;
  for (size_t end = text.size(); end > 0; --end) {
    const bool word_ends = end == text.size() || text[end] == ' ' || text[end] == ':' || text[end] == '=';
    if (!word_ends || !is_name(text.substr(0, end))) continue;
    entry.key = text.substr(0, end);
    const size_t rest = text.find_first_not_of(" :=", end);
    entry.text = rest == std::string::npos ? "" : text.substr(rest);
    return entry;
  }
  // No known name: what stands before the first number, or all but the last word, is what was meant as one.
  const size_t digit = text.find_first_of("0123456789");
  const size_t cut = digit != std::string::npos ? digit : text.find_last_of(' ');
  entry.key = text.substr(0, cut);
  while (!entry.key.empty() && std::string_view(" :=").find(entry.key.back()) != std::string_view::npos) entry.key.pop_back();
  entry.text = cut == std::string::npos ? "" : text.substr(cut);
  return entry;
}

bool is_wish_name(const std::string& name) {
  for (int i = 0; i < kValueKeys; ++i) {
    const auto id = info(static_cast<ValueKey>(i)).id;
    if (id == name || spoken(id) == name) return true;
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto id = info(static_cast<MeasureKey>(i)).id;
    if (id == name || spoken(id) == name) return true;
  }
  return false;
}

}  // namespace

void apply_overrides(const Overrides& overrides, Complaints& complaints, LoadedJob& loaded) {
  const Source wish_source{"--wish", complaints};
  for (const std::string& text : overrides.wishes) {
    const YamlNode entry = as_entry(text, is_wish_name);
    if (auto wish = read_wish(entry, entry.key, wish_source)) {
      wish->where = "command line";
      loaded.job.wishes.push_back(std::move(*wish));
    }
  }
  const Source body_source{"--body", complaints};
  for (const std::string& text : overrides.measures) {
    const YamlNode entry = as_entry(text, [](const std::string& name) { return find_body_key(name).has_value(); });
    read_measure(entry, entry.key, body_source, loaded.job.body, loaded.places);
  }
  if (!overrides.measures.empty()) {
    Body changed = loaded.job.body;
    std::vector<BodyNote> notes;
    refuse_values(changed, nullptr, notes);
    // What the file says was checked when it was read.
    std::erase_if(notes, [&loaded](const BodyNote& note) { return loaded.places.of(note.key_path).file != "--body"; });
    complain_of_body(notes, loaded.places, complaints);
  }
  const Source switch_source{"--switch", complaints};
  for (const std::string& text : overrides.switches) {
    const YamlNode entry = as_entry(text, [](const std::string& name) { return find_switch(name).has_value(); });
    const auto which = switch_named(entry.key, {}, entry.key, switch_source);
    if (which) read_switch(*which, entry, entry.key, switch_source, loaded.job.style);
  }
  if (overrides.unit) loaded.job.unit = *overrides.unit;
}

}  // namespace easewright
