#include "cli/write/map.h"

#include "cli/write/json_parts.h"
#include "cli/write/quantity.h"
#include "cli/write/report.h"
#include "cli/write/words.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Cell;

constexpr std::string_view kLetters = "abcdefghijklmnopqrstuvwxyz0123456789";
constexpr char kHolds = '.', kUnreached = '?', kRest = '*', kHere = '@';

/// Characters are about twice as high as wide: so many lines show a square map square, and fit a
/// screen.
constexpr int kMostLines = 24;

int rule_of(const ValueMap& map, const Cell& cell) {
  return cell.missed < 0 ? -1 : map.rule_of_output[static_cast<size_t>(cell.missed)];
}

/// The cell that stands for place k of `shown` among `count`.
int sampled(int k, int shown, int count) {
  if (shown >= count || shown < 2) return std::min(k, count - 1);
  return static_cast<int>(std::lround(static_cast<double>(k) * (count - 1) / (shown - 1)));
}

double at(const MapAxis& axis, int k, int count) {
  return count < 2 ? axis.from : axis.from + (axis.to - axis.from) * k / (count - 1);
}

std::string axis_number(double value, const MapAxis& axis, LengthUnit unit) {
  return write_number(value, info(axis.value).dimension, {unit});
}

/// The place among `shown` nearest the fit; -1 when it lies outside.
int here(const MapAxis& axis, const FitResult& result, int shown) {
  const double share = along(axis, result);
  return share < 0 || share > 1 ? -1 : static_cast<int>(std::lround(share * (shown - 1)));
}

/// The grid with the axis on its left: the upper values first.
void write_grid(
    Page& page, const Judged& judged, const ValueMap& map, const MapKey& key, size_t width) {
  const LengthUnit unit = judged.job->unit;
  const std::string top = axis_number(map.down.to, map.down, unit),
                    bottom = axis_number(map.down.from, map.down, unit);
  const size_t margin = std::max(top.size(), bottom.size());
  const int shown = std::min(map.map.across, static_cast<int>(width - margin) - 3);
  const int lines = std::min(map.map.down, kMostLines);
  const int here_across = here(map.across, judged.result, shown),
            here_up = here(map.down, judged.result, lines);
  page.line(axis_name(map.down, unit), Tone::bold);
  for (int line = lines - 1; line >= 0; --line) {
    const std::string& label = line == lines - 1 ? top : line == 0 ? bottom : std::string();
    std::string text = fmt::format("{:>{}} |", label, margin);
    for (int k = 0; k < shown; ++k) {
      const bool is_here = k == here_across && line == here_up;
      const Cell& cell =
          map.map.at(sampled(k, shown, map.map.across), sampled(line, lines, map.map.down));
      text += is_here ? kHere : key.letter_of(map, cell);
    }
    page.line(text);
  }
  const std::string left = axis_number(map.across.from, map.across, unit),
                    right = axis_number(map.across.to, map.across, unit);
  page.line(std::string(margin + 1, ' ') + "+" + std::string(static_cast<size_t>(shown), '-'));
  const std::string name = axis_name(map.across, unit);
  const std::string lead(margin + 2, ' ');
  const auto room = static_cast<size_t>(shown);
  if (left.size() + name.size() + right.size() + 4 <= room) {
    page.line(
        lead + fmt::format("{}{:^{}}{}", left, name, room - left.size() - right.size(), right),
        Tone::bold);
  } else {
    const size_t gap = std::max(room, left.size() + right.size() + 1) - left.size() - right.size();
    page.line(lead + left + std::string(gap, ' ') + right, Tone::bold);
    page.paragraph(lead, name);
  }
}

void write_legend(Page& page, const Judged& judged, const ValueMap& map, const MapKey& key) {
  const LengthUnit unit = judged.job->unit;
  const FitResult& result = judged.result;
  const auto now = [&](const MapAxis& axis) {
    return spoken(info(axis.value).id) + " " +
           write_quantity(result.values[axis.value], info(axis.value).dimension, {unit});
  };
  const bool shown = here(map.across, result, 2) >= 0 && here(map.down, result, 2) >= 0;
  page.paragraph(
      fmt::format(" {}  ", kHere),
      fmt::format(
          "the fit{}: {}, {}", shown ? "" : " lies outside", now(map.across), now(map.down)));
  const auto share = [&map](long cells) {
    const double percent =
        100.0 * static_cast<double>(cells) / static_cast<double>(map.map.cells.size());
    return cells > 0 && percent < 1 ? std::string("under 1 %") : fmt::format("{:.0f} %", percent);
  };
  page.paragraph(fmt::format(" {}  ", kHolds), fmt::format("all holds ({})", share(key.holds)));
  for (const MapKey::Entry& entry : key.entries) {
    if (entry.rule < 0) {
      page.paragraph(fmt::format(" {}  ", entry.letter),
                     fmt::format("other rules missed ({})", share(entry.cells)));
      continue;
    }
    const PosedRule& rule = result.posed->rules[static_cast<size_t>(entry.rule)];
    page.paragraph(
        fmt::format(" {}  ", entry.letter),
        fmt::format("{} missed: {} ({})", to_string(rule.strength), rule.name, share(entry.cells)));
  }
  if (key.unreached > 0)
    page.paragraph(fmt::format(" {}  ", kUnreached), "can't be computed there");
}

}  // namespace

char MapKey::letter_of(const ValueMap& map, const Cell& cell) const {
  if (!cell.reached) return kUnreached;
  if (cell.holds) return kHolds;
  const int rule = rule_of(map, cell);
  const auto found = std::find_if(
      entries.begin(), entries.end(), [rule](const Entry& e) { return e.rule == rule; });
  return found == entries.end() ? kRest : found->letter;
}

MapKey key_of(const ValueMap& map, const FitResult& result) {
  MapKey key;
  std::map<int, long> counts;
  for (const Cell& cell : map.map.cells) {
    if (!cell.reached) {
      ++key.unreached;
    } else if (cell.holds) {
      ++key.holds;
    } else {
      ++counts[rule_of(map, cell)];
    }
  }
  for (const auto& [rule, cells] : counts) key.entries.push_back({kRest, rule, cells});
  std::stable_sort(key.entries.begin(), key.entries.end(), [](const auto& a, const auto& b) {
    return a.cells > b.cells;
  });
  MapKey::Entry rest{kRest, -1, 0};
  size_t next = 0;
  for (MapKey::Entry& entry : key.entries) {
    if (entry.rule < 0 || next == kLetters.size()) {
      rest.cells += entry.cells;
      continue;
    }
    entry.letter = kLetters[next++];
    const bool must =
        result.posed->rules[static_cast<size_t>(entry.rule)].strength == solver::Level::must;
    if (must && entry.letter >= 'a') entry.letter = static_cast<char>(entry.letter - 'a' + 'A');
  }
  std::erase_if(key.entries, [](const MapKey::Entry& e) { return e.letter == kRest; });
  if (rest.cells > 0) key.entries.push_back(rest);
  return key;
}

std::string axis_name(const MapAxis& axis, LengthUnit unit) {
  const std::string word = unit_word(info(axis.value).dimension, {unit});
  return spoken(info(axis.value).id) + (word.empty() ? "" : " (" + word + ")");
}

double along(const MapAxis& axis, const FitResult& result) {
  return (result.values[axis.value] - axis.from) / (axis.to - axis.from);
}

std::string write_map(
    const Judged& judged, const ValueMap& map, const MapKey& key, Colour colour, size_t width) {
  Page page(colour, std::max(width, kLeastColumns));
  page.paragraph("", title_of(judged));
  page.paragraph("",
                 fmt::format("What goes with what: {} by {}. At each point all other values are "
                             "free; wishes about these two "
                             "take no part.",
                             spoken(info(map.across.value).id),
                             spoken(info(map.down.value).id)));
  page.gap();
  write_grid(page, judged, map, key, std::max(width, kLeastColumns));
  page.gap();
  write_legend(page, judged, map, key);
  return page.text();
}

std::string write_map_csv(const Judged& judged, const ValueMap& map) {
  const auto heading = [](const MapAxis& axis) {
    return fmt::format(
        "{} ({})", spoken(info(axis.value).id), unit_name(info(axis.value).dimension));
  };
  const auto outer = [](double value, Dimension d) { return d == kAngle ? degrees(value) : value; };
  std::string text =
      heading(map.across) + "," + heading(map.down) + ",holds,missed first,strength,miss,unit\n";
  for (int row = 0; row < map.map.down; ++row) {
    for (int column = 0; column < map.map.across; ++column) {
      const Cell& cell = map.map.at(column, row);
      text += fmt::format(
          "{:.4f},{:.4f},",
          outer(at(map.across, column, map.map.across), info(map.across.value).dimension),
          outer(at(map.down, row, map.map.down), info(map.down.value).dimension));
      const int rule = rule_of(map, cell);
      if (!cell.reached || cell.holds || rule < 0) {
        text += fmt::format("{},,,,\n", !cell.reached ? "unknown" : cell.holds ? "yes" : "no");
        continue;
      }
      const PosedRule& missed = judged.result.posed->rules[static_cast<size_t>(rule)];
      const Dimension d = missed.expression.dimension();
      std::string name;  // a quote within a quoted field is doubled
      for (const char c : missed.name) name += c == '"' ? "\"\"" : std::string(1, c);
      text += fmt::format("no,\"{}\",{},{:.4f},{}\n",
                          name,
                          to_string(missed.strength),
                          outer(cell.miss, d),
                          unit_name(d));
    }
  }
  return text;
}

std::string write_map_json(const Judged& judged, const ValueMap& map) {
  const auto axis = [&](const MapAxis& a, int count) -> Json {
    const Dimension d = info(a.value).dimension;
    return {{"value", spoken(info(a.value).id)},
            {"unit", unit_name(d)},
            {"from", outside(a.from, d)},
            {"to", outside(a.to, d)},
            {"count", count},
            {"now", outside(judged.result.values[a.value], d)}};
  };
  Json rules = Json::array();
  for (const PosedRule& rule : judged.result.posed->rules) {
    rules.push_back({{"name", rule.name},
                     {"strength", to_string(rule.strength)},
                     {"unit", unit_name(rule.expression.dimension())}});
  }
  Json missed = Json::array(), miss = Json::array();
  for (int row = 0; row < map.map.down; ++row) {
    Json rule_row = Json::array(), miss_row = Json::array();
    for (int column = 0; column < map.map.across; ++column) {
      const Cell& cell = map.map.at(column, row);
      const int rule = rule_of(map, cell);
      const bool told = cell.reached && !cell.holds && rule >= 0;
      rule_row.push_back(!cell.reached ? Json(nullptr) : Json(cell.holds ? -1 : rule));
      const Dimension d =
          told ? judged.result.posed->rules[static_cast<size_t>(rule)].expression.dimension()
               : kRatio;
      miss_row.push_back(!cell.reached ? Json(nullptr) : told ? outside(cell.miss, d) : Json(0));
    }
    missed.push_back(std::move(rule_row));
    miss.push_back(std::move(miss_row));
  }
  return document_of("map",
                     {{"job", heading_of(judged)},
                      {"across", axis(map.across, map.map.across)},
                      {"up", axis(map.down, map.map.down)},
                      {"rules", std::move(rules)},
                      {"missed", std::move(missed)},
                      {"miss", std::move(miss)}});
}

}  // namespace easewright
