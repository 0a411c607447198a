#include "model/pattern/nesting/core.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace easewright::nesting {
namespace {

constexpr int kCells = 32;
constexpr size_t kMostCores = 6;

/// A core may lose so much of a way's own rectangle before another is worth its sweeps.
constexpr double kShare = 0.85;

struct Raster {
  GridBox box;
  std::array<std::array<bool, kCells>, kCells> inside{};  ///< [row][column], wholly

  double x_at(int column) const {
    return static_cast<double>(box.x0) + static_cast<double>(box.width()) * column / kCells;
  }
  double y_at(int row) const {
    return static_cast<double>(box.y0) + static_cast<double>(box.height()) * row / kCells;
  }
  int column_of(double x) const {
    const double c = (x - static_cast<double>(box.x0)) / static_cast<double>(box.width()) * kCells;
    return std::clamp(static_cast<int>(std::floor(c)), 0, kCells - 1);
  }
};

struct Line {
  double x0, y0, x1, y1;  ///< y0 <= y1
  double x_at(double y) const { return y1 > y0 ? x0 + (x1 - x0) * (y - y0) / (y1 - y0) : x0; }
};

std::vector<Line> lines_of(const GridPolygon& p) {
  std::vector<Line> lines;
  for (size_t i = 0; i < p.size(); ++i) {
    GridPoint a = p[i], b = p[(i + 1) % p.size()];
    if (a.y > b.y) std::swap(a, b);
    lines.push_back({static_cast<double>(a.x),
                     static_cast<double>(a.y),
                     static_cast<double>(b.x),
                     static_cast<double>(b.y)});
  }
  return lines;
}

/// A cell is inside when no side passes it and its middle is.
Raster raster_of(const GridPolygon& polygon) {
  Raster raster;
  raster.box = box_of(polygon);
  const std::vector<Line> lines = lines_of(polygon);
  for (int row = 0; row < kCells; ++row) {
    const double y0 = raster.y_at(row), y1 = raster.y_at(row + 1), middle = 0.5 * (y0 + y1);
    std::array<bool, kCells> passed{};
    std::vector<double> crossings;
    for (const Line& s : lines) {
      if (s.y0 <= middle && s.y1 > middle) crossings.push_back(s.x_at(middle));
      if (s.y1 < y0 || s.y0 > y1) continue;
      double a = s.x_at(std::clamp(y0, s.y0, s.y1)), b = s.x_at(std::clamp(y1, s.y0, s.y1));
      if (s.y0 == s.y1) a = s.x0, b = s.x1;
      // A unit to either side, for rounding.
      for (int c = raster.column_of(std::min(a, b) - 1); c <= raster.column_of(std::max(a, b) + 1);
           ++c) {
        passed[static_cast<size_t>(c)] = true;
      }
    }
    std::sort(crossings.begin(), crossings.end());
    for (int c = 0; c < kCells; ++c) {
      const double x = 0.5 * (raster.x_at(c) + raster.x_at(c + 1));
      const auto left = std::lower_bound(crossings.begin(), crossings.end(), x);
      raster.inside[static_cast<size_t>(row)][static_cast<size_t>(c)] =
          !passed[static_cast<size_t>(c)] && (left - crossings.begin()) % 2 == 1;
    }
  }
  return raster;
}

struct Size {
  std::int64_t w = 0, h = 0;
  double area() const { return static_cast<double>(w) * static_cast<double>(h); }
};

Size common(Size a, Size b) { return {std::min(a.w, b.w), std::min(a.h, b.h)}; }

GridPolygon rectangle(Size s) { return {{0, 0}, {s.w, 0}, {s.w, s.h}, {0, s.h}}; }

}  // namespace

GridBox inscribed_rectangle(const GridPolygon& polygon) {
  const Raster raster = raster_of(polygon);
  const double cell = static_cast<double>(raster.box.width()) / kCells *
                      static_cast<double>(raster.box.height()) / kCells;
  GridBox best;
  double most = 0;
  for (int bottom = 0; bottom < kCells; ++bottom) {
    std::array<bool, kCells> open{};
    open.fill(true);
    for (int top = bottom; top < kCells; ++top) {
      int run = 0;
      for (int c = 0; c < kCells; ++c) {
        auto& is_open = open[static_cast<size_t>(c)];
        is_open = is_open && raster.inside[static_cast<size_t>(top)][static_cast<size_t>(c)];
        run = is_open ? run + 1 : 0;
        const double area = cell * run * (top - bottom + 1);
        if (area <= most) continue;
        most = area;
        best = {static_cast<std::int64_t>(std::ceil(raster.x_at(c + 1 - run))),
                static_cast<std::int64_t>(std::ceil(raster.y_at(bottom))),
                static_cast<std::int64_t>(std::floor(raster.x_at(c + 1))),
                static_cast<std::int64_t>(std::floor(raster.y_at(top + 1)))};
      }
    }
  }
  return best;
}

void add_cores(Prepared& prepared) {
  std::vector<Way>& ways = prepared.ways;
  std::vector<GridBox> inner;
  for (const Way& way : ways) inner.push_back(inscribed_rectangle(way.kept));
  const auto size_of = [&](size_t i) { return Size{inner[i].width(), inner[i].height()}; };
  std::vector<size_t> by_size(ways.size());
  std::iota(by_size.begin(), by_size.end(), size_t{0});
  std::stable_sort(by_size.begin(), by_size.end(), [&](size_t a, size_t b) {
    return size_of(a).area() > size_of(b).area();
  });
  std::vector<Size> cores;
  for (const size_t i : by_size) {
    const Size own = size_of(i);
    if (own.w <= 0 || own.h <= 0) continue;
    size_t best = cores.size();
    double share = 0;
    for (size_t c = 0; c < cores.size(); ++c) {
      const double kept = common(cores[c], own).area() / std::max(cores[c].area(), own.area());
      if (kept > share) share = kept, best = c;
    }
    if (share < kShare && cores.size() < kMostCores) {
      best = cores.size();
      cores.push_back(own);
    }
    cores[best] = common(cores[best], own);
    ways[i].core = static_cast<int>(best);
    ways[i].core_at = {inner[i].x0, inner[i].y0};
  }
  for (size_t c = 0; c < cores.size(); ++c) {
    Core core;
    core.way = static_cast<int>(ways.size());
    core.x_lo = 1e18;
    core.x_hi = -1e18;
    for (const Way& way : ways) {
      if (way.core != static_cast<int>(c)) continue;
      core.x_lo = std::min(core.x_lo, static_cast<double>(way.core_at.x));
      core.x_hi = std::max(core.x_hi,
                           static_cast<double>(prepared.across - way.cut_box.x1 + way.core_at.x));
    }
    Way way;
    way.cut = way.kept = rectangle(cores[c]);
    way.cut_box = way.box = box_of(way.kept);
    ways.push_back(std::move(way));
    prepared.cores.push_back(core);
  }
}

}  // namespace easewright::nesting
