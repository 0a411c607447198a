#include "pixels.h"

#include "scratch.h"
#include "tests/catch.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <regex>
#include <sstream>
#include <stdexcept>

#include <cairo.h>

namespace easewright::tests {
namespace {

bool has_tool(const std::string& name) {
  return std::system(("command -v " + name + " >/dev/null 2>&1").c_str()) == 0;
}

void run(const std::string& command) {
  if (std::system(command.c_str()) != 0) throw std::runtime_error("failed: " + command);
}

/// Grey of a PGM of one byte a pixel.
Pixels read_pgm(const std::string& bytes) {
  std::istringstream in(bytes);
  std::string magic;
  int most = 0;
  Pixels pixels;
  in >> magic >> pixels.width >> pixels.height >> most;
  if (magic != "P5" || most != 255) throw std::runtime_error("no grey map");
  in.get();
  pixels.grey.resize(static_cast<size_t>(pixels.width) * static_cast<size_t>(pixels.height));
  in.read(reinterpret_cast<char*>(pixels.grey.data()),
          static_cast<std::streamsize>(pixels.grey.size()));
  return pixels;
}

}  // namespace

double Pixels::ink(int x, int y) const {
  if (x < 0 || y < 0 || x >= width || y >= height) return 0;
  const size_t at = static_cast<size_t>(y) * static_cast<size_t>(width) + static_cast<size_t>(x);
  return 1 - grey[at] / 255.0;
}

double Pixels::ink_near(const geometry::Vec2<double>& at, double within_cm) const {
  const double x = at.x * per_cm - x0, y = (page_height_cm - at.y) * per_cm - y0;
  const double reach = within_cm * per_cm;
  double most = 0;
  for (int i = static_cast<int>(std::floor(x - reach)); i <= std::floor(x + reach); ++i)
    for (int j = static_cast<int>(std::floor(y - reach)); j <= std::floor(y + reach); ++j)
      most = std::max(most, ink(i, j));
  return most;
}

std::optional<double> Pixels::middle_of_ink(const geometry::Vec2<double>& from,
                                            const geometry::Vec2<double>& to) const {
  const auto run = to - from;
  const double length = std::hypot(run.x, run.y);
  const int steps = std::max(1, static_cast<int>(std::ceil(4 * length * per_cm)));
  double sum = 0, moment = 0;
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps;
    const auto p = from + share * run;
    const double here = ink(static_cast<int>(std::floor(p.x * per_cm)) - x0,
                            static_cast<int>(std::floor((page_height_cm - p.y) * per_cm)) - y0);
    sum += here;
    moment += here * share * length;
  }
  const double cm_of_ink = sum * length / steps;
  if (cm_of_ink < 0.01 || cm_of_ink > 0.09) return std::nullopt;
  return moment / sum;
}

bool can_render() {
  static const bool can = has_tool("pdftoppm") && has_tool("pdftotext") && has_tool("rsvg-convert");
  if (!can) WARN("SKIPPED: poppler-utils and librsvg2-bin are wanted (.ci/packages)");
  return can;
}

Pixels render_pdf(const std::string& file,
                  int page,
                  double dpi,
                  double page_height_cm,
                  const std::optional<Part>& part) {
  const Scratch scratch;
  const double per_cm = dpi / 2.54;
  std::string crop;
  int x0 = 0, y0 = 0;
  if (part) {
    x0 = static_cast<int>(std::floor(part->left * per_cm));
    y0 = static_cast<int>(std::floor((page_height_cm - part->high) * per_cm));
    const int wide = static_cast<int>(std::ceil((part->right - part->left) * per_cm));
    const int high = static_cast<int>(std::ceil((part->high - part->low) * per_cm));
    crop = " -x " + std::to_string(x0) + " -y " + std::to_string(y0) + " -W " +
           std::to_string(wide) + " -H " + std::to_string(high);
  }
  const std::string number = std::to_string(page);
  run("pdftoppm -gray -singlefile -r " + std::to_string(dpi) + " -f " + number + " -l " + number +
      crop + " '" + file + "' '" + scratch.path("page") + "' 2>/dev/null");
  Pixels pixels = read_pgm(bytes_of(scratch.path("page.pgm")));
  pixels.per_cm = per_cm;
  pixels.page_height_cm = page_height_cm;
  pixels.x0 = x0;
  pixels.y0 = y0;
  return pixels;
}

Pixels render_svg(const std::string& file, double dpi, double page_height_cm) {
  const Scratch scratch;
  const std::string dots = std::to_string(dpi);
  run("rsvg-convert --unlimited -b white -d " + dots + " -p " + dots + " -o '" +
      scratch.path("page.png") + "' '" + file + "'");
  cairo_surface_t* surface = cairo_image_surface_create_from_png(scratch.path("page.png").c_str());
  if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) throw std::runtime_error("no PNG");
  Pixels pixels;
  pixels.width = cairo_image_surface_get_width(surface);
  pixels.height = cairo_image_surface_get_height(surface);
  pixels.per_cm = dpi / 2.54;
  pixels.page_height_cm = page_height_cm;
  const unsigned char* data = cairo_image_surface_get_data(surface);
  const int stride = cairo_image_surface_get_stride(surface);
  for (int y = 0; y < pixels.height; ++y) {
    for (int x = 0; x < pixels.width; ++x) {
      // What is drawn here is grey: one channel tells all.
      pixels.grey.push_back(data[y * stride + 4 * x + 1]);
    }
  }
  cairo_surface_destroy(surface);
  return pixels;
}

std::vector<std::pair<double, double>> media_boxes(const std::string& pdf_bytes) {
  static const std::regex box(R"(/MediaBox \[ 0 0 ([0-9.]+) ([0-9.]+) \])");
  std::vector<std::pair<double, double>> boxes;
  for (auto it = std::sregex_iterator(pdf_bytes.begin(), pdf_bytes.end(), box);
       it != std::sregex_iterator();
       ++it)
    boxes.emplace_back(std::stod((*it)[1]), std::stod((*it)[2]));
  return boxes;
}

std::string words_of_pdf(const std::string& file, int page) {
  const Scratch scratch;
  const std::string number = std::to_string(page);
  run("pdftotext -enc UTF-8 " +
      (page > 0 ? "-f " + number + " -l " + number + " " : std::string()) + "'" + file + "' '" +
      scratch.path("words") + "'");
  return bytes_of(scratch.path("words"));
}

}  // namespace easewright::tests
