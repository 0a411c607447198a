#include "cli/commands/list.h"

#include "cli/commands/list_alter.h"
#include "cli/commands/load.h"
#include "cli/read/catalogue.h"
#include "cli/read/cloth.h"
#include "cli/read/data_folder.h"
#include "cli/read/style.h"
#include "cli/write/page.h"
#include "cli/write/quantity.h"
#include "cli/write/words.h"

#include <array>
#include <cstdio>
#include <functional>
#include <utility>

#include <fmt/format.h>
#include <unistd.h>

namespace easewright {
namespace {

constexpr const char* kIndent = "    ";

void list_rules(Page& page, Complaints& complaints) {
  const auto catalogue = read_catalogue(data_folder(), complaints);
  if (!catalogue) return;
  std::string group;
  for (const Rule& rule : catalogue->rules) {
    if (rule.group != group) {
      if (!group.empty()) page.gap();
      group = rule.group;
      page.line(group, Tone::bold);
    }
    page.paragraph(fmt::format("  {:<7} ", to_string(rule.strength)), rule.name);
    page.paragraph("          ", rule.range.text);
    page.paragraph("          ", fmt::format("because {} [{}]", rule.because, rule.source));
  }
}

std::string unit_of(Dimension d) {
  const std::string word = unit_word(d, {});
  return word.empty() ? "ratio" : word;
}

void list_measures(Page& page, Complaints&) {
  for (int i = 0; i < kMeasureKeys; ++i) {
    const MeasureInfo& measure = info(static_cast<MeasureKey>(i));
    list_entry(page, spoken(measure.id), unit_of(measure.dimension), measure.definition);
  }
}

void list_values(Page& page, Complaints& complaints) {
  const auto catalogue = read_catalogue(data_folder(), complaints);
  if (!catalogue) return;
  for (int i = 0; i < kValueKeys; ++i) {
    const ValueInfo& value = info(static_cast<ValueKey>(i));
    const ValueDefault& standard = catalogue->values[static_cast<size_t>(i)];
    list_entry(page, spoken(value.id), unit_of(value.dimension), value.definition);
    page.paragraph(kIndent,
                   fmt::format("habit {}, from {} to {}",
                               standard.habit.text(),
                               standard.least.text(),
                               standard.most.text()));
  }
}

/// Every file of a room of the data folder, read by `read` and listed.
void list_files(Page& page,
                Complaints& complaints,
                const std::string& room,
                const std::function<std::pair<std::string, std::string>(const YamlNode&,
                                                                        const Source&)>& read) {
  for (const std::string& file : yaml_files(data_folder() + "/" + room)) {
    const auto map = load_yaml(file, complaints, {file, {}, ""});
    if (!map) continue;
    const auto [name, about] = read(*map, {file, complaints});
    list_entry(page, name, "", about);
  }
}

void list_styles(Page& page, Complaints& complaints) {
  list_files(page, complaints, "styles", [](const YamlNode& map, const Source& source) {
    const Style style = read_style(map, "", source);
    return std::pair(style.label, style.description);
  });
}

void list_cloths(Page& page, Complaints& complaints) {
  list_files(page, complaints, "cloths", [](const YamlNode& map, const Source& source) {
    const Cloth cloth = read_cloth(map, "", source);
    std::string about = write_quantity(cloth.width, kLength, {}) + " wide, bias growth " +
                        write_quantity(cloth.bias_growth, kRatio, {.ratio = RatioStyle::percent}) +
                        ", stretch " +
                        write_quantity(cloth.stretch, kRatio, {.ratio = RatioStyle::percent});
    return std::pair(cloth.label, std::move(about));
  });
}

void list_switches(Page& page, Complaints&) {
  for (int i = 0; i < kSwitches; ++i) {
    const SwitchInfo& which = info(static_cast<Switch>(i));
    std::string options;
    for (const std::string& option : which.options)
      options += (options.empty() ? "" : ", ") + option;
    list_entry(page, spoken(which.id), options, which.definition);
  }
}

void list_body(Page& page, Complaints&) {
  for (int i = 0; i < kBodyKeys; ++i) {
    const BodyMeasureInfo& measure = info(static_cast<BodyKey>(i));
    const Dimension d = measure.dimension;
    // Limits inside are radians; the tape's error is 1 s.d.
    list_entry(page,
               spoken(measure.id),
               write_range(measure.least, measure.most, d, {}),
               measure.definition);
  }
}

using List = void (*)(Page&, Complaints&);
constexpr std::array<std::pair<std::string_view, List>, 11> kLists = {{
    {"rules", list_rules},
    {"measures", list_measures},
    {"values", list_values},
    {"styles", list_styles},
    {"cloths", list_cloths},
    {"switches", list_switches},
    {"body", list_body},
    {"moves", list_moves},
    {"changes", list_changes},
    {"faults", list_faults},
    {"flat", list_flat},
}};

}  // namespace

int run_list(const Options& options) {
  Page page(colour_of_terminal(STDOUT_FILENO));
  Complaints complaints;
  for (const auto& [name, list] : kLists) {
    if (name == options.listed) list(page, complaints);
  }
  if (!complaints.empty()) return refuse(complaints);
  return deliver({}, page.text(), kAllHolds);
}

}  // namespace easewright
