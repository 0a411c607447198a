#pragma once
// HTML by a writer that can't leave an element open or a user's character unescaped. What it
// writes is well-formed XML as well.

#include <string>
#include <string_view>
#include <vector>

namespace easewright {

class Markup {
 public:
  /// Tag and attributes as they stand between the angle brackets, ours alone: 'p class="why"'.
  Markup& open(std::string_view tag);
  Markup& close();  ///< the innermost element that is open; there must be one
  /// Escaped; bytes that are not UTF-8 and control characters become '?'.
  Markup& text(std::string_view words);
  /// Markup of ours that is well-formed by itself.
  Markup& raw(std::string_view markup);

  /// open, text, close.
  Markup& element(std::string_view tag, std::string_view words);

  /// All that was written; every element must be closed.
  const std::string& all() const;

 private:
  std::string text_;
  std::vector<std::string> open_;  ///< names, outermost first
};

}  // namespace easewright
