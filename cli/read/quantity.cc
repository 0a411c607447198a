#include "cli/read/quantity.h"

#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

struct Unit {
  std::string_view word;
  Dimension dimension;
  double factor;  ///< to inside units
};

constexpr std::array<Unit, 14> kUnits = {{
    {"cm", kLength, 1},
    {"mm", kLength, 0.1},
    {"m", kLength, 100},
    {"in", kLength, kCmPerInch},
    {"inch", kLength, kCmPerInch},
    {"inches", kLength, kCmPerInch},
    {"\"", kLength, kCmPerInch},
    {"ft", kLength, 12 * kCmPerInch},
    {"deg", kAngle, kPi / 180},
    {"\u00b0", kAngle, kPi / 180},
    {"%", kRatio, 0.01},
    {"years", kTime, 1},
    {"year", kTime, 1},
    {"y", kTime, 1},
}};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

void skip_blanks(std::string_view& text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
}

/// Reads '12', '12.5', '.5'. No sign, no exponent, no 'inf'.
std::optional<double> take_decimal(std::string_view& text) {
  size_t n = 0;
  size_t digits = 0;
  bool point = false;
  while (n < text.size() && (is_digit(text[n]) || (text[n] == '.' && !point))) {
    if (text[n] == '.') {
      point = true;
    } else {
      ++digits;
    }
    ++n;
  }
  if (digits == 0) return std::nullopt;
  double value = 0;
  const auto [end, error] =
      std::from_chars(text.data(), text.data() + n, value, std::chars_format::fixed);
  if (error != std::errc() || end != text.data() + n || !std::isfinite(value)) return std::nullopt;
  text.remove_prefix(n);
  return value;
}

std::optional<double> take_fraction_bar(std::string_view& text) {
  if (text.empty() || text.front() != '/') return std::nullopt;
  text.remove_prefix(1);
  const auto below = take_decimal(text);
  return below && *below > 0 ? below : std::nullopt;
}

/// '12', '5/8', '13 5/8', '13-5/8'.
std::optional<double> take_number(std::string_view& text) {
  const auto whole = take_decimal(text);
  if (!whole) return std::nullopt;
  if (!text.empty() && text.front() == '/') {
    const auto below = take_fraction_bar(text);
    return below ? std::optional(*whole / *below) : std::nullopt;
  }
  std::string_view rest = text;
  if (!rest.empty() && (rest.front() == ' ' || rest.front() == '-')) {
    rest.remove_prefix(1);
    skip_blanks(rest);
    const auto above = take_decimal(rest);
    const auto below = above ? take_fraction_bar(rest) : std::nullopt;
    if (below) {
      text = rest;
      return *whole + *above / *below;
    }
  }
  return whole;
}

std::string_view take_unit(std::string_view& text) {
  size_t n = 0;
  while (n < text.size() && text[n] != ' ' && !is_digit(text[n])) ++n;
  const std::string_view word = text.substr(0, n);
  text.remove_prefix(n);
  return word;
}

const Unit* find_unit(std::string_view word) {
  for (const Unit& unit : kUnits) {
    if (unit.word == word) return &unit;
  }
  return nullptr;
}

std::string_view units_wanted(Dimension d) {
  return d == kLength  ? "cm, mm, m or in"
         : d == kAngle ? "deg"
         : d == kTime  ? "years"
                       : "% or no unit";
}

std::string_view first_unit(Dimension d) {
  return d == kLength ? " cm" : d == kAngle ? " deg" : d == kTime ? " years" : "";
}

std::string_view dimension_word(Dimension d) {
  return d == kLength ? "a length" : d == kAngle ? "an angle" : d == kTime ? "an age" : "a ratio";
}

std::string no_number(std::string_view text, Dimension dimension) {
  std::string shown(text.substr(0, 40));
  const size_t comma = text.find(',');
  if (comma != std::string_view::npos && comma > 0 && is_digit(text[comma - 1])) {
    std::string fixed = shown;
    fixed.replace(comma < fixed.size() ? comma : 0, 1, ".");
    return fmt::format("'{}' is no number (write '{}', with a point)", shown, fixed);
  }
  return fmt::format("'{}' is not {} (write it like '{}')",
                     shown,
                     dimension_word(dimension),
                     example_of(dimension));
}

/// A number and its unit. Nothing after setting `why`.
std::optional<double> take_term(std::string_view& text,
                                Dimension dimension,
                                std::string_view whole,
                                std::string& why) {
  const auto number = take_number(text);
  if (!number) {
    why = no_number(whole, dimension);
    return std::nullopt;
  }
  const std::string_view written = whole.substr(0, whole.size() - text.size());
  skip_blanks(text);
  const std::string_view word = take_unit(text);
  if (word.empty()) {
    if (dimension == kRatio) return number;
    why = fmt::format("{} has no unit (write '{}{}'; known are {})",
                      written,
                      written,
                      first_unit(dimension),
                      units_wanted(dimension));
    return std::nullopt;
  }
  const Unit* unit = find_unit(word);
  if (unit == nullptr) {
    const bool comma = word.front() == ',';
    why = comma ? no_number(whole, dimension)
                : fmt::format("'{}' is no unit; {} is written in {}",
                              word,
                              dimension_word(dimension),
                              units_wanted(dimension));
    return std::nullopt;
  }
  if (unit->dimension != dimension) {
    why = fmt::format("'{}' is {}; {} is wanted ({})",
                      whole.substr(0, 40),
                      dimension_word(unit->dimension),
                      dimension_word(dimension),
                      units_wanted(dimension));
    return std::nullopt;
  }
  return *number * unit->factor;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

}  // namespace

std::optional<double> parse_quantity(std::string_view text, Dimension dimension, std::string& why) {
  const std::string_view whole = trimmed(text);
  std::string_view rest = whole;
  const bool negative = !rest.empty() && rest.front() == '-';
  if (negative) rest.remove_prefix(1);
  auto value = take_term(rest, dimension, whole, why);
  if (!value) return std::nullopt;
  skip_blanks(rest);
  // Feet are followed by inches: '5 ft 4 in'.
  const bool feet = whole.size() - rest.size() >= 2 &&
                    trimmed(whole.substr(0, whole.size() - rest.size())).ends_with("ft");
  if (feet && !rest.empty()) {
    const auto inches = take_term(rest, dimension, whole, why);
    if (!inches) return std::nullopt;
    *value += *inches;
    skip_blanks(rest);
  }
  if (!rest.empty()) {
    why = fmt::format(
        "'{}' goes on after the quantity: '{}'", whole.substr(0, 40), rest.substr(0, 20));
    return std::nullopt;
  }
  const double most = kMostQuantity * (dimension == kAngle ? kPi / 180 : 1);
  if (!(std::abs(*value) <= most)) {
    why = fmt::format("'{}' is out of all proportion", whole.substr(0, 40));
    return std::nullopt;
  }
  return negative ? -*value : *value;
}

std::optional<MeasuredQuantity> parse_measured(std::string_view text,
                                               Dimension dimension,
                                               std::string& why) {
  size_t sign = text.find("+-");
  size_t length = 2;
  if (const size_t unicode = text.find("\u00b1"); unicode < sign)
    sign = unicode;  // two bytes as well
  const auto value = parse_quantity(text.substr(0, sign), dimension, why);
  if (!value) return std::nullopt;
  if (sign == std::string_view::npos) return MeasuredQuantity{*value, std::nullopt};
  const auto sd = parse_quantity(text.substr(sign + length), dimension, why);
  if (!sd) {
    why = "the error after '+-': " + why;
    return std::nullopt;
  }
  if (!(*sd > 0)) {
    why = "the error after '+-' has to be above 0";
    return std::nullopt;
  }
  return MeasuredQuantity{*value, *sd};
}

std::string example_of(Dimension dimension) { return "12.5" + std::string(first_unit(dimension)); }

bool is_bare_number(std::string_view text) {
  text = trimmed(text);
  if (!text.empty() && text.front() == '-') text.remove_prefix(1);
  return take_number(text).has_value() && text.empty();
}

}  // namespace easewright
