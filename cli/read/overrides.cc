#include "cli/read/overrides.h"

#include "cli/read/entry.h"
#include "cli/read/quantity.h"
#include "cli/read/style.h"
#include "cli/read/switches.h"
#include "cli/read/wish.h"
#include "cli/write/quantity.h"
#include "model/body/sanity.h"

#include <algorithm>
#include <map>
#include <utility>

#include <fmt/format.h>

namespace easewright {
namespace {

/// The wish that stands for this id: the job's own after the style's, the later after the earlier.
const Wish* standing_wish(const Job& job, const std::string& id) {
  for (const auto* wishes : {&job.wishes, &job.style.wishes}) {
    const auto last = std::find_if(
        wishes->rbegin(), wishes->rend(), [&id](const Wish& wish) { return wish.id == id; });
    if (last != wishes->rend()) return &*last;
  }
  return nullptr;
}

/// What the command line has said already, by name. A later word would count alone, and nobody
/// would see that the earlier is dropped.
using Said = std::map<std::string, std::string>;

/// False after a complaint that shows both.
bool is_first(Said& said, const std::string& name, const std::string& text, const Source& source) {
  const auto [before, fresh] = said.emplace(name, text);
  if (!fresh)
    source.complain({}, name, fmt::format("is given twice: '{}' and '{}'", before->second, text));
  return fresh;
}

/// A new amount leaves strength and tolerance of the wish as they are: 'what if 18 cm' of a must is
/// a must.
void apply_wish(const std::string& text, const Source& source, Said& said, Job& job) {
  const YamlNode entry = as_entry(text, is_wish_name);
  auto wish = read_wish(entry, entry.key, source);
  if (!wish || !is_first(said, spoken(wish->id), text, source)) return;
  if (const Wish* before = standing_wish(job, wish->id)) {
    wish->strength = before->strength;
    wish->tolerance = before->tolerance;
  }
  wish->where = "command line";
  job.wishes.push_back(std::move(*wish));
}

/// A value's limits in place of the style's; the side that goes unsaid stays.
void apply_limit(const std::string& text, const Source& source, Said& said, Style& style) {
  const YamlNode entry = as_entry(text, is_value_name);
  const auto key = value_named(entry.key, {}, entry.key, source);
  const auto range = key ? read_wish(entry, entry.key, source) : std::nullopt;
  if (!range) return;
  const bool given = (!range->lo || range->lo->is_given()) && (!range->hi || range->hi->is_given());
  const bool is = range->lo && range->hi && range->lo->text() == range->hi->text();
  if (is || !given) {
    source.complain(
        {},
        entry.key,
        "'at least', 'at most' or a range is wanted, in numbers or measures of the body");
    return;
  }
  // Each side by itself: one limit may say 'at least', another 'at most'.
  const std::string name = spoken(info(*key).id);
  if (range->lo && !is_first(said, name + " at least", text, source)) return;
  if (range->hi && !is_first(said, name + " at most", text, source)) return;
  // The last override of a value wins whole, so it starts from the one that stands.
  ValueOverride own;
  for (const ValueOverride& standing : style.overrides) {
    if (standing.key == *key) own = standing;
  }
  own.key = *key;
  if (range->lo) own.least = range->lo;
  if (range->hi) own.most = range->hi;
  style.overrides.push_back(std::move(own));
}

void apply_cloth_width(const std::string& text, Complaints& complaints, Cloth& cloth) {
  const Source source{"--width", complaints};
  std::string why;
  const auto width = parse_quantity(text, kLength, why);
  if (!width) return source.complain({}, "", why);
  for (int i = 0; i < kClothFacts; ++i) {
    const ClothFactInfo& fact = cloth_fact(i);
    if (fact.member != &Cloth::width) continue;
    if (*width >= fact.least && *width <= fact.most) {
      cloth.width = *width;
    } else {
      source.complain({},
                      "",
                      write_quantity(*width, kLength, {}) + " is outside " +
                          write_range(fact.least, fact.most, kLength, {}));
    }
  }
}

}  // namespace

void apply_overrides(const Overrides& overrides, Complaints& complaints, LoadedJob& loaded) {
  const Source wish_source{"--wish", complaints};
  Said wishes, limits, measures, switches;
  for (const std::string& text : overrides.wishes)
    apply_wish(text, wish_source, wishes, loaded.job);
  const Source limit_source{"--limit", complaints};
  for (const std::string& text : overrides.limits)
    apply_limit(text, limit_source, limits, loaded.job.style);
  const Source body_source{"--body", complaints};
  for (const std::string& text : overrides.measures) {
    const YamlNode entry =
        as_entry(text, [](const std::string& name) { return find_body_key(name).has_value(); });
    const auto key = find_body_key(entry.key);
    if (!key || is_first(measures, spoken(info(*key).id), text, body_source))
      read_measure(entry, entry.key, body_source, loaded.job.body, loaded.places);
  }
  if (!overrides.measures.empty()) {
    Body changed = loaded.job.body;
    std::vector<BodyNote> notes;
    refuse_values(changed, nullptr, notes);
    // What the file says was checked when it was read.
    std::erase_if(notes, [&loaded](const BodyNote& note) {
      return loaded.places.of(note.key_path).file != "--body";
    });
    complain_of_body(notes, loaded.places, complaints);
  }
  const Source switch_source{"--switch", complaints};
  for (const std::string& text : overrides.switches) {
    const YamlNode entry =
        as_entry(text, [](const std::string& name) { return find_switch(name).has_value(); });
    const auto which = switch_named(entry.key, {}, entry.key, switch_source);
    if (which && is_first(switches, spoken(info(*which).id), text, switch_source))
      read_switch(*which, entry, entry.key, switch_source, loaded.job.style);
  }
  if (overrides.cloth_width)
    apply_cloth_width(*overrides.cloth_width, complaints, loaded.job.cloth);
  if (overrides.unit) loaded.job.unit = *overrides.unit;
}

}  // namespace easewright
