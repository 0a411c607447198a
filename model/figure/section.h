#pragma once
// A level section of the body, taken as a superellipse |x/a|^n + |z/b|^n = 1 (Lame) of the body's
// breadth and depth, its n chosen so that its perimeter is the body's girth.
//
// Honest approximation: real sections are neither as even nor as symmetric; but breadth, depth and
// girth are right, so that a length laid along the cloth comes to lie about where it would on the
// body.

namespace easewright::figure {

struct Section {
  double half_breadth = 1, half_depth = 1;
  double squareness = 2;  ///< n: 2 is the ellipse

  /// Length of a quarter of it.
  double quarter() const;
  /// How far from the centre plane a point lies after this share of a quarter: 0 at the centre, 1
  /// at the side; kept inside both.
  double across(double share) const;
  /// How far in front of (or behind) the middle the surface lies at x from the centre plane.
  double depth(double x) const;
};

/// n stays between kRoundest and kSquarest where breadth, depth and girth disagree.
Section section_of(double breadth, double depth, double girth);
inline constexpr double kRoundest = 1.5, kSquarest = 6;

}  // namespace easewright::figure
