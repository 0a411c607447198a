#include "cli/write/page.h"

#include <algorithm>
#include <cstdlib>
#include <string>

#include <sys/ioctl.h>
#include <unistd.h>

namespace easewright {
namespace {

/// However long a lead is, so many columns are left for the text beside it.
constexpr size_t kLeastText = 24;

/// Bytes of the longest start of `text` that takes at most `most` columns.
size_t bytes_of(std::string_view text, size_t most) {
  size_t at = 0, seen = 0;
  while (at < text.size()) {
    size_t next = at + 1;
    while (next < text.size() && (static_cast<unsigned char>(text[next]) & 0xC0) == 0x80) ++next;
    if (++seen > most) break;
    at = next;
  }
  return at;
}

/// Bytes of `text` that go on one line of `width` columns: up to the last blank that fits, or cut
/// within a long word.
size_t line_bytes(std::string_view text, size_t width) {
  const size_t fits = bytes_of(text, width);
  if (fits == text.size() || text[fits] == ' ') return fits;
  const size_t blank = text.substr(0, fits).find_last_of(' ');
  return blank == std::string_view::npos || blank == 0 ? std::max<size_t>(fits, 1) : blank;
}

}  // namespace

Colour colour_of_terminal(int descriptor) {
  const char* none = std::getenv("NO_COLOR");
  const char* terminal = std::getenv("TERM");
  const bool wanted = (none == nullptr || *none == '\0') && terminal != nullptr &&
                      std::string_view(terminal) != "dumb";
  return wanted && isatty(descriptor) != 0 ? Colour::on : Colour::off;
}

size_t width_of_terminal(int descriptor) {
  winsize size{};
  const bool known =
      isatty(descriptor) != 0 && ::ioctl(descriptor, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
  return known ? std::max<size_t>(size.ws_col, kLeastColumns) : kColumns;
}

size_t columns(std::string_view text) {
  return static_cast<size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

std::string Page::toned(std::string_view text, Tone tone) const {
  if (colour_ == Colour::off || tone == Tone::plain || text.empty()) return std::string(text);
  const char* code = tone == Tone::good    ? "\033[1;32m"
                     : tone == Tone::bad   ? "\033[1;31m"
                     : tone == Tone::faint ? "\033[2m"
                                           : "\033[1m";
  return code + std::string(text) + "\033[0m";
}

void Page::paragraph(std::string_view lead, std::string_view text, Tone lead_tone) {
  const size_t indent = std::min(columns(lead), width_ - std::min(width_, kLeastText));
  text_ += toned(lead, lead_tone);
  bool first = true;
  do {
    const size_t count = line_bytes(text, width_ - indent);
    if (!first) text_.append(indent, ' ');
    first = false;
    text_ += text.substr(0, count);
    while (!text_.empty() && text_.back() == ' ') text_.pop_back();
    text_ += '\n';
    text.remove_prefix(count);
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  } while (!text.empty());
}

void Page::line(std::string_view text, Tone tone) {
  if (columns(text) > width_) {
    text_ += toned(std::string(text.substr(0, bytes_of(text, width_ - 3))) + "...", tone) + "\n";
  } else {
    text_ += toned(text, tone) + "\n";
  }
}

void Page::gap() { text_ += '\n'; }

}  // namespace easewright
