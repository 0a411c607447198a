#pragma once
// How wide words are. Letters are those of the system's sans-serif, in PDF as in SVG; the widths
// are measured on it without hinting, so they scale exactly.

#include "cli/draw/canvas.h"

#include <string>
#include <string_view>
#include <vector>

namespace easewright::draw {

/// Heights over the baseline and depths below it, in ems: of capitals, of the tallest and of the
/// deepest letters. Of common sans-serif faces, on the safe side.
inline constexpr double kCapital = 0.73, kAscent = 0.95, kDescent = 0.24;
/// White ground reaches so far beyond the letters, in ems.
inline constexpr double kRim = 0.12;
/// From one line of a paragraph to the next, in ems.
inline constexpr double kLeading = 1.3;

/// Advance of the text, cm. Text is made clean as Canvas::text does.
double width_of(std::string_view text, double size, Weight weight = Weight::regular);

/// The text without what can't be drawn: bytes that are not UTF-8 and control characters are '?'.
std::string drawable(std::string_view text);

/// The text, or as many of its first characters that '...' after them makes so many.
std::string shortened(std::string_view text, size_t most);

/// The text in lines of at most this width, broken at blanks, and within a word that is longer.
std::vector<std::string> wrapped(std::string_view text,
                                 double width,
                                 double size,
                                 Weight weight = Weight::regular);

/// Where a text begins, in its widths from the anchor: 0, -1/2 or -1.
double from_anchor(Anchor anchor);

/// The box that the words take, ink and all.
Box box_of(const Words& words);

}  // namespace easewright::draw
