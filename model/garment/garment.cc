#include "model/garment/garment.h"

#include "model/garment/bodice_measures.h"
#include "model/garment/skirt.h"
#include "model/geometry/chained.h"

#include <algorithm>

#include <ceres/jet.h>

namespace easewright {
namespace {

// Jets whose width is a multiple of four run twice as fast as odd ones (vector code).
constexpr int kBodiceJet = (kBodiceValues + 3) / 4 * 4;
constexpr int kSkirtJet = (kSkirtValues + 3) / 4 * 4;

template <typename T>
void measure_blocks(const Frame& frame, const T* bodice_values, T* measures) {
  const BodiceValues<T> values{bodice_values};
  const Bodice<T> bodice = draft_bodice<T>(frame, values);
  measure_bodice(frame, values, bodice, measures);
}

constexpr size_t at(MeasureKey key) { return static_cast<size_t>(key); }

constexpr bool is_skirt_measure(int i) { return i >= static_cast<int>(MeasureKey::skirt_hip); }

}  // namespace

Measures<double> measure(const Frame& frame, const Values<double>& values) {
  Measures<double> m{};
  measure_blocks<double>(frame, values.at.data(), m.at.data());
  measure_skirt<double>(frame, SkirtValues<double>{values.at.data() + kSkirtFirst}, m.at.data());
  if (frame.skirt) {
    m.at[at(MeasureKey::skirt_waist_mismatch)] =
        m[MeasureKey::skirt_waist] - m[MeasureKey::bodice_waist];
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto key = static_cast<MeasureKey>(i);
    if (!has_measure(frame.switches, key)) m[key] = 0;
  }
  return m;
}

void measure_with_jacobian(const Frame& frame,
                           const Values<double>& values,
                           Measures<double>& measures,
                           double* jacobian) {
  using BodiceJet = ceres::Jet<double, kBodiceJet>;
  using SkirtJet = ceres::Jet<double, kSkirtJet>;
  // Kept between calls: clearing this much memory took a third of the time.
  thread_local std::array<BodiceJet, kMeasureKeys> bodice;
  thread_local std::array<SkirtJet, kMeasureKeys> skirt;
  std::array<BodiceJet, kBodiceValues> bodice_values;
  for (int i = 0; i < kBodiceValues; ++i) {
    bodice_values[static_cast<size_t>(i)] = BodiceJet(values.at[static_cast<size_t>(i)], i);
  }
  std::array<SkirtJet, kSkirtValues> skirt_values;
  for (int i = 0; i < kSkirtValues; ++i) {
    skirt_values[static_cast<size_t>(i)] =
        SkirtJet(values.at[static_cast<size_t>(i + kSkirtFirst)], i);
  }
  measure_blocks<BodiceJet>(frame, bodice_values.data(), bodice.data());
  measure_skirt<SkirtJet>(frame, SkirtValues<SkirtJet>{skirt_values.data()}, skirt.data());
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto k = static_cast<size_t>(i);
    double* row = jacobian + i * kValueKeys;
    if (!has_measure(frame.switches, static_cast<MeasureKey>(i))) {
      measures.at[k] = 0;
      std::fill_n(row, kValueKeys, 0.0);
    } else if (is_skirt_measure(i)) {
      measures.at[k] = skirt[k].a;
      std::fill_n(row, kSkirtFirst, 0.0);
      std::copy_n(skirt[k].v.data(), kSkirtValues, row + kSkirtFirst);
    } else {
      measures.at[k] = bodice[k].a;
      std::copy_n(bodice[k].v.data(), kBodiceValues, row);
      std::fill_n(row + kBodiceValues, kValueKeys - kBodiceValues, 0.0);
    }
  }
  if (frame.skirt) {
    const size_t mismatch = at(MeasureKey::skirt_waist_mismatch),
                 of_skirt = at(MeasureKey::skirt_waist), of_bodice = at(MeasureKey::bodice_waist);
    measures.at[mismatch] = measures.at[of_skirt] - measures.at[of_bodice];
    for (size_t j = 0; j < kValueKeys; ++j) {
      jacobian[mismatch * kValueKeys + j] =
          jacobian[of_skirt * kValueKeys + j] - jacobian[of_bodice * kValueKeys + j];
    }
  }
}

bool has_measure(const Switches& switches, MeasureKey key) {
  const auto within = [key](MeasureKey first, MeasureKey last) {
    return key >= first && key <= last;
  };
  using M = MeasureKey;
  if (within(M::skirt_hip, M::hem_edge_fullness)) {
    if (switches.is(Switch::skirt, "none")) return false;
    if (within(M::slit_opening, M::slit_edge_length) || key == M::hem_edge_fullness ||
        key == M::skirt_overlap_share) {
      return switches.is(Switch::skirt, "wrapped");
    }
    return true;
  }
  if (within(M::belt_over_waist, M::belt_strip_width)) return switches.is(Switch::belt, "tied");
  if (within(M::dressing_elastic, M::dressing_strain) ||
      within(M::elastic_tightening, M::elastic_pressure) ||
      within(M::gather_ratio, M::casing_opening)) {
    return switches.is(Switch::waist, "elastic");
  }
  if (within(M::shaping_side_width, M::shaping_dart_tilt))
    return switches.is(Switch::side_dart, "sewn");
  return true;
}

}  // namespace easewright
