#include "cli/read/axis.h"

#include "cli/read/entry.h"
#include "cli/read/style.h"
#include "cli/read/wish.h"
#include "model/rules/expression_evaluate.h"

namespace easewright {
namespace {

bool is_plain(const std::optional<Expression>& side) { return !side || side->names().empty(); }

std::optional<double> amount(const std::optional<Expression>& side) {
  return side ? std::optional(side->evaluate(Facts<double>{})) : std::nullopt;
}

}  // namespace

std::optional<AxisWords> read_axis(const std::string& text, const Source& source) {
  const YamlNode entry = as_entry(text, is_value_name);
  // Without a known name the whole text is one, so that the complaint shows what was typed.
  if (!is_value_name(entry.key)) {
    const bool ranged = text.find_first_of("0123456789") != std::string::npos;
    value_named(ranged ? entry.key : text, {}, ranged ? entry.key : text, source);
    return std::nullopt;
  }
  AxisWords axis{entry.key, {}, {}};
  if (entry.text.empty()) return axis;
  const auto range = read_wish(entry, entry.key, source);
  if (!range) return std::nullopt;
  const bool is = range->lo && range->hi && range->lo->text() == range->hi->text();
  if (is || !is_plain(range->lo) || !is_plain(range->hi)) {
    source.complain(
        {}, entry.key, "a range is wanted: '4 to 20 cm', 'at least 4 cm' or 'at most 20 cm'");
    return std::nullopt;
  }
  axis.from = amount(range->lo);
  axis.to = amount(range->hi);
  return axis;
}

}  // namespace easewright
