#pragma once
// The cutter's sample body (shared notes of the trade): bust 92, under-bust 78, waist 74, hip 98,
// back waist 41, side neck over bust to waist 43.5, shoulder 12.5, slope 21 read on the silhouette;
// the rest as the notes assume them, and where they are silent the means of the open 1988 women
// (Gordon et al. 1989). And a draft on it, as a cutter would put it.

#include "model/body/body.h"
#include "model/garment/garment.h"
#include "model/garment/values.h"

namespace easewright::tests {

inline CompleteBody sample_body() {
  CompleteBody body;
  const auto set = [&body](BodyKey key, double value) {
    body.at(key) = {value, 0.25, Origin::measured};
  };
  using B = BodyKey;
  set(B::bust_girth, 92), set(B::underbust_girth, 78), set(B::waist_girth, 74),
      set(B::hip_girth, 98);
  set(B::upper_chest_girth, 88), set(B::shoulder_girth, 103), set(B::head_girth, 56.5),
      set(B::armscye_girth, 38.5);
  set(B::neck_base_girth, 37.5), set(B::neck_girth, 34), set(B::upper_arm_girth, 29.2);
  set(B::back_waist_length, 41), set(B::front_over_bust, 43.5), set(B::front_waist_length, 36);
  set(B::side_neck_to_bust_point, 26.5), set(B::bust_point_width, 18.5), set(B::scye_depth, 20.5);
  set(B::shoulder_length, 12.5), set(B::shoulder_slope, radians(18.5)), set(B::across_front, 32.5);
  set(B::across_back, 35.5), set(B::back_reach, 4.1), set(B::stature, 162.9),
      set(B::waist_height, 105);
  set(B::waist_height_front, 105), set(B::waist_height_back, 105), set(B::hip_height, 83.8);
  set(B::gluteal_fold_height, 74.4), set(B::crotch_height, 77.1), set(B::knee_height, 45.9),
      set(B::calf_height, 31.7);
  set(B::trochanter_height, 84.5), set(B::thigh_girth, 58), set(B::knee_girth, 36.5),
      set(B::calf_girth, 35.2);
  set(B::ankle_girth, 20.5), set(B::hip_breadth, 34.3), set(B::hip_breadth_sitting, 38.5),
      set(B::hip_depth, 22);
  set(B::waist_height_sitting, 25.6), set(B::thigh_clearance_sitting, 13.5),
      set(B::abdominal_depth_sitting, 22.3);
  set(B::buttock_knee_length, 58.9), set(B::armpit_height, 123.4), set(B::bust_height, 117.4);
  set(B::bust_breadth, 28), set(B::bust_depth, 24), set(B::underwear_strap_width, 1.5);
  set(B::bust_angle, radians(15.9)), set(B::blade_angle, radians(11)), set(B::age, 30);
  return body;
}

inline Values<double> sample_draft() {
  Values<double> v{};
  using K = ValueKey;
  v[K::neckline_depth] = 8, v[K::neckline_back_depth] = 3, v[K::strap_inset] = 2.5,
  v[K::strap_width] = 6;
  v[K::strap_slope] = radians(18.5), v[K::armhole_drop] = 1, v[K::armhole_front_edge] = 15,
  v[K::armhole_back_edge] = 16.75;
  v[K::bodice_front_underarm] = 24.5, v[K::bodice_back_underarm] = 23.5,
  v[K::bodice_front_waist] = 20;
  v[K::bodice_back_waist] = 18.5, v[K::shaping_dart_drop] = 6, v[K::elastic_length] = 66.6,
  v[K::casing_width] = 2.3;
  v[K::blade_neck] = radians(4), v[K::blade_shoulder] = radians(1.5),
  v[K::blade_armhole] = radians(5.5);
  v[K::casing_allowance] = 2.6, v[K::skirt_length] = 75, v[K::skirt_back_width] = 26,
  v[K::skirt_front_width] = 34;
  v[K::skirt_overlap] = 17, v[K::skirt_flare] = 4, v[K::slit_start] = 25.4,
  v[K::slit_run_in] = 15.24;
  v[K::hem_turn] = 0.6, v[K::belt_length] = 180, v[K::belt_width] = 4;
  return v;
}

}  // namespace easewright::tests
