#include "model/figure/course.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace easewright::figure {
namespace {

constexpr double kApart = 0.01;

/// Slope at a knot between two chords.
double knot_slope(double run_before, double rise_before, double run_after, double rise_after) {
  const double before = rise_before / run_before, after = rise_after / run_after;
  if (before * after <= 0) return 0;
  const double w1 = 2 * run_after + run_before, w2 = run_after + 2 * run_before;
  return (w1 + w2) / (w1 / before + w2 / after);
}

}  // namespace

Course::Course(std::vector<Knot> knots) : knots_(std::move(knots)) {
  assert(!knots_.empty() && "a course needs a knot");
  std::stable_sort(knots_.begin(), knots_.end(), [](const Knot& a, const Knot& b) {
    return a.height < b.height;
  });
  std::vector<Knot> apart;
  for (const Knot& k : knots_)
    if (apart.empty() || k.height - apart.back().height >= kApart) apart.push_back(k);
  knots_ = std::move(apart);
  slopes_.assign(knots_.size(), 0);
  for (size_t i = 1; i + 1 < knots_.size(); ++i) {
    const Knot &a = knots_[i - 1], &b = knots_[i], &c = knots_[i + 1];
    slopes_[i] =
        knot_slope(b.height - a.height, b.value - a.value, c.height - b.height, c.value - b.value);
  }
}

size_t Course::segment(double height) const {
  const auto above = std::upper_bound(
      knots_.begin(), knots_.end(), height, [](double h, const Knot& k) { return h < k.height; });
  const auto i = static_cast<size_t>(above - knots_.begin());
  return std::clamp<size_t>(i, 1, std::max<size_t>(knots_.size(), 2) - 1) - 1;
}

double Course::at(double height) const {
  if (height <= knots_.front().height) return knots_.front().value;
  if (height >= knots_.back().height) return knots_.back().value;
  const size_t i = segment(height);
  const Knot &a = knots_[i], &b = knots_[i + 1];
  const double run = b.height - a.height, t = (height - a.height) / run, u = 1 - t;
  return u * u * ((1 + 2 * t) * a.value + t * run * slopes_[i]) +
         t * t * ((1 + 2 * u) * b.value - u * run * slopes_[i + 1]);
}

double Course::slope(double height) const {
  if (height < knots_.front().height || height > knots_.back().height || knots_.size() < 2)
    return 0;
  const size_t i = segment(height);
  const Knot &a = knots_[i], &b = knots_[i + 1];
  const double run = b.height - a.height, t = (height - a.height) / run, u = 1 - t;
  return 6 * t * u * (b.value - a.value) / run + u * (u - 2 * t) * slopes_[i] +
         t * (t - 2 * u) * slopes_[i + 1];
}

Course Course::outside(const Course& other, double sign, double off) const {
  const double low = knots_.front().height, high = knots_.back().height;
  const int steps = std::max(1, static_cast<int>(std::ceil((high - low) / 1.5)));
  std::vector<Knot> kept;
  bool inside = false;
  for (int i = 0; i <= steps; ++i) {
    const double h = low + (high - low) * i / steps;
    const double least = sign * (other.at(h) + sign * off), is = sign * at(h);
    inside = inside || is < least;
    kept.push_back({h, sign * std::max(is, least)});
  }
  return inside ? Course(std::move(kept)) : *this;
}

Path Course::run(double from, double to) const {
  std::vector<double> stops{std::min(from, to)};
  for (const Knot& k : knots_)
    if (k.height > std::min(from, to) && k.height < std::max(from, to)) stops.push_back(k.height);
  stops.push_back(std::max(from, to));
  Path path;
  for (size_t i = 0; i + 1 < stops.size(); ++i) {
    // A cubic over a part of its run is given by its ends and its slopes there.
    const double a = stops[i], b = stops[i + 1], third = (b - a) / 3;
    const bool inside = a >= knots_.front().height && b <= knots_.back().height;
    const double slope_a = inside ? slope(a) : 0, slope_b = inside ? slope(b) : 0;
    path.push_back({{at(a), a},
                    {at(a) + third * slope_a, a + third},
                    {at(b) - third * slope_b, b - third},
                    {at(b), b}});
  }
  return from <= to ? path : reversed(path);
}

}  // namespace easewright::figure
