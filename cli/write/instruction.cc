#include "cli/write/instruction.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

/// '2.5 cm' in the reader's unit; a word as it stands.
std::string fixed_length(std::string_view text, const Notation& notation) {
  double cm = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), cm);
  const bool is_length =
      error == std::errc() && text.substr(static_cast<size_t>(end - text.data())) == " cm";
  return is_length ? write_quantity(cm, kLength, notation) : std::string(text);
}

}  // namespace

std::string write_instruction(std::string_view words,
                              double amount,
                              Dimension dimension,
                              const Notation& notation) {
  const auto quantity = [&](double times) {
    return write_quantity(times * amount, dimension, notation);
  };
  std::string text;
  while (!words.empty()) {
    const size_t open = std::min(words.find('{'), words.size());
    const size_t close = std::min(words.find('}', open), words.size());
    text += words.substr(0, open);
    if (close == words.size()) return text + std::string(words.substr(open));
    const std::string_view blank = words.substr(open + 1, close - open - 1);
    text += blank == "amount"       ? quantity(1)
            : blank == "half"       ? quantity(0.5)
            : blank == "twice"      ? quantity(2)
            : blank == "four times" ? quantity(4)
                                    : fixed_length(blank, notation);
    words.remove_prefix(close + 1);
  }
  return text;
}

std::string write_minutes(double minutes) {
  const long step = minutes < 30 ? 1 : 5;
  const long rounded = step * std::lround(minutes / static_cast<double>(step));
  if (rounded < 60) return fmt::format("{} min", rounded);
  if (rounded % 60 == 0) return fmt::format("{} h", rounded / 60);
  return fmt::format("{} h {} min", rounded / 60, rounded % 60);
}

}  // namespace easewright
