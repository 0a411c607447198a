#include "cli/draw/pdf.h"

#include "cli/draw/lettering.h"

#include <cassert>
#include <memory>
#include <stdexcept>

#include <cairo-pdf.h>
#include <cairo.h>

namespace easewright::draw {
namespace {

constexpr double kPoints = 72 / 2.54;  ///< a cm
/// A file that is made twice is to be the same; when it was made is nobody's business but the
/// label's.
constexpr const char* kNoDate = "2000-01-01T00:00:00Z";

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int count) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), count);
  return CAIRO_STATUS_SUCCESS;
}

void check(cairo_status_t status) {
  if (status != CAIRO_STATUS_SUCCESS)
    throw std::runtime_error(std::string("drawing the PDF: ") + cairo_status_to_string(status));
}

/// One page's context: cm, y up.
class Pencil {
 public:
  Pencil(cairo_t* cairo, double page_height) : cairo_(cairo) {
    cairo_matrix_t up;
    cairo_matrix_init(&up, kPoints, 0, 0, -kPoints, 0, page_height * kPoints);
    cairo_set_matrix(cairo_, &up);
    cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_MITER);
    cairo_set_miter_limit(cairo_, 4);
  }

  void draw(const OnPage& content) {
    cairo_save(cairo_);
    if (content.window) {
      path(rectangle(*content.window), true);
      cairo_clip(cairo_);
    }
    cairo_translate(cairo_, content.at.x, content.at.y);
    for (const Mark& mark : content.canvas->marks()) {
      if (content.window && !mark.bounds.moved(content.at).meets(*content.window)) continue;
      std::visit([this](const auto& what) { draw_one(what); }, mark.what);
    }
    cairo_restore(cairo_);
  }

 private:
  void path(const Line& line, bool closed) {
    cairo_new_path(cairo_);
    for (const Point& p : line) cairo_line_to(cairo_, p.x, p.y);
    if (closed) cairo_close_path(cairo_);
  }

  void set(const Tint& tint) { cairo_set_source_rgb(cairo_, tint.red, tint.green, tint.blue); }

  void draw_one(const Stroke& stroke) {
    path(stroke.line, stroke.closed);
    set(stroke.pen.tint);
    cairo_set_line_width(cairo_, stroke.pen.width);
    cairo_set_line_cap(cairo_,
                       stroke.pen.ends == Ends::round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    cairo_set_dash(cairo_, stroke.pen.dash.data(), static_cast<int>(stroke.pen.dash.size()), 0);
    cairo_stroke(cairo_);
  }

  void draw_one(const Area& area) {
    path(area.outline, true);
    set(area.tint);
    cairo_fill(cairo_);
  }

  void draw_one(const Words& words) {
    const Lettering& l = words.lettering;
    cairo_save(cairo_);
    cairo_translate(cairo_, words.at.x, words.at.y);
    cairo_rotate(cairo_, l.turn);
    cairo_scale(cairo_, 1, -1);  // letters stand upright
    cairo_select_font_face(
        cairo_,
        "sans-serif",
        CAIRO_FONT_SLANT_NORMAL,
        l.weight == Weight::bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cairo_, l.size);
    const double width = width_of(words.text, l.size, l.weight);
    const double from = from_anchor(l.anchor) * width;
    if (l.ground == Ground::white) {
      set(kWhite);
      cairo_rectangle(cairo_,
                      from - kRim * l.size,
                      -(kCapital + kRim) * l.size,
                      width + 2 * kRim * l.size,
                      (kCapital + kRim + kDescent) * l.size);
      cairo_fill(cairo_);
    }
    set(l.tint);
    cairo_move_to(cairo_, from, 0);
    cairo_show_text(cairo_, words.text.c_str());
    cairo_restore(cairo_);
  }

  cairo_t* cairo_;
};

struct Close {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};

}  // namespace

std::string pdf_of(const std::vector<Page>& pages, const About& about) {
  std::string bytes;
  const std::unique_ptr<cairo_surface_t, Close> surface(
      cairo_pdf_surface_create_for_stream(append, &bytes, kPoints, kPoints));
  check(cairo_surface_status(surface.get()));
  cairo_pdf_surface_set_metadata(
      surface.get(), CAIRO_PDF_METADATA_TITLE, drawable(about.title).c_str());
  cairo_pdf_surface_set_metadata(
      surface.get(), CAIRO_PDF_METADATA_SUBJECT, drawable(about.description).c_str());
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "easewright");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, kNoDate);
  for (const Page& page : pages) {
    assert(page.width > 0 && page.width <= kMostPage && page.height > 0 &&
           page.height <= kMostPage);
    cairo_pdf_surface_set_size(surface.get(), page.width * kPoints, page.height * kPoints);
    const std::unique_ptr<cairo_t, Close> cairo(cairo_create(surface.get()));
    Pencil pencil(cairo.get(), page.height);
    for (const OnPage& content : page.content) pencil.draw(content);
    cairo_show_page(cairo.get());
    check(cairo_status(cairo.get()));
  }
  cairo_surface_finish(surface.get());
  check(cairo_surface_status(surface.get()));
  return bytes;
}

}  // namespace easewright::draw
