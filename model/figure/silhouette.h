#pragma once
// The measured body's own outline in front, back and side view, to scale, in cm above the floor.
//
// Heights are the body's; where no tape gives a landmark it is found from those that do. Half
// widths and depths are girths times the surveys' ratios of breadth and depth to girth, or the
// breadths and depths themselves where they were taken. What no survey at hand has is common
// practice and said so in silhouette.cc: how the sections stand behind each other (as with the back
// against a wall), the legs' stance, head, hands and feet, which are only hinted at.

#include "model/body/body.h"
#include "model/figure/course.h"
#include "model/figure/section.h"

namespace easewright::figure {

/// Of landmarks above the floor. Never out of order: where a body's measures contradict each other,
/// those farther from the waist give way.
struct Heights {
  double crown = 0, chin = 0, back_neck = 0, side_neck = 0, front_neck = 0, shoulder = 0,
         armpit = 0, bust = 0, underbust = 0, waist = 0, hip = 0, crotch = 0, fold = 0, knee = 0,
         calf = 0, ankle = 0;
};

/// Breadth and depth over girth of a build.
struct Ratios {
  double chest_breadth = 0, chest_depth = 0;
  double waist_breadth = 0, waist_depth = 0;
  double hip_breadth = 0, hip_depth = 0;
  double deltoids_breadth = 0;  ///< over the shoulder girth
};
/// From the open halves of ANSUR 1988 (Gordon et al. 1989, NATICK/TR-89/044) and, for waist and
/// shoulders, of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007) too; see silhouette.cc for the
/// s.d. Children have the mean of women and men.
const Ratios& ratios_of(Build build);

/// What the trunk measures straight across and straight through, cm.
struct Breadths {
  double chest = 0, chest_depth = 0, waist = 0, waist_depth = 0, hip = 0, hip_depth = 0,
         deltoids = 0;
};
Breadths breadths_of(const CompleteBody& body);

struct Silhouette {
  Heights at;
  Breadths straight;
  double neck_half = 0;  ///< centre to the side neck point
  double bust_x = 0;     ///< centre to the bust point
  double stature = 0;    ///< that everything without a measure is scaled by
  Course half_width;     ///< trunk and outer leg, ankle to armpit; arms and shoulders left out
  Course inner_leg;      ///< ankle to crotch
  Course front, back;    ///< depth before a plumb line: forwards is positive
  Course squareness;     ///< of the trunk's sections
  Path shoulder;         ///< right half, from the side neck point out to the shoulder point
  Section chest;         ///< at bust level

  /// Half breadth of the body at a height, shoulders included, arms not.
  double reach(double height) const;
  /// Middle and half depth of the section at a height.
  double middle(double height) const { return 0.5 * (front.at(height) + back.at(height)); }
  Section section(double height) const;
  /// Point of the shoulder line at this share of its length, straight on beyond the shoulder point.
  Point on_shoulder(double share) const;
  /// Depth at which the body stands on the side view's middle line.
  double plumb() const { return middle(at.hip); }
};

Silhouette silhouette_of(const CompleteBody& body);

/// Closed outlines of trunk, neck and legs. Front and back view share one.
Path body_outline(const Silhouette& s);
/// The same from the wearer's left, who faces the viewer's left.
Path side_outline(const Silhouette& s);
Path head_outline(const Silhouette& s);
Path side_head_outline(const Silhouette& s);
/// The right arm, from the shoulder point round the hand to the armpit, held off what is `clear`
/// wide (half) anywhere below the armpit.
Path arm_outline(const Silhouette& s, double clear);

/// Where a depth lies in the side view.
inline double side_x(const Silhouette& s, double depth) { return s.plumb() - depth; }

}  // namespace easewright::figure
