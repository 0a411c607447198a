#pragma once
// Lines of at most 80 columns for a terminal. Colour is for terminals only and never the only
// carrier of a meaning.

#include <string>
#include <string_view>

namespace easewright {

inline constexpr size_t kColumns = 80;
inline constexpr size_t kLeastColumns = 40;

enum class Colour { off, on };

/// On when `descriptor` is a terminal that takes colour and NO_COLOR is not set.
Colour colour_of_terminal(int descriptor);

/// The terminal's columns, at least kLeastColumns; kColumns where `descriptor` is none.
size_t width_of_terminal(int descriptor);

enum class Tone { plain, bold, good, bad, faint };

/// Columns that UTF-8 text takes; every character counts as one.
size_t columns(std::string_view text);

class Page {
 public:
  /// `width`: at least kLeastColumns.
  explicit Page(Colour colour = Colour::off, size_t width = kColumns)
      : colour_(colour), width_(width) {}

  /// `lead`, then `text` wrapped beside it; further lines are indented by the lead's columns.
  void paragraph(std::string_view lead, std::string_view text, Tone lead_tone = Tone::plain);
  /// One line, cut at the width with '...' when longer.
  void line(std::string_view text, Tone tone = Tone::plain);
  void gap();

  const std::string& text() const { return text_; }

 private:
  std::string toned(std::string_view text, Tone tone) const;

  Colour colour_;
  size_t width_;
  std::string text_;
};

}  // namespace easewright
