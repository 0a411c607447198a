#include "model/figure/section.h"

#include "model/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace easewright::figure {
namespace {

constexpr int kChords = 64;

struct Place {
  double x = 0, z = 0;
};

/// Point of the quarter at parameter i of kChords, from the centre front to the side.
Place place(const Section& s, int i) {
  if (i == 0) return {0, s.half_depth};
  if (i == kChords) return {s.half_breadth, 0};
  // Steps in the angle of the point seen from the middle, so that flat parts are stepped evenly.
  const double angle = 0.5 * kPi * i / kChords;
  const double c = std::sin(angle), d = std::cos(angle);
  const double r =
      std::pow(std::pow(c, s.squareness) + std::pow(d, s.squareness), -1.0 / s.squareness);
  return {s.half_breadth * r * c, s.half_depth * r * d};
}

std::array<double, kChords + 1> lengths(const Section& s) {
  std::array<double, kChords + 1> sum{};
  Place before = place(s, 0);
  for (int i = 1; i <= kChords; ++i) {
    const Place now = place(s, i);
    const auto k = static_cast<size_t>(i);
    sum[k] = sum[k - 1] + std::hypot(now.x - before.x, now.z - before.z);
    before = now;
  }
  return sum;
}

}  // namespace

double Section::quarter() const { return lengths(*this).back(); }

double Section::across(double share) const {
  if (!(share > 0)) return 0;
  if (share >= 1) return half_breadth;
  const auto sum = lengths(*this);
  const double want = share * sum.back();
  const auto after = std::upper_bound(sum.begin(), sum.end(), want);
  const int i = std::clamp(static_cast<int>(after - sum.begin()), 1, kChords);
  const auto k = static_cast<size_t>(i);
  const double t = (want - sum[k - 1]) / (sum[k] - sum[k - 1]);
  return (1 - t) * place(*this, i - 1).x + t * place(*this, i).x;
}

double Section::depth(double x) const {
  const double u = std::min(std::abs(x) / half_breadth, 1.0);
  return half_depth * std::pow(1 - std::pow(u, squareness), 1 / squareness);
}

Section section_of(double breadth, double depth, double girth) {
  Section s{0.5 * breadth, 0.5 * depth, 2};
  double least = kRoundest, most = kSquarest;
  for (int i = 0; i < 40; ++i) {
    s.squareness = 0.5 * (least + most);
    (4 * s.quarter() < girth ? least : most) = s.squareness;
  }
  return s;
}

}  // namespace easewright::figure
