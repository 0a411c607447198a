#include "cli/read/utf8.h"

namespace easewright {
namespace {

/// Length of the UTF-8 sequence at `at`, or 0 when it is none (overlong forms and surrogates
/// included).
size_t utf8_length(std::string_view text, size_t at) {
  const auto byte = [&](size_t i) {
    return static_cast<unsigned char>(i < text.size() ? text[i] : 0);
  };
  const unsigned first = byte(at);
  const auto follows = [&](size_t i, unsigned least = 0x80, unsigned most = 0xBF) {
    return byte(at + i) >= least && byte(at + i) <= most;
  };
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first <= 0xDF) return follows(1) ? 2 : 0;
  if (first >= 0xE0 && first <= 0xEF) {
    const bool second = follows(1, first == 0xE0 ? 0xA0 : 0x80, first == 0xED ? 0x9F : 0xBF);
    return second && follows(2) ? 3 : 0;
  }
  if (first >= 0xF0 && first <= 0xF4) {
    const bool second = follows(1, first == 0xF0 ? 0x90 : 0x80, first == 0xF4 ? 0x8F : 0xBF);
    return second && follows(2) && follows(3) ? 4 : 0;
  }
  return 0;
}

/// C0 but tab and line ends, DEL, and C1 (two bytes, C2 80 to C2 9F).
bool is_control(std::string_view text, size_t at, size_t length) {
  const auto first = static_cast<unsigned char>(text[at]);
  if (length == 1)
    return (first < 0x20 && first != '\t' && first != '\n' && first != '\r') || first == 0x7F;
  return length == 2 && first == 0xC2 && static_cast<unsigned char>(text[at + 1]) < 0xA0;
}

}  // namespace

size_t first_bad_byte(std::string_view text) {
  for (size_t at = 0; at < text.size();) {
    const size_t length = utf8_length(text, at);
    if (length == 0 || is_control(text, at, length)) return at;
    at += length;
  }
  return std::string_view::npos;
}

}  // namespace easewright
