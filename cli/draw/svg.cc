#include "cli/draw/svg.h"

#include "cli/draw/lettering.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include <fmt/format.h>

namespace easewright::draw {
namespace {

/// '12.34': mm to the hundredth, without idle zeros.
void number(std::string& out, double mm) {
  const auto hundredths = static_cast<long>(std::llround(100 * mm));
  const long size = std::labs(hundredths);
  if (hundredths < 0) out += '-';
  fmt::format_to(std::back_inserter(out), "{}", size / 100);
  if (size % 100 == 0) return;
  fmt::format_to(std::back_inserter(out), ".{:02d}", size % 100);
  if (out.back() == '0') out.pop_back();
}
std::string number(double mm) {
  std::string text;
  number(text, mm);
  return text;
}

std::string hex(const Tint& tint) {
  const auto byte = [](double part) {
    return static_cast<int>(std::lround(255 * std::clamp(part, 0.0, 1.0)));
  };
  return fmt::format("#{:02x}{:02x}{:02x}", byte(tint.red), byte(tint.green), byte(tint.blue));
}

/// 'skirt back' -> 'skirt-back'.
std::string id_of(std::string_view title) {
  std::string id;
  for (const char c : title) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    id += plain ? c : '-';
  }
  return id;
}

/// Marks of one page; y down, in mm.
class Writer {
 public:
  Writer(std::string& out, double height, std::string prefix)
      : out_(out), height_(height), prefix_(std::move(prefix)) {}

  void write(const OnPage& content) {
    at_ = content.at;
    // An inner <svg> cuts off what leaves it, and needs no id as a clip path would.
    if (content.window) {
      const Box& w = *content.window;
      const std::string box = fmt::format("{} {} {} {}",
                                          number(10 * w.least.x),
                                          number(10 * (height_ - w.most.y)),
                                          number(10 * w.width()),
                                          number(10 * w.height()));
      out_ += fmt::format("<svg x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" viewBox=\"{}\">\n",
                          number(10 * w.least.x),
                          number(10 * (height_ - w.most.y)),
                          number(10 * w.width()),
                          number(10 * w.height()),
                          box);
    }
    int open = -1;
    for (const Mark& mark : content.canvas->marks()) {
      if (content.window && !mark.bounds.moved(at_).meets(*content.window)) continue;
      if (mark.group != open) {
        if (open >= 0) out_ += "</g>\n";
        open = mark.group;
        if (open >= 0) begin(content.canvas->groups()[static_cast<size_t>(open)]);
      }
      std::visit([this](const auto& what) { write_one(what); }, mark.what);
    }
    if (open >= 0) out_ += "</g>\n";
    if (content.window) out_ += "</svg>\n";
  }

 private:
  void begin(const std::string& title) {
    out_ += fmt::format(
        "<g id=\"{}{}-{}\"><title>{}</title>\n", prefix_, ++groups_, id_of(title), escaped(title));
  }

  void place(const Point& p) {
    number(out_, 10 * (p.x + at_.x));
    out_ += ' ';
    number(out_, 10 * (height_ - p.y - at_.y));
  }

  void path(const Line& line, bool closed) {
    out_ += "<path d=\"";
    for (size_t i = 0; i < line.size(); ++i) {
      out_ += i == 0 ? "M" : i == 1 ? "L" : " ";
      place(line[i]);
    }
    out_ += closed ? "Z\"" : "\"";
  }

  void write_one(const Stroke& stroke) {
    path(stroke.line, stroke.closed);
    out_ += fmt::format(" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"",
                        hex(stroke.pen.tint),
                        number(10 * stroke.pen.width));
    if (!stroke.pen.dash.empty()) {
      out_ += " stroke-dasharray=\"";
      for (size_t i = 0; i < stroke.pen.dash.size(); ++i) {
        if (i > 0) out_ += ' ';
        number(out_, 10 * stroke.pen.dash[i]);
      }
      out_ += '"';
    }
    if (stroke.pen.ends == Ends::round) out_ += " stroke-linecap=\"round\"";
    out_ += "/>\n";
  }

  void write_one(const Area& area) {
    path(area.outline, true);
    out_ += fmt::format(" fill=\"{}\"/>\n", hex(area.tint));
  }

  void write_one(const Words& words) {
    const Lettering& l = words.lettering;
    const double x = 10 * (words.at.x + at_.x), y = 10 * (height_ - words.at.y - at_.y);
    const double width = 10 * width_of(words.text, l.size, l.weight), size = 10 * l.size;
    const std::string turned = std::abs(l.turn) > 1e-9
                                   ? fmt::format(" transform=\"rotate({} {} {})\"",
                                                 number(-l.turn * 180 / std::numbers::pi),
                                                 number(x),
                                                 number(y))
                                   : "";
    if (l.ground == Ground::white) {
      const double from = x + from_anchor(l.anchor) * width;
      out_ +=
          fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#ffffff\"{}/>\n",
                      number(from - kRim * size),
                      number(y - (kCapital + kRim) * size),
                      number(width + 2 * kRim * size),
                      number((kCapital + kRim + kDescent) * size),
                      turned);
    }
    // Whatever sans-serif there is, the words take the room that they were given.
    out_ += fmt::format(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" textLength=\"{}\" "
        "lengthAdjust=\"spacingAndGlyphs\"",
        number(x),
        number(y),
        number(size),
        number(width));
    if (l.weight == Weight::bold) out_ += " font-weight=\"bold\"";
    if (l.anchor != Anchor::start)
      out_ += l.anchor == Anchor::middle ? " text-anchor=\"middle\"" : " text-anchor=\"end\"";
    if (l.tint != kBlack) out_ += fmt::format(" fill=\"{}\"", hex(l.tint));
    out_ += turned + ">" + escaped(words.text) + "</text>\n";
  }

  std::string& out_;
  double height_;
  std::string prefix_;
  Point at_{0, 0};
  int groups_ = 0;
};

std::string element(const Page& page,
                    const About& about,
                    const std::string& size,
                    const std::string& prefix) {
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" {}viewBox=\"0 0 {} {}\" role=\"img\" "
      "font-family=\"sans-serif\" stroke-miterlimit=\"4\">\n<title>{}</title>\n",
      size,
      number(10 * page.width),
      number(10 * page.height),
      escaped(drawable(about.title)));
  if (!about.description.empty())
    out += fmt::format("<desc>{}</desc>\n", escaped(drawable(about.description)));
  Writer writer(out, page.height, prefix);
  for (const OnPage& content : page.content) writer.write(content);
  return out + "</svg>\n";
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string svg_of(const Page& page, const About& about) {
  const std::string size = fmt::format(
      "width=\"{}mm\" height=\"{}mm\" ", number(10 * page.width), number(10 * page.height));
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + element(page, about, size, "part-");
}

std::string svg_element(const Page& page, const About& about, const std::string& prefix) {
  return element(page, about, "", prefix);
}

}  // namespace easewright::draw
