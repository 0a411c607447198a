#pragma once
// Drawings rendered back to grey pixels by tools that know nothing of us: poppler's pdftoppm for
// PDF, librsvg's rsvg-convert for SVG.

#include "model/geometry/vec2.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright::tests {

struct Pixels {
  int width = 0, height = 0;
  std::vector<unsigned char> grey;  ///< rows from the top; 0 is black
  double per_cm = 0;
  double page_height_cm = 0;  ///< of the page that they show, or a part of

  /// 0 white to 1 black; white outside.
  double ink(int x, int y) const;
  /// The darkest ink in a square of the page around a point, cm from its lower left corner.
  double ink_near(const geometry::Vec2<double>& at, double within_cm) const;
  /// Where the middle of the ink lies between two points of the page, as cm from the first; nothing
  /// where there is none, or more than one line has (0.09 cm).
  std::optional<double> middle_of_ink(const geometry::Vec2<double>& from,
                                      const geometry::Vec2<double>& to) const;
  int x0 = 0, y0 = 0;  ///< of a part: its upper left pixel on the page
};

/// Pixels a cm at which a cm is a whole number of them, and their dots an inch.
inline constexpr double kFine = 100, kFineDpi = 254, kCoarse = 50, kCoarseDpi = 127;

/// Whether both tools are there; says SKIPPED where not.
bool can_render();

/// A part of a page, cm from its lower left corner.
struct Part {
  double left = 0, low = 0, right = 0, high = 0;
};

/// Page `page`, from 1, whole or a part of it.
Pixels render_pdf(const std::string& file,
                  int page,
                  double dpi,
                  double page_height_cm,
                  const std::optional<Part>& part = std::nullopt);
Pixels render_svg(const std::string& file, double dpi, double page_height_cm);

/// Widths and heights of all pages as the file states them, points.
std::vector<std::pair<double, double>> media_boxes(const std::string& pdf_bytes);

/// What pdftotext reads on a page, or on all (0).
std::string words_of_pdf(const std::string& file, int page = 0);

}  // namespace easewright::tests
