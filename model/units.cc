#include "model/units.h"

#include <algorithm>

namespace easewright {

std::string to_string(Dimension d) {
  std::string text;
  const auto add = [&text](const char* word, int power) {
    if (power == 0) return;
    if (!text.empty()) text += " ";
    text += word;
    if (power != 1) text += "^" + std::to_string(power);
  };
  add("length", d.length);
  add("angle", d.angle);
  add("time", d.time);
  return text.empty() ? "ratio" : text;
}

std::string spoken(std::string_view id) {
  std::string text(id);
  std::replace_if(
      text.begin(), text.end(), [](char c) { return c == '.' || c == '_'; }, ' ');
  return text;
}

}  // namespace easewright
