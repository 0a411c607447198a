#include "cli/read/allowances.h"

#include "cli/read/nearest.h"
#include "cli/read/section.h"
#include "cli/write/quantity.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Nobody leaves more at a seam, cm.
constexpr double kMostAllowance = 5;

using Member = double Allowances::*;
const std::vector<std::pair<std::string, Member>>& members() {
  static const std::vector<std::pair<std::string, Member>> all = {
      {"side", &Allowances::side},
      {"shoulder", &Allowances::shoulder},
      {"centre back", &Allowances::centre},
      {"waist", &Allowances::waist},
      {"neck", &Allowances::neck},
      {"armhole", &Allowances::armhole},
      {"front edge", &Allowances::front_edge},
      {"belt", &Allowances::belt}};
  return all;
}

/// Why the garment takes no such allowance; null where it does.
const char* seam_lacking(const std::string& word, const Switches& switches) {
  if (word == "centre back" && !switches.is(Switch::centre_back, "seam"))
    return "the back is cut on the fold ('centre back: seam' among the switches)";
  if (word == "waist" && switches.is(Switch::waist, "elastic"))
    return "an elastic waist's is the casing's: wish for a 'casing allowance'";
  if (word == "front edge" && !switches.is(Switch::skirt, "wrapped"))
    return "the skirt is not wrapped: it has no free front edge";
  if (word == "belt" && switches.is(Switch::belt, "none")) return "there is no belt";
  return nullptr;
}

}  // namespace

const std::vector<std::string>& allowance_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> names;
    for (const auto& [word, member] : members()) names.push_back(word);
    return names;
  }();
  return words;
}

Allowances read_allowances(const YamlNode& map,
                           const std::string& path,
                           const Source& source,
                           const Switches& switches) {
  Allowances allowances;
  Section section(map, path, source);
  for (const YamlNode* entry : section.entries()) {
    const std::string entry_path = section.path_to(entry->key);
    if (entry->key == "hem") {
      source.complain(entry->key_place,
                      entry_path,
                      "is what the hem turns up and folds in: wish for a 'hem turn'");
      continue;
    }
    const auto found = std::find_if(members().begin(), members().end(), [entry](const auto& m) {
      return m.first == entry->key;
    });
    if (found == members().end()) {
      const std::string near = suggestion(entry->key, allowance_words());
      source.complain(
          entry->key_place,
          entry_path,
          "there is no such seam or edge" +
              (near.empty() ? fmt::format("; there are {}", fmt::join(allowance_words(), ", "))
                            : near));
      continue;
    }
    if (const char* lacks = seam_lacking(entry->key, switches)) {
      source.complain(entry->key_place, entry_path, lacks);
      continue;
    }
    const auto value = quantity_of(*entry, entry_path, source, kLength);
    if (!value) continue;
    if (*value < 0 || *value > kMostAllowance) {
      source.complain(entry->place,
                      entry_path,
                      write_quantity(*value, kLength, {}) + " is outside " +
                          write_range(0, kMostAllowance, kLength, {}));
      continue;
    }
    allowances.*(found->second) = *value;
  }
  return allowances;
}

}  // namespace easewright
