#include "cli/read/faults.h"

#include "cli/read/switches.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

namespace easewright {
namespace {

/// The expression of `reads`: of any dimension, but it has to say something about the garment.
std::optional<Expression> read_expression(Section& section) {
  const YamlNode* node = section.need("reads");
  if (node == nullptr) return std::nullopt;
  const std::string path = section.path_to("reads");
  const auto text = text_of(*node, path, section.source());
  if (!text) return std::nullopt;
  ExpressionError error;
  auto expression = Expression::parse(*text, &error);
  if (!expression) {
    section.source().complain(node->inside(error.column), path, error.message);
  } else if (expression->is_given()) {
    section.source().complain(
        node->place, path, "names no draft value and no measure of the garment");
    return std::nullopt;
  }
  return expression;
}

std::optional<double> read_error(Section& section, Dimension dimension) {
  const YamlNode* node = section.need("error");
  if (node == nullptr) return std::nullopt;
  const auto error = quantity_of(*node, section.path_to("error"), section.source(), dimension);
  if (!error || *error > 0) return error;
  section.source().complain(node->place, section.path_to("error"), "has to be above 0");
  return std::nullopt;
}

/// Up to where nobody minds: nothing where it is not said, no limit where it says 'any'.
std::optional<double> read_fine(Section& section, Dimension dimension) {
  const YamlNode* node = section.find("fine");
  if (node == nullptr) return 0;
  if (node->kind == YamlNode::Kind::text && node->text == "any")
    return std::numeric_limits<double>::infinity();
  const auto fine = quantity_of(*node, section.path_to("fine"), section.source(), dimension);
  if (!fine || *fine >= 0) return fine;
  section.source().complain(node->place, section.path_to("fine"), "is below 0");
  return std::nullopt;
}

/// How much of what the hem was cut higher at either centre the fault reads less.
HemLevel read_hem(const YamlNode& map, const Section& of) {
  constexpr double kMost = 2;
  Section section(map, of.path_to("hem"), of.source());
  const auto share = [&](std::string_view key) {
    const YamlNode* node = section.find(key);
    if (node == nullptr) return 0.0;
    const auto value = quantity_of(*node, section.path_to(key), section.source(), kRatio);
    if (value && std::abs(*value) <= kMost) return *value;
    if (value)
      section.source().complain(node->place,
                                section.path_to(key),
                                fmt::format("{:g} is outside {:g} to {:g}", *value, -kMost, kMost));
    return 0.0;
  };
  HemLevel hem;
  hem.front = share("front"), hem.back = share("back");
  section.finish();
  return hem;
}

std::optional<FaultKind> read_fault_kind(const YamlNode& map,
                                         std::string path,
                                         const Source& source) {
  Section section(map, std::move(path), source);
  FaultKind fault;
  fault.name = section.need_text("fault").value_or("");
  fault.how = section.need_text("how").value_or("");
  auto reads = read_expression(section);
  const auto error = reads ? read_error(section, reads->dimension()) : std::nullopt;
  const auto fine = reads ? read_fine(section, reads->dimension()) : std::nullopt;
  if (const YamlNode* when = section.find("when"))
    fault.when = read_conditions(*when, section.path_to("when"), source);
  fault.source = section.need_text("source").value_or("");
  if (const YamlNode* hem = section.find("hem")) fault.hem = read_hem(*hem, section);
  section.finish();
  if (fault.name.empty() || fault.how.empty() || fault.source.empty() || !reads || !error || !fine)
    return std::nullopt;
  fault.reads = std::move(*reads);
  fault.error = *error;
  fault.fine = *fine;
  return fault;
}

}  // namespace

void read_fault_kinds(const YamlNode& map, const Source& source, std::vector<FaultKind>& faults) {
  Section section(map, "", source);
  section.need_text("group");
  const YamlNode* list = section.need("faults");
  section.finish();
  if (list == nullptr || !expect_kind(*list, YamlNode::Kind::list, "faults", source)) return;
  for (size_t i = 0; i < list->children.size(); ++i) {
    const YamlNode& item = list->children[i];
    const std::string path = fmt::format("faults[{}]", i + 1);
    auto fault = read_fault_kind(item, path, source);
    if (!fault) continue;
    const bool known = std::any_of(faults.begin(), faults.end(), [&fault](const FaultKind& f) {
      return f.name == fault->name;
    });
    if (known) {
      source.complain(item.place, path, "there is a fault of this name already: " + fault->name);
    } else {
      faults.push_back(std::move(*fault));
    }
  }
}

}  // namespace easewright
