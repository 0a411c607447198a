#pragma once
// Small pictures of a group, as <svg> elements: ink and hatches, readable without colour. They say
// in their title what they show.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// How `values` are spread: bars over `from` to `to`, the middle value marked. `from` < `to`.
std::string histogram(const std::vector<double>& values,
                      double from,
                      double to,
                      std::string_view title);

/// Misses of one rule or wish: those under its range to the left of the middle line, those over it
/// to the right; `size` is where the drawing ends, > 0. Amounts beyond it count at its ends.
std::string miss_histogram(const std::vector<double>& amounts, double size, std::string_view title);

/// How a body stands in a scatter.
enum class Mark { fits, misses_a_wish, misses_more };

struct Point {
  double x = 0, y = 0;
  Mark mark = Mark::fits;
};

/// One axis: what it is of, and where its lines are, in its own unit, written as they stand.
struct PlotAxis {
  std::string title;
  double from = 0, to = 1;
  std::vector<std::pair<double, std::string>> ticks;
};

/// Bodies by size. Discs, rings and crosses.
std::string scatter(const std::vector<Point>& points,
                    const PlotAxis& across,
                    const PlotAxis& up,
                    std::string_view title);

/// Round numbers from `from` to `to`, some four to nine of them.
std::vector<double> round_ticks(double from, double to);

}  // namespace easewright
