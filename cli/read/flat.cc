#include "cli/read/flat.h"

#include "cli/read/nearest.h"
#include "cli/write/quantity.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

/// No flat measurement but a belt's is longer; cm.
constexpr double kMostFlat = 250, kMostBelt = 500;
constexpr double kLeastFlat = 0.1;
constexpr double kMostError = 20;

std::vector<std::string> flat_names() {
  std::vector<std::string> names;
  names.reserve(kFlatKeys);
  for (int i = 0; i < kFlatKeys; ++i) names.emplace_back(info(static_cast<FlatKey>(i)).name);
  return names;
}

/// A measurement that may well be nothing: no overlap, no run in.
bool may_be_nothing(FlatKey key) {
  return key == FlatKey::overlap || key == FlatKey::slit_start || key == FlatKey::slit_run_in ||
         key == FlatKey::caught_length || key == FlatKey::strap_drop;
}

std::optional<FlatReading> read_flat_reading(const YamlNode& entry,
                                             const std::string& path,
                                             const Source& source,
                                             FlatKey key) {
  const auto measured = amount_of(entry, path, source, kLength);
  if (!measured) return std::nullopt;
  const double most = key == FlatKey::belt_length ? kMostBelt : kMostFlat;
  const double least = may_be_nothing(key) ? 0.0 : kLeastFlat;
  if (measured->value < least || measured->value > most) {
    source.complain(entry.place,
                    path,
                    write_quantity(measured->value, kLength, {}) + " is outside " +
                        write_range(least, most, kLength, {}));
    return std::nullopt;
  }
  if (measured->sd.value_or(0) > kMostError) {
    source.complain(entry.place,
                    path,
                    "an error of more than " + write_quantity(kMostError, kLength, {}) +
                        " says nothing; leave the measurement out");
    return std::nullopt;
  }
  return FlatReading{key, measured->value, measured->sd.value_or(info(key).error)};
}

}  // namespace

const std::vector<std::string>& kind_words() {
  static const std::vector<std::string> words = {"dress", "top", "skirt"};
  return words;
}

bool agrees_with_skirt(MadeKind kind,
                       const Switches& switches,
                       const YamlNode& node,
                       const std::string& path,
                       const Source& source) {
  const bool skirt = !switches.is(Switch::skirt, "none");
  if (skirt == (kind != MadeKind::top)) return true;
  source.complain(node.place,
                  path,
                  skirt ? "a top has no skirt, but the style has one ('skirt: none' among the "
                          "switches leaves it out)"
                        : fmt::format("a {} has a skirt, but the style has none (top is wanted)",
                                      to_string(kind)));
  return false;
}

std::optional<MeasuredQuantity> amount_of(const YamlNode& node,
                                          const std::string& path,
                                          const Source& source,
                                          Dimension dimension) {
  if (node.kind != YamlNode::Kind::map) {
    const auto text = text_of(node, path, source);
    if (!text) return std::nullopt;
    std::string why;
    const auto measured = parse_measured(*text, dimension, why);
    if (!measured) source.complain(node.place, path, why);
    return measured;
  }
  Section section(node, path, source);
  const YamlNode* amount = section.need("amount");
  const YamlNode* error = section.find("error");
  const auto value = amount == nullptr
                         ? std::nullopt
                         : quantity_of(*amount, section.path_to("amount"), source, dimension);
  const auto sd = error == nullptr
                      ? std::nullopt
                      : quantity_of(*error, section.path_to("error"), source, dimension);
  section.finish();
  if (sd && *sd <= 0) source.complain(error->place, section.path_to("error"), "has to be above 0");
  if (!value || (error != nullptr && !(sd && *sd > 0))) return std::nullopt;
  return MeasuredQuantity{*value, sd};
}

std::vector<FlatReading> read_flat(const YamlNode& map,
                                   const std::string& path,
                                   const Source& source,
                                   MadeKind kind,
                                   const Switches& switches) {
  std::vector<FlatReading> readings;
  Section section(map, path, source);
  const std::vector<std::string> names = flat_names();
  for (const YamlNode* entry : section.entries()) {
    const std::string entry_path = section.path_to(entry->key);
    const auto found = std::find(names.begin(), names.end(), entry->key);
    if (found == names.end()) {
      source.complain(entry->key_place,
                      entry_path,
                      "there is no such flat measurement" + suggestion(entry->key, names));
      continue;
    }
    const auto key = static_cast<FlatKey>(found - names.begin());
    if (!has_flat(kind, switches, key)) {
      source.complain(
          entry->key_place, entry_path, fmt::format("this {} has no such part", to_string(kind)));
      continue;
    }
    if (const auto reading = read_flat_reading(*entry, entry_path, source, key))
      readings.push_back(*reading);
  }
  return readings;
}

}  // namespace easewright
