#include "model/body/cells.h"

#include <charconv>
#include <cmath>

namespace easewright {
namespace {

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '"')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '"' || s.back() == '\r')) s.remove_suffix(1);
  return s;
}

}  // namespace

std::vector<std::string_view> split(std::string_view line) {
  std::vector<std::string_view> cells;
  while (true) {
    const size_t comma = line.find(',');
    cells.push_back(trimmed(line.substr(0, comma)));
    if (comma == std::string_view::npos) return cells;
    line.remove_prefix(comma + 1);
  }
}

std::optional<double> number(std::string_view cell) {
  double value = 0;
  const auto [end, failure] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (failure != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

}  // namespace easewright
