#pragma once
// A width or a depth along the body or the garment: a smooth function of the height above the
// floor.
//
// Between its knots it is the monotone cubic of Fritsch & Butland (1984, SIAM J. Sci. Stat. Comput.
// 5: 300-304): it never runs past a knot, so that what is positive at the knots is so everywhere,
// and an outline drawn from it never crosses itself.

#include "model/figure/path.h"

#include <vector>

namespace easewright::figure {

class Course {
 public:
  struct Knot {
    double height = 0, value = 0;
  };

  /// Knots in any order. Of knots less than 0.01 cm apart in height the first given stays.
  explicit Course(std::vector<Knot> knots);

  /// Beyond the last knots it stays as it is there.
  double at(double height) const;
  /// As a line {value, height} from one height to another, either way.
  Path run(double from, double to) const;
  const std::vector<Knot>& knots() const { return knots_; }
  /// Itself where it keeps `off` outside `other` (sign 1: above it, -1: below) from end to end;
  /// else with knots every 1.5 cm that do.
  Course outside(const Course& other, double sign, double off) const;

 private:
  size_t segment(double height) const;
  double slope(double height) const;

  std::vector<Knot> knots_;     // from below
  std::vector<double> slopes_;  // at each
};

}  // namespace easewright::figure
