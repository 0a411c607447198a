#include "cli/write/group_plots.h"

#include "cli/write/markup.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

constexpr double kRowWidth = 200, kRowHeight = 36, kBase = 32;
constexpr int kBins = 25;
constexpr const char* kInk = "#21262b";

Markup& open_svg(Markup& svg, double width, double height, std::string_view title) {
  svg.open(
      fmt::format("svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" role=\"img\"",
                  width,
                  height));
  svg.element("title", title);
  return svg;
}

/// How many lie in each of `bins` equal parts; what lies outside counts at the ends.
std::vector<size_t> counts(const std::vector<double>& values, double from, double to, int bins) {
  std::vector<size_t> all(static_cast<size_t>(bins), 0);
  for (const double v : values) {
    const double place = (v - from) / (to - from) * bins;
    const int bin = std::clamp(static_cast<int>(std::floor(place)), 0, bins - 1);
    ++all[static_cast<size_t>(bin)];
  }
  return all;
}

void bars(Markup& svg, const std::vector<size_t>& counts) {
  const size_t most = *std::max_element(counts.begin(), counts.end());
  const double width = kRowWidth / static_cast<double>(counts.size());
  for (size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] == 0) continue;
    // A single body among thousands is still to be seen.
    const double height =
        std::max(1.0, 28.0 * static_cast<double>(counts[i]) / static_cast<double>(most));
    svg.raw(
        fmt::format("<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" "
                    "fill=\"#6b7780\" stroke=\"{}\" stroke-width=\".5\"/>",
                    static_cast<double>(i) * width,
                    kBase - height,
                    width - 1,
                    height,
                    kInk));
  }
}

void base_line(Markup& svg) {
  svg.raw(fmt::format("<path d=\"M0 {0}H{1}\" stroke=\"{2}\" stroke-width=\".8\" fill=\"none\"/>",
                      kBase,
                      kRowWidth,
                      kInk));
}

std::string label(double x, double y, std::string_view anchor, std::string_view words) {
  Markup text;
  text.open(fmt::format(
      "text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" fill=\"{}\"", x, y, anchor, kInk));
  text.text(words).close();
  return text.all();
}

}  // namespace

std::string histogram(const std::vector<double>& values,
                      double from,
                      double to,
                      std::string_view title) {
  Markup svg;
  open_svg(svg, kRowWidth, kRowHeight, title);
  if (!values.empty()) {
    bars(svg, counts(values, from, to, kBins));
    std::vector<double> sorted = values;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::nth_element(sorted.begin(), middle, sorted.end());
    const double x = (*middle - from) / (to - from) * kRowWidth;
    svg.raw(fmt::format("<path d=\"M{:.1f} {}l-3 4h6z\" fill=\"{}\"/>", x, kBase, kInk));
  }
  base_line(svg);
  svg.close();
  return svg.all();
}

std::string miss_histogram(const std::vector<double>& amounts,
                           double size,
                           std::string_view title) {
  Markup svg;
  open_svg(svg, kRowWidth, kRowHeight, title);
  if (!amounts.empty()) bars(svg, counts(amounts, -size, size, kBins - 1));
  base_line(svg);
  svg.raw(
      fmt::format("<path d=\"M{0} 0V{1}\" stroke=\"{2}\" stroke-width=\".8\" "
                  "stroke-dasharray=\"3 2\" fill=\"none\"/>",
                  kRowWidth / 2,
                  kRowHeight,
                  kInk));
  svg.close();
  return svg.all();
}

std::string scatter(const std::vector<Point>& points,
                    const PlotAxis& across,
                    const PlotAxis& up,
                    std::string_view title) {
  constexpr double kWidth = 560, kHeight = 400, kLeft = 56, kRight = 12, kTop = 12, kBelow = 48;
  const auto x_of = [&](double v) {
    return kLeft + (v - across.from) / (across.to - across.from) * (kWidth - kLeft - kRight);
  };
  const auto y_of = [&](double v) {
    return kHeight - kBelow - (v - up.from) / (up.to - up.from) * (kHeight - kTop - kBelow);
  };
  Markup svg;
  open_svg(svg, kWidth, kHeight, title);
  svg.open("g font-family=\"sans-serif\" font-size=\"12\"");
  for (const auto& [at, words] : across.ticks) {
    svg.raw(fmt::format("<path d=\"M{0:.1f} {1}V{2}\" stroke=\"#cfc8ba\" stroke-width=\".7\"/>",
                        x_of(at),
                        kTop,
                        kHeight - kBelow));
    svg.raw(label(x_of(at), kHeight - kBelow + 16, "middle", words));
  }
  for (const auto& [at, words] : up.ticks) {
    svg.raw(fmt::format("<path d=\"M{1} {0:.1f}H{2}\" stroke=\"#cfc8ba\" stroke-width=\".7\"/>",
                        y_of(at),
                        kLeft,
                        kWidth - kRight));
    svg.raw(label(kLeft - 6, y_of(at) + 4, "end", words));
  }
  svg.raw(label((kLeft + kWidth - kRight) / 2, kHeight - 10, "middle", across.title));
  svg.raw(
      fmt::format("<g transform=\"translate(14 {:.1f}) rotate(-90)\">", (kHeight - kBelow) / 2));
  svg.raw(label(0, 0, "middle", up.title));
  svg.raw("</g>");
  svg.close();
  // Those that miss most are few, and drawn over the others.
  for (const Mark mark : {Mark::fits, Mark::misses_a_wish, Mark::misses_more}) {
    for (const Point& p : points) {
      if (p.mark != mark) continue;
      const double x = x_of(p.x), y = y_of(p.y);
      if (mark == Mark::misses_more) {
        svg.raw(
            fmt::format("<path d=\"M{:.1f} {:.1f}l7 7m0-7l-7 7\" stroke=\"{}\" "
                        "stroke-width=\"1.6\" fill=\"none\"/>",
                        x - 3.5,
                        y - 3.5,
                        kInk));
      } else {
        svg.raw(
            fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{}\" fill=\"{}\" "
                        "stroke=\"{}\" stroke-width=\"{}\"/>",
                        x,
                        y,
                        mark == Mark::fits ? "1.8" : "3",
                        mark == Mark::fits ? "#8a949c" : "#fff",
                        mark == Mark::fits ? "none" : kInk,
                        mark == Mark::fits ? "0" : "1.1"));
      }
    }
  }
  svg.close();
  return svg.all();
}

std::vector<double> round_ticks(double from, double to) {
  const double rough = (to - from) / 6;
  const double ten = std::pow(10.0, std::floor(std::log10(rough)));
  double step = 10 * ten;
  for (const double by : {1.0, 2.0, 5.0}) {
    if (by * ten >= rough) {
      step = by * ten;
      break;
    }
  }
  std::vector<double> ticks;
  for (double k = std::ceil(from / step - 1e-9); k * step <= to + 1e-9 * step; ++k)
    ticks.push_back(k * step);
  return ticks;
}

}  // namespace easewright
