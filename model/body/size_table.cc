#include "model/body/size_table.h"

#include "model/body/cells.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

std::optional<Build> build_named(std::string_view name) {
  if (name == "woman") return Build::woman;
  if (name == "man") return Build::man;
  if (name == "child") return Build::child;
  return std::nullopt;
}

}  // namespace

std::optional<double> SizeTable::value(std::string_view row, std::string_view size) const {
  const auto r =
      std::find_if(rows.begin(), rows.end(), [&](const SizeRow& one) { return one.name == row; });
  const auto s = std::find(sizes.begin(), sizes.end(), size);
  if (r == rows.end() || s == sizes.end()) return std::nullopt;
  return r->values[static_cast<size_t>(s - sizes.begin())];
}

std::optional<SizeTable> parse_size_table(std::string_view text, std::string* error) {
  SizeTable table;
  double cm_per_unit = 1;
  int line_number = 0;
  const auto fail = [&](std::string_view why) {
    if (error) *error = fmt::format("line {}: {}", line_number, why);
    return std::nullopt;
  };
  while (!text.empty()) {
    const size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    ++line_number;
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    if (line.empty() || line.front() == '#') continue;
    const auto cells = split(line);
    if (cells[0] == "name" && cells.size() == 2) {
      table.name = std::string(cells[1]);
    } else if (cells[0] == "build") {
      const auto build = build_named(cells.size() == 2 ? cells[1] : std::string_view{});
      if (!build) return fail("build is woman, man or child");
      table.build = *build;
    } else if (cells[0] == "unit") {
      if (cells.size() != 2 || (cells[1] != "in" && cells[1] != "cm"))
        return fail("unit is in or cm");
      cm_per_unit = cells[1] == "in" ? kCmPerInch : 1;
    } else if (cells[0] == "size") {
      if (!table.sizes.empty() || cells.size() < 2) return fail("one line of sizes is expected");
      table.sizes.assign(cells.begin() + 1, cells.end());
    } else {
      if (cells.size() != table.sizes.size() + 1)
        return fail(
            fmt::format("'{}' needs one value for each of {} sizes", cells[0], table.sizes.size()));
      const auto key = find_body_key(cells[0]);
      const bool angle = key && info(*key).dimension == kAngle;
      SizeRow row{.name = std::string(cells[0]), .values = {}};
      for (size_t i = 1; i < cells.size(); ++i) {
        const auto value = number(cells[i]);
        if (!value) return fail(fmt::format("'{}' is no number", cells[i]));
        row.values.push_back(angle ? radians(*value) : *value * cm_per_unit);
      }
      table.rows.push_back(std::move(row));
    }
  }
  if (table.rows.empty()) return fail("the text holds no measure");
  return table;
}

std::optional<Body> size_body(const SizeTable& table, std::string_view size) {
  const auto at = std::find(table.sizes.begin(), table.sizes.end(), size);
  if (at == table.sizes.end()) return std::nullopt;
  const auto column = static_cast<size_t>(at - table.sizes.begin());
  Body body;
  body.label = table.name + " " + std::string(size);
  body.build = table.build;
  body.waist_level = WaistLevel::iso;
  body.slope_reading = SlopeReading::silhouette;
  for (const SizeRow& row : table.rows) {
    const auto key = find_body_key(row.name);
    if (!key) continue;
    const size_t other = column + 1 < row.values.size() ? column + 1
                         : column > 0                   ? column - 1
                                                        : column;
    const double half_step = 0.5 * std::abs(row.values[other] - row.values[column]);
    body[*key] =
        BodyValue{.value = row.values[column], .sd = std::max(info(*key).default_sd, half_step)};
  }
  return body;
}

}  // namespace easewright
