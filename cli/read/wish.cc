#include "cli/read/wish.h"

#include "cli/read/expression.h"
#include "cli/read/nearest.h"
#include "cli/read/quantity.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Bare numbers take the unit of the side after it: in '4 to 6 cm' the 4 is cm as well.
std::string with_unit_of(std::string_view lower, std::string_view upper) {
  if (!is_bare_number(lower)) return std::string(lower);
  size_t unit = upper.size();
  while (unit > 0 && !(upper[unit - 1] >= '0' && upper[unit - 1] <= '9')) --unit;
  return std::string(lower) + std::string(upper.substr(unit));
}

/// The wish being read, and where its complaints go.
struct Reading {
  const YamlNode& node;
  std::string_view path;
  const Source& source;
  Dimension dimension;
  Wish& wish;
  bool ok = true;

  void refuse(size_t offset, std::string_view text) {
    source.complain(node.inside(offset), path, text);
    ok = false;
  }

  std::optional<Expression> side(std::string_view text, size_t offset) {
    auto expression = expression_of(text, dimension, Names::any, node, offset, path, source);
    ok = ok && expression.has_value();
    return expression;
  }
};

/// A range that runs backwards can only be seen where both sides are plain quantities.
void check_order(Reading& reading, std::string_view lower, std::string_view upper) {
  std::string why;
  const auto lo = parse_quantity(lower, reading.dimension, why);
  const auto hi = parse_quantity(upper, reading.dimension, why);
  if (!lo || !hi || *lo <= *hi) return;
  reading.refuse(0, fmt::format("'{}' to '{}' runs backwards", lower, upper));
}

/// The words of a range without its amount would be taken for names.
void refuse_bare_words(Reading& reading, std::string_view text) {
  const std::string amount = example_of(reading.dimension);
  for (const std::string_view words : {"at least", "at most"}) {
    if (text == words)
      reading.refuse(words.size(), fmt::format("an amount is wanted: '{} {}'", words, amount));
  }
  if (text.ends_with(" to") || text.starts_with("to "))
    reading.refuse(0, fmt::format("'{}' lacks a side; 'at least {}' is open above", text, amount));
}

void read_text(Reading& reading, const std::string& text) {
  constexpr std::string_view kLeast = "at least ", kMost = "at most ", kTo = " to ";
  const std::string_view all = text;
  refuse_bare_words(reading, all);
  if (!reading.ok) return;
  if (all.starts_with(kLeast)) {
    reading.wish.lo = reading.side(all.substr(kLeast.size()), kLeast.size());
  } else if (all.starts_with(kMost)) {
    reading.wish.hi = reading.side(all.substr(kMost.size()), kMost.size());
  } else if (const size_t to = all.find(kTo); to != std::string_view::npos) {
    const std::string_view upper = all.substr(to + kTo.size());
    const std::string lower = with_unit_of(all.substr(0, to), upper);
    reading.wish.lo = reading.side(lower, 0);
    reading.wish.hi = reading.side(upper, to + kTo.size());
    if (reading.ok) check_order(reading, lower, upper);
  } else {
    reading.wish.lo = reading.wish.hi = reading.side(all, 0);
  }
}

void read_map(Reading& reading) {
  Section section(reading.node, std::string(reading.path), reading.source);
  const auto side = [&](std::string_view key) -> std::optional<Expression> {
    const YamlNode* node = section.find(key);
    if (node == nullptr) return std::nullopt;
    auto expression =
        expression_of(*node, reading.dimension, Names::any, section.path_to(key), reading.source);
    reading.ok = reading.ok && expression.has_value();
    return expression;
  };
  const auto is = side("is");
  const auto from = side("from");
  const auto to = side("to");
  if (const YamlNode* node = section.find("tolerance")) {
    const auto tolerance =
        quantity_of(*node, section.path_to("tolerance"), reading.source, reading.dimension);
    if (tolerance && *tolerance <= 0) {
      reading.source.complain(node->place, section.path_to("tolerance"), "has to be above 0");
    } else if (tolerance) {
      reading.wish.tolerance = *tolerance;
    }
  }
  if (const auto strength = section.find_word("strength", strength_words())) {
    reading.wish.strength = static_cast<solver::Level>(*strength);
  }
  section.finish();
  if (is && (from || to)) {
    reading.source.complain(reading.node.place,
                            reading.path,
                            "has 'is' beside 'from' or 'to'; one of the two is wanted");
    reading.ok = false;
  } else if (reading.ok && !is && !from && !to) {
    reading.source.complain(
        reading.node.place, reading.path, "says nothing: 'is', 'from' or 'to' is wanted");
    reading.ok = false;
  }
  reading.wish.lo = is ? is : from;
  reading.wish.hi = is ? is : to;
  if (reading.ok && from && to) check_order(reading, from->text(), to->text());
}

std::vector<std::string> wishable_names() {
  std::vector<std::string> names;
  names.reserve(kValueKeys + kMeasureKeys);
  for (int i = 0; i < kValueKeys; ++i) names.push_back(spoken(info(static_cast<ValueKey>(i)).id));
  for (int i = 0; i < kMeasureKeys; ++i)
    names.push_back(spoken(info(static_cast<MeasureKey>(i)).id));
  return names;
}

}  // namespace

const std::vector<std::string>& strength_words() {
  static const std::vector<std::string> words = {"must", "should", "wish", "habit"};
  return words;
}

double default_tolerance(Dimension dimension) {
  if (dimension == kLength) return 0.5;
  if (dimension == kAngle) return radians(2);
  return dimension == kTime ? 1 : 0.05;
}

std::optional<Name> wishable_name(std::string_view name,
                                  Place place,
                                  std::string_view path,
                                  const Source& source) {
  for (int i = 0; i < kValueKeys; ++i) {
    const ValueInfo& value = info(static_cast<ValueKey>(i));
    if (value.id == name || spoken(value.id) == name)
      return Name{NameKind::value, i, value.dimension};
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const MeasureInfo& measure = info(static_cast<MeasureKey>(i));
    if (measure.id == name || spoken(measure.id) == name)
      return Name{NameKind::measure, i, measure.dimension};
  }
  source.complain(
      place,
      path,
      "there is no draft value or measure of this name" + suggestion(name, wishable_names()));
  return std::nullopt;
}

std::optional<Wish> read_wish(const YamlNode& node, std::string_view path, const Source& source) {
  const auto name = wishable_name(node.key, node.key_place, path, source);
  if (!name) return std::nullopt;
  const auto at = static_cast<size_t>(name->index);
  Wish wish;
  wish.id = name->kind == NameKind::value ? info(static_cast<ValueKey>(at)).id
                                          : info(static_cast<MeasureKey>(at)).id;
  wish.tolerance = default_tolerance(name->dimension);
  wish.where = node.key_place.line > 0 ? fmt::format("{}:{}", source.file, node.key_place.line)
                                       : source.file;
  Reading reading{node, path, source, name->dimension, wish};
  if (node.kind == YamlNode::Kind::map) {
    read_map(reading);
  } else if (const auto text = text_of(node, path, source)) {
    read_text(reading, *text);
  } else {
    reading.ok = false;
  }
  return reading.ok ? std::optional(std::move(wish)) : std::nullopt;
}

std::vector<Wish> read_wishes(const YamlNode& map, std::string_view path, const Source& source) {
  std::vector<Wish> wishes;
  Section section(map, std::string(path), source);
  for (const YamlNode* entry : section.entries()) {
    auto wish = read_wish(*entry, section.path_to(entry->key), source);
    if (!wish) continue;
    const bool known = std::any_of(
        wishes.begin(), wishes.end(), [&](const Wish& other) { return other.id == wish->id; });
    if (known) {
      source.complain(entry->key_place, section.path_to(entry->key), "is wished for a second time");
      continue;
    }
    wishes.push_back(std::move(*wish));
  }
  return wishes;
}

}  // namespace easewright
