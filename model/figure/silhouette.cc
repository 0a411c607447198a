#include "model/figure/silhouette.h"

#include "model/units.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace easewright::figure {
namespace {

using B = BodyKey;
using geometry::curve_between;
using geometry::straight;

/// The stature that lengths without a measure are scaled by: the surveyed women's.
constexpr double kUsualStature = 163;

// Mean over the open rows; s.d. of breadth less ratio times girth, in cm. Chest at bust point
// level, in a bra; waist at the navel, for want of one higher up, the mean of both surveys, which
// measured it differently (women 0.366 and 0.348 of the girth); hip at the seat.
//                 women           men
// chest breadth   0.309 (1.1)     0.325 (1.2)
// chest depth     0.264 (0.9)     0.245 (1.0)
// waist breadth   0.357 (1.4)     0.354 (1.2)
// waist depth     0.252 (1.2)     0.257 (1.2)
// hip breadth     0.355 (0.9)     0.348 (0.9)
// hip depth       0.235 (1.3)     0.253 (1.0)
// deltoids        0.429 (1.4)     0.426 (1.4)
constexpr Ratios kWoman{0.3086, 0.2642, 0.357, 0.252, 0.3548, 0.2346, 0.429};
constexpr Ratios kMan{0.3245, 0.2447, 0.354, 0.257, 0.3482, 0.2526, 0.426};
constexpr Ratios kChild{0.3166, 0.2545, 0.3555, 0.2545, 0.3515, 0.2436, 0.4275};

// Heights over surface lengths, ANSUR 1988, both sexes: the back waist length is 1.045 of the drop
// below it (s.d. of the height 0.9), the front one 1 / 0.895 (1.0). The side neck point lies 1.1
// below the back neck point (0.7), and the shoulder point 0.812 of the shoulder length outside it
// (0.044): the bone lies before the neck, and the shoulder falls.
constexpr double kBackDrop = 0.956, kFrontDrop = 0.895, kSideNeckDrop = 1.1, kShoulderRun = 0.812;
/// A silhouette's shoulder is steeper than a garment's (see SlopeReading).
const double kSilhouetteSlope = radians(2.5);

/// Raises each height over the one before it by `apart` at least.
void raise_in_order(std::initializer_list<double*> up, double apart) {
  const double* below = nullptr;
  for (double* h : up) {
    if (below != nullptr) *h = std::max(*h, *below + apart);
    below = h;
  }
}

/// Lowers each under the one before it by `share` of what is left above the floor at least.
void lower_in_order(std::initializer_list<double*> down, double share) {
  const double* above = nullptr;
  for (double* h : down) {
    if (above != nullptr) *h = std::min(*h, (1 - share) * *above);
    above = h;
  }
}

Heights heights_of(const CompleteBody& body) {
  Heights at;
  const double size = body[B::stature] / kUsualStature;
  at.waist = body[B::waist_height];
  at.back_neck = at.waist + kBackDrop * body[B::back_waist_length];
  at.side_neck = at.back_neck - kSideNeckDrop * size;
  const double run = kShoulderRun * body[B::shoulder_length];
  at.shoulder = at.side_neck - run * std::tan(body[B::shoulder_slope] + kSilhouetteSlope);
  at.front_neck = at.waist + kFrontDrop * body[B::front_waist_length];
  at.armpit = body[B::armpit_height];
  at.bust = body[B::bust_height];
  at.underbust = at.bust - 6.5 * size;  // the ribs begin about there
  at.hip = body[B::hip_height];
  at.crotch = body[B::crotch_height];
  at.fold = body[B::gluteal_fold_height];
  at.knee = body[B::knee_height];
  at.calf = body[B::calf_height];
  at.ankle = 0.14 * body[B::knee_height];  // as the leg's girths have it (frame.cc)

  const double least = 0.3 * size;
  raise_in_order({&at.waist, &at.underbust, &at.bust, &at.armpit}, least);
  at.shoulder = std::max(at.shoulder, at.armpit + 4 * size);
  at.side_neck = std::max(at.side_neck, at.shoulder + 0.5 * size);
  at.back_neck = std::max(at.back_neck, at.side_neck + 0.1 * size);
  at.front_neck = std::clamp(at.front_neck, at.bust + least, at.side_neck - least);
  at.crown = std::max(body[B::stature], at.back_neck + 10 * size);
  // Chin to crown is about 0.4 of the head girth (common practice, adults and children alike).
  at.chin = std::clamp(
      at.crown - 0.4 * body[B::head_girth], at.side_neck - 0.5 * size, at.crown - 8 * size);
  lower_in_order({&at.waist, &at.hip, &at.crotch}, 0.01);
  lower_in_order({&at.crotch, &at.fold, &at.knee, &at.calf, &at.ankle}, 0.01);
  return at;
}

/// What a tape or a calliper read of a breadth, else the girth's share.
double straight_or(const CompleteBody& body, BodyKey breadth, double share, BodyKey girth) {
  const BodyValue& given = body.at(breadth);
  return is_taped(given.origin) ? given.value : share * body[girth];
}

struct Leg {
  double centre = 0, radius = 0;
};

/// A leg stands where the hip has it, or beside its fellow where it is thicker.
Leg leg(double girth, double share, double hip_half) {
  const double radius = girth / (2 * kPi);
  return {std::max(share * hip_half, radius + 0.6), radius};
}

struct Legs {
  double thigh_outer = 0;
  Leg knee, calf, ankle;
};

Legs legs_of(const CompleteBody& body, double hip_half) {
  // Shares of the hip's half breadth: common practice for feet a hand apart.
  return {0.96 * hip_half,
          leg(body[B::knee_girth], 0.46, hip_half),
          leg(body[B::calf_girth], 0.43, hip_half),
          leg(body[B::ankle_girth], 0.38, hip_half)};
}

/// Where the neck goes up behind the chin.
double neck_top(const Silhouette& s) { return s.at.chin + 0.3 * (s.at.crown - s.at.chin); }

/// Depths, with the back against a wall: blades and seat touch it, the waist is hollow by 3.5 (men
/// 3), the back neck point 4 before it, the legs' middle 11 (common practice; no survey at hand has
/// them).
void set_depths(Silhouette& s, const CompleteBody& body, const Legs& legs) {
  const Heights& at = s.at;
  const Breadths& b = s.straight;
  const double size = s.stature / kUsualStature;
  const double hollow = (body.build == Build::woman ? 3.5 : 3.0) * size;
  const double neck = body[B::neck_girth] / kPi;
  const double underbust =
      body[B::underbust_girth] * 0.5 *
      (b.chest_depth / body[B::bust_girth] + b.waist_depth / body[B::waist_girth]);
  const double blade = at.armpit + 0.15 * (at.back_neck - at.armpit);
  const double thigh = std::max(body[B::thigh_girth] / kPi, 0.85 * b.hip_depth);
  const double leg = std::min(11 * size, 0.5 * b.hip_depth);
  const double under = 0.5 * (hollow + 0.6 * size);
  s.back = Course({{neck_top(s), 5 * size},
                   {at.back_neck, 4 * size},
                   {blade, 0},
                   {at.waist, hollow},
                   {at.hip, 0},
                   {at.fold, 3 * size},
                   {at.knee, leg - legs.knee.radius},
                   {at.calf, leg - 1.4 * legs.calf.radius},
                   {at.ankle, leg - 1.3 * legs.ankle.radius}});
  s.front =
      Course({{neck_top(s), 5 * size + 0.95 * neck},
              {at.front_neck, 4 * size + 1.05 * neck},
              {at.bust, std::max(s.back.at(at.bust) + b.chest_depth, 4.5 * size + 1.05 * neck)},
              {at.underbust, under + underbust},
              {at.waist, hollow + b.waist_depth},
              {at.hip, b.hip_depth},
              {at.fold, std::max(3 * size + 0.95 * thigh, leg + legs.knee.radius)},
              {at.knee, leg + legs.knee.radius},
              {at.calf, leg + 0.75 * legs.calf.radius},
              {at.ankle, leg + legs.ankle.radius}});
}

void set_widths(Silhouette& s, const CompleteBody& body, const Legs& legs) {
  const Heights& at = s.at;
  const Breadths& b = s.straight;
  const double underbust = body[B::underbust_girth] * 0.5 *
                           (b.chest / body[B::bust_girth] + b.waist / body[B::waist_girth]);
  s.half_width = Course({{at.armpit, 0.5 * b.chest},
                         {at.bust, 0.5 * b.chest},
                         {at.underbust, 0.5 * underbust},
                         {at.waist, 0.5 * b.waist},
                         {at.hip, 0.5 * b.hip},
                         {at.fold, legs.thigh_outer},
                         {at.knee, legs.knee.centre + legs.knee.radius},
                         {at.calf, legs.calf.centre + legs.calf.radius},
                         {at.ankle, legs.ankle.centre + legs.ankle.radius}});
  s.inner_leg = Course({{at.crotch, 0},
                        {at.fold, 0.2},
                        {at.knee, legs.knee.centre - legs.knee.radius},
                        {at.calf, legs.calf.centre - legs.calf.radius},
                        {at.ankle, legs.ankle.centre - legs.ankle.radius}});
}

void set_sections(Silhouette& s, const CompleteBody& body) {
  const Heights& at = s.at;
  const Breadths& b = s.straight;
  s.chest = section_of(b.chest, b.chest_depth, body[B::bust_girth]);
  const double waist = section_of(b.waist, b.waist_depth, body[B::waist_girth]).squareness;
  const double hip = section_of(b.hip, b.hip_depth, body[B::hip_girth]).squareness;
  s.squareness = Course({{at.shoulder, 2},
                         {at.armpit, s.chest.squareness},
                         {at.bust, s.chest.squareness},
                         {at.waist, waist},
                         {at.hip, hip},
                         {at.knee, 2}});
}

/// From the neck out to the shoulder point: hollow where the neck runs into the shoulder.
Path shoulder_of(const Silhouette& s, double run) {
  const Point neck{s.neck_half, s.at.side_neck}, point{s.neck_half + run, s.at.shoulder};
  const Point chord = point - neck;
  const double length = geometry::length(chord);
  const Point along = (1 / length) * chord;
  const Point off = geometry::Turn<double>(-radians(8)).vector(along);
  return {curve_between(neck, off, length / 3, along, length / 3, point)};
}

/// An egg: crown, widest above its middle, chin.
Path egg(double middle, double half_width, double top, double bottom) {
  const double level = bottom + 0.57 * (top - bottom), up = top - level, down = level - bottom;
  const Point right{middle + half_width, level}, left{middle - half_width, level};
  const Point crown{middle, top}, chin{middle, bottom};
  const double k = 0.5523;
  return {curve_between(crown, {1.0, 0.0}, k * half_width, {0.0, -1.0}, k * up, right),
          curve_between(right, {0.0, -1.0}, 0.62 * down, {-1.0, 0.0}, 0.46 * half_width, chin),
          curve_between(chin, {-1.0, 0.0}, 0.46 * half_width, {0.0, 1.0}, 0.62 * down, left),
          curve_between(left, {0.0, 1.0}, k * up, {1.0, 0.0}, k * half_width, crown)};
}

/// Half width of the neck at the chin.
double neck_at_chin(const Silhouette& s) {
  return 0.47 * (s.front.at(s.at.chin) - s.back.at(s.at.chin));
}

/// Right half: neck, shoulder, side, leg, foot and up the inner leg to the crotch.
Path right_half(const Silhouette& s) {
  const Heights& at = s.at;
  const Point top{std::min(neck_at_chin(s), 0.9 * s.neck_half), neck_top(s)};
  const Point side_neck{s.neck_half, at.side_neck};
  const Point off = s.shoulder.front().p1 - s.shoulder.front().p0;
  const double drop = top.y - side_neck.y;
  Path path{curve_between(top,
                          {0.0, -1.0},
                          0.6 * drop,
                          Point((1 / geometry::length(off)) * off),
                          std::min(0.5 * drop, 0.6 * (side_neck.x - top.x)),
                          side_neck)};
  join(path, s.shoulder);
  const Point shoulder = path.back().p3, armpit{s.half_width.at(at.armpit), at.armpit};
  const double fall = 0.4 * (shoulder.y - armpit.y);
  path.push_back(curve_between(shoulder, {0.0, -1.0}, fall, {0.0, -1.0}, fall, armpit));
  join(path, s.half_width.run(at.armpit, at.ankle));
  const double outer = s.half_width.at(at.ankle), inner = s.inner_leg.at(at.ankle);
  const double spread = 0.12 * (outer - inner);
  line_to(path, {outer + spread, 0});
  line_to(path, {inner - spread, 0});
  join(path, s.inner_leg.run(at.ankle, at.crotch));
  return path;
}

}  // namespace

const Ratios& ratios_of(Build build) {
  return build == Build::woman ? kWoman : build == Build::man ? kMan : kChild;
}

Breadths breadths_of(const CompleteBody& body) {
  const Ratios& r = ratios_of(body.build);
  return {straight_or(body, B::bust_breadth, r.chest_breadth, B::bust_girth),
          straight_or(body, B::bust_depth, r.chest_depth, B::bust_girth),
          r.waist_breadth * body[B::waist_girth],
          r.waist_depth * body[B::waist_girth],
          straight_or(body, B::hip_breadth, r.hip_breadth, B::hip_girth),
          straight_or(body, B::hip_depth, r.hip_depth, B::hip_girth),
          r.deltoids_breadth * body[B::shoulder_girth]};
}

double Silhouette::reach(double height) const {
  if (height <= at.armpit) return half_width.at(height);
  const Point top = shoulder.front().p0, point = shoulder.back().p3;
  if (height >= top.y) return top.x;
  if (height <= point.y) {
    const double t = (height - at.armpit) / (point.y - at.armpit);
    return (1 - t) * half_width.at(at.armpit) + t * point.x;
  }
  double least = 0, most = 1;
  for (int i = 0; i < 40; ++i) {
    const double t = 0.5 * (least + most);
    (on_shoulder(t).y > height ? least : most) = t;
  }
  return on_shoulder(0.5 * (least + most)).x;
}

Section Silhouette::section(double height) const {
  return {reach(height), 0.5 * (front.at(height) - back.at(height)), squareness.at(height)};
}

Point Silhouette::on_shoulder(double share) const {
  const Curve& line = shoulder.front();
  if (share <= 1) return line.at(std::max(share, 0.0));
  return line.p3 + (share - 1) * Point(line.p3 - line.p0);
}

Silhouette silhouette_of(const CompleteBody& body) {
  Silhouette s{.at = heights_of(body),
               .straight = breadths_of(body),
               .neck_half = body[B::neck_base_girth] / 5 - 0.5,  // as the draft has it (frame.cc)
               .bust_x = 0.5 * body[B::bust_point_width],
               .stature = body[B::stature],
               .half_width = Course({{0, 0}}),
               .inner_leg = Course({{0, 0}}),
               .front = Course({{0, 0}}),
               .back = Course({{0, 0}}),
               .squareness = Course({{0, 2}}),
               .shoulder = {},
               .chest = {}};
  s.bust_x = std::min(s.bust_x, 0.45 * s.straight.chest);
  const Legs legs = legs_of(body, 0.5 * s.straight.hip);
  set_widths(s, body, legs);
  set_depths(s, body, legs);
  set_sections(s, body);
  s.shoulder = shoulder_of(s, kShoulderRun * body[B::shoulder_length]);
  return s;
}

Path body_outline(const Silhouette& s) {
  Path path = right_half(s);
  join(path, reversed(mirrored(right_half(s))));
  line_to(path, path.front().p0);
  return path;
}

Path side_outline(const Silhouette& s) {
  const Heights& at = s.at;
  const auto in_view = [&s](Path path) {
    for (Curve& c : path)
      for (Point* p : {&c.p0, &c.p1, &c.p2, &c.p3}) p->x = side_x(s, p->x);
    return path;
  };
  const double top = neck_top(s), length = 0.152 * s.stature;  // of the foot: common practice
  Path path = in_view(s.front.run(top, at.ankle));
  const double heel = s.back.at(at.ankle) - 0.012 * s.stature;
  const double toe = heel + length;
  const Point instep = path.back().p3, tip{side_x(s, toe), 0.35 * at.ankle};
  path.push_back(
      curve_between(instep, {0.0, -1.0}, 0.3 * at.ankle, {-0.97, -0.24}, 0.25 * length, tip));
  line_to(path, {side_x(s, toe), 0});
  line_to(path, {side_x(s, heel), 0});
  join(path, in_view(s.back.run(at.ankle, top)));
  line_to(path, path.front().p0);
  return path;
}

Path head_outline(const Silhouette& s) {
  // Breadth and length of a head are about 0.27 and 0.345 of its girth (common practice); its girth
  // stands in chin to crown.
  return egg(0, 0.34 * (s.at.crown - s.at.chin), s.at.crown, s.at.chin);
}

Path side_head_outline(const Silhouette& s) {
  const double half = 0.43 * (s.at.crown - s.at.chin);
  const double behind = s.back.at(s.at.chin) - 0.25 * half;
  return egg(side_x(s, behind + half), half, s.at.crown, s.at.chin);
}

Path arm_outline(const Silhouette& s, double clear) {
  const Heights& at = s.at;
  const double size = s.stature / kUsualStature;
  const Point shoulder = s.shoulder.back().p3, armpit{s.half_width.at(at.armpit), at.armpit};
  // Lengths of the arm over stature: ANSUR 1988, shoulder to elbow 0.19, to wrist 0.31; the hand's
  // is common practice. Upper arm as thick as the deltoids stand out, wrist a third of it.
  const double deltoid = std::max(0.5 * s.straight.deltoids, shoulder.x + 1.5 * size);
  const double thick = std::max(deltoid - armpit.x, 5 * size);
  const double hand = 0.39 * s.stature;
  const double out = std::max(clear + 2 * size - armpit.x, 0.0);
  const double lean = std::clamp(std::atan2(out, at.armpit - at.hip), radians(7), radians(16));
  const geometry::Turn<double> turn(lean);
  // As wide over the arms at the armpits as the deltoids are, however much the arms lean below.
  const double level = shoulder.y - 2 * size - at.armpit;
  const Point joint{deltoid - 0.5 * thick * turn.c - turn.s * level / turn.c,
                    shoulder.y - 2 * size};
  const auto place = [&](double down, double half) {
    return Point(joint + turn.vector({half * thick, -down}));
  };
  return through({shoulder,
                  {deltoid - 0.2 * thick, shoulder.y - 2.2 * size},
                  place(0.06 * s.stature, 0.5),
                  place(0.18 * s.stature, 0.40),
                  place(0.22 * s.stature, 0.38),
                  place(0.31 * s.stature, 0.24),
                  place(hand - 3 * size, 0.28),
                  place(hand, 0.05),
                  place(hand - 3 * size, -0.22),
                  place(0.31 * s.stature, -0.2),
                  place(0.2 * s.stature, -0.34),
                  {armpit.x + 0.12 * thick, armpit.y - 4 * size},
                  armpit});
}

}  // namespace easewright::figure
