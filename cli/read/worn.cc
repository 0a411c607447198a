#include "cli/read/worn.h"

#include "cli/read/flat.h"
#include "cli/read/switches.h"
#include "cli/write/quantity.h"
#include "model/alter/worn_tape.h"

#include <utility>

#include <fmt/format.h>

namespace easewright {
namespace {

/// What a knit's hand test can give at most: as a cloth's.
constexpr double kMostStretch = 2;

Switches switches_of(Section& section, MadeKind kind) {
  Style style;
  if (kind == MadeKind::top) style.switches.set(Switch::skirt, "none");
  if (const YamlNode* node = section.find_filled("switches"))
    read_switches(*node, section.path_to("switches"), section.source(), style);
  if (!style.put_on.empty())
    style.switches.at[static_cast<size_t>(Switch::put_on)] = style.put_on.front();
  return style.switches;
}

double stretch_of(Section& section) {
  const YamlNode* node = section.find("stretch");
  if (node == nullptr) return 0;
  const auto stretch = quantity_of(*node, section.path_to("stretch"), section.source(), kRatio);
  if (stretch && (*stretch < 0 || *stretch > kMostStretch)) {
    const Notation percent{.ratio = RatioStyle::percent};
    section.source().complain(node->place,
                              section.path_to("stretch"),
                              write_quantity(*stretch, kRatio, percent) + " is outside " +
                                  write_range(0, kMostStretch, kRatio, percent));
  }
  return stretch.value_or(0);
}

/// A reading that is taste says nothing of whoever wears it.
void complain_of_taste(const YamlNode& flat,
                       const std::string& path,
                       const Source& source,
                       const std::vector<FlatReading>& readings) {
  for (const FlatReading& reading : readings) {
    if (tells_of_body(reading.key)) continue;
    for (const YamlNode& entry : flat.children) {
      if (entry.key == info(reading.key).name)
        source.complain(entry.key_place,
                        join_path(path, entry.key),
                        "is taste and says nothing of the body; leave it out");
    }
  }
}

void read_garment(const YamlNode& map, std::string path, const Source& source, Body& body) {
  Section section(map, std::move(path), source);
  WornTape worn;
  worn.label = section.find_text("garment").value_or("a garment that fits");
  const YamlNode* node = section.need("kind");
  const auto kind = node == nullptr ? std::nullopt : section.find_word("kind", kind_words());
  worn.kind = static_cast<MadeKind>(kind.value_or(0));
  worn.switches = switches_of(section, worn.kind);
  const bool sound =
      kind && agrees_with_skirt(worn.kind, worn.switches, *node, section.path_to("kind"), source);
  if (const auto fit = section.find_word("fits", {"closely", "loosely"}))
    worn.fit = static_cast<WornFit>(*fit);
  worn.stretch = stretch_of(section);
  if (const YamlNode* flat = section.need("flat"); flat != nullptr && sound) {
    worn.readings = read_flat(*flat, section.path_to("flat"), source, worn.kind, worn.switches);
    complain_of_taste(*flat, section.path_to("flat"), source, worn.readings);
  }
  section.finish();
  for (BodyEvidence& evidence : evidence_of(worn)) {
    evidence.from = fmt::format("{} of {}", evidence.from, worn.label);
    body.evidence.push_back(std::move(evidence));
  }
}

}  // namespace

void read_garments_that_fit(const YamlNode& node,
                            std::string_view path,
                            const Source& source,
                            Body& body) {
  if (node.kind != YamlNode::Kind::list) {
    read_garment(node, std::string(path), source, body);
    return;
  }
  for (size_t i = 0; i < node.children.size(); ++i)
    read_garment(node.children[i], fmt::format("{}[{}]", path, i + 1), source, body);
}

}  // namespace easewright
