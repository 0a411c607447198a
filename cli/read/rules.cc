#include "cli/read/rules.h"

#include "cli/read/switches.h"
#include "cli/read/wish.h"

#include <algorithm>

namespace easewright {
namespace {

std::optional<Range> read_range(const YamlNode& node, std::string_view path, const Source& source) {
  const auto text = text_of(node, path, source);
  if (!text) return std::nullopt;
  ExpressionError error;
  auto range = parse_range(*text, &error);
  if (!range) source.complain(node.inside(error.column), path, error.message);
  return range;
}

/// 0.3 cm where a rule about a length does not say; other dimensions have no usual size of a miss.
std::optional<double> read_tolerance(Section& section, Dimension dimension) {
  const YamlNode* node =
      dimension == kLength ? section.find("tolerance") : section.need("tolerance");
  if (node == nullptr) return dimension == kLength ? std::optional(0.3) : std::nullopt;
  const auto tolerance =
      quantity_of(*node, section.path_to("tolerance"), section.source(), dimension);
  if (tolerance && *tolerance <= 0) {
    section.source().complain(node->place, section.path_to("tolerance"), "has to be above 0");
    return std::nullopt;
  }
  return tolerance;
}

std::optional<Rule> read_rule(const YamlNode& map, std::string path, const Source& source) {
  Section section(map, std::move(path), source);
  Rule rule;
  rule.name = section.need_text("rule").value_or("");
  const YamlNode* node = section.need("range");
  auto range = node == nullptr ? std::nullopt : read_range(*node, section.path_to("range"), source);
  bool ok = range.has_value() && !rule.name.empty();
  if (section.need("strength") != nullptr) {
    const auto strength = section.find_word("strength", strength_words());
    if (strength) rule.strength = static_cast<solver::Level>(*strength);
    ok = ok && strength;
  } else {
    ok = false;
  }
  if (const auto shape = section.find_word("shape", {"absolute", "squared"})) {
    rule.shape = static_cast<solver::Shape>(*shape);
  }
  const auto tolerance = read_tolerance(section, range ? range->expression.dimension() : kLength);
  ok = ok && tolerance;
  rule.tolerance = tolerance.value_or(0.3);
  rule.because = section.need_text("because").value_or("");
  rule.source = section.need_text("source").value_or("");
  rule.caution = section.find_text("caution").value_or("");
  if (const YamlNode* when = section.find("when")) {
    rule.when = read_conditions(*when, section.path_to("when"), source);
  }
  section.finish();
  if (!ok) return std::nullopt;
  rule.range = std::move(*range);
  return rule;
}

}  // namespace

void read_rules(const YamlNode& map, const Source& source, std::vector<Rule>& rules) {
  Section section(map, "", source);
  const auto group = section.need_text("group");
  const YamlNode* list = section.need("rules");
  section.finish();
  if (list == nullptr || !expect_kind(*list, YamlNode::Kind::list, "rules", source)) return;
  for (size_t i = 0; i < list->children.size(); ++i) {
    const YamlNode& item = list->children[i];
    auto rule = read_rule(item, "rules[" + std::to_string(i + 1) + "]", source);
    if (!rule) continue;
    rule->group = group.value_or("");
    const bool known = std::any_of(
        rules.begin(), rules.end(), [&rule](const Rule& r) { return r.name == rule->name; });
    if (known) {
      source.complain(item.place,
                      "rules[" + std::to_string(i + 1) + "]",
                      "there is a rule of this name already: " + rule->name);
      continue;
    }
    rules.push_back(std::move(*rule));
  }
}

}  // namespace easewright
