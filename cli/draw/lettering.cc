#include "cli/draw/lettering.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <cairo.h>

namespace easewright::draw {
namespace {

/// Width of a text at this size is measured in one place, and scaled from there.
constexpr double kMeasuredAt = 100;

/// A face of the system's sans-serif, without hinting.
class Face {
 public:
  explicit Face(cairo_font_weight_t weight) {
    cairo_font_face_t* face =
        cairo_toy_font_face_create("sans-serif", CAIRO_FONT_SLANT_NORMAL, weight);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_matrix_t size, identity;
    cairo_matrix_init_scale(&size, kMeasuredAt, kMeasuredAt);
    cairo_matrix_init_identity(&identity);
    font_ = cairo_scaled_font_create(face, &size, &identity, options);
    cairo_font_options_destroy(options);
    cairo_font_face_destroy(face);
  }
  ~Face() { cairo_scaled_font_destroy(font_); }
  Face(const Face&) = delete;
  Face& operator=(const Face&) = delete;

  double advance(const std::string& text) const {
    cairo_text_extents_t extents{};
    cairo_scaled_font_text_extents(font_, text.c_str(), &extents);
    return extents.x_advance / kMeasuredAt;
  }

 private:
  cairo_scaled_font_t* font_ = nullptr;
};

/// Bytes of the UTF-8 character at the beginning of `text`; 0 where there is none.
size_t character_bytes(std::string_view text) {
  const auto byte = [&text](size_t i) { return static_cast<unsigned char>(text[i]); };
  const size_t count = byte(0) < 0x80   ? 1
                       : byte(0) < 0xC2 ? 0
                       : byte(0) < 0xE0 ? 2
                       : byte(0) < 0xF0 ? 3
                       : byte(0) < 0xF5 ? 4
                                        : 0;
  if (count == 0 || count > text.size()) return 0;
  for (size_t i = 1; i < count; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  // Overlong forms, surrogates, and what lies past the last code point.
  if (count == 3 && byte(0) == 0xE0 && byte(1) < 0xA0) return 0;
  if (count == 3 && byte(0) == 0xED && byte(1) > 0x9F) return 0;
  if (count == 4 && byte(0) == 0xF0 && byte(1) < 0x90) return 0;
  if (count == 4 && byte(0) == 0xF4 && byte(1) > 0x8F) return 0;
  return count;
}

/// U+FFFE and U+FFFF are no characters in XML; nor are the controls.
bool is_control(std::string_view character) {
  const auto first = static_cast<unsigned char>(character[0]);
  return first < 0x20 || first == 0x7F || character == "\xEF\xBF\xBE" ||
         character == "\xEF\xBF\xBF" ||
         (first == 0xC2 && static_cast<unsigned char>(character[1]) < 0xA0);
}

}  // namespace

std::string drawable(std::string_view text) {
  std::string clean;
  while (!text.empty()) {
    const size_t count = character_bytes(text);
    const bool good = count > 0 && !is_control(text.substr(0, count));
    clean += good ? text.substr(0, count) : "?";
    text.remove_prefix(std::max<size_t>(count, 1));
  }
  return clean;
}

double width_of(std::string_view text, double size, Weight weight) {
  static const Face regular(CAIRO_FONT_WEIGHT_NORMAL), bold(CAIRO_FONT_WEIGHT_BOLD);
  return size * (weight == Weight::bold ? bold : regular).advance(drawable(text));
}

std::string shortened(std::string_view text, size_t most) {
  const std::string clean = drawable(text);
  std::vector<size_t> starts;  // of the characters
  for (size_t at = 0; at < clean.size(); at += character_bytes(std::string_view(clean).substr(at)))
    starts.push_back(at);
  if (starts.size() <= most) return clean;
  return clean.substr(0, starts[most - std::min<size_t>(most, 3)]) + "...";
}

std::vector<std::string> wrapped(std::string_view text, double width, double size, Weight weight) {
  const std::string clean = drawable(text);
  const auto fits = [&](const std::string& line) { return width_of(line, size, weight) <= width; };
  std::vector<std::string> lines;
  std::string line;
  const auto end_line = [&] {
    if (!line.empty()) lines.push_back(std::exchange(line, {}));
  };
  std::string_view rest = clean;
  while (!rest.empty()) {
    const size_t end = std::min(rest.find(' '), rest.size());
    const std::string word(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
    if (word.empty()) continue;
    const std::string longer = line.empty() ? word : line + " " + word;
    if (fits(longer)) {
      line = longer;
      continue;
    }
    end_line();
    if (fits(word)) {
      line = word;
      continue;
    }
    for (std::string_view left = word; !left.empty();) {
      const std::string_view character = left.substr(0, character_bytes(left));
      if (!line.empty() && !fits(line + std::string(character))) end_line();
      line += character;
      left.remove_prefix(character.size());
    }
  }
  end_line();
  return lines;
}

double from_anchor(Anchor anchor) {
  return anchor == Anchor::start ? 0 : anchor == Anchor::middle ? -0.5 : -1;
}

Box box_of(const Words& words) {
  const Lettering& l = words.lettering;
  const double width = width_of(words.text, l.size, l.weight);
  const double from = from_anchor(l.anchor) * width;
  const double rim = l.ground == Ground::white ? kRim * l.size : 0;
  const Box flat{{from - rim, -kDescent * l.size - rim},
                 {from + width + rim, kAscent * l.size + rim}};
  const Lay lay{1, l.turn, words.at};
  Line corners = rectangle(flat);
  for (Point& p : corners) p = lay.of(p);
  return box_of(corners);
}

}  // namespace easewright::draw
