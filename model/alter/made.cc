#include "model/alter/made.h"

#include "model/garment/bodice_measures.h"
#include "model/garment/skirt.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using K = ValueKey;
using M = MeasureKey;

constexpr std::string_view kSeamWords[] = {
#define EASEWRIGHT_X(name, word, allowance) word,
    EASEWRIGHT_SEAMS(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};
constexpr double kUsualAllowance[] = {
#define EASEWRIGHT_X(name, word, allowance) allowance,
    EASEWRIGHT_SEAMS(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};

constexpr std::string_view kFinishWords[] = {
#define EASEWRIGHT_X(name, word, minutes) word,
    EASEWRIGHT_FINISHES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};
constexpr double kFinishMinutes[] = {
#define EASEWRIGHT_X(name, word, minutes) minutes,
    EASEWRIGHT_FINISHES(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};

/// Of what the cut left in neckline and armhole, the neckline's part; half where it left none. A
/// tenth of a degree is none: a solver's zeros don't decide.
double part_of(double neck, double armhole) {
  const double none = radians(0.1);
  const double n = std::max(neck, 0.0), a = std::max(armhole, 0.0);
  return (n + 0.5 * none) / (n + a + none);
}

/// Shaping that the body needs and the cloth has not is left in the edges; what the cloth has too
/// much of makes them tight.
void leave(double excess, double to_neck, double& neck, double& armhole) {
  const double more = excess - (neck + armhole);
  neck += to_neck * more;
  armhole += (1 - to_neck) * more;
}

/// The draft values as a body reads them. Both strap ends lie on the body's shoulder where they lay
/// on that of the cut: levels above the bust go with the shoulders, and what is over or short shows
/// between them and the waist, the mean as blouson, the front less the back at the centre front.
Values<double> values_on(const Made& made, const Frame& f) {
  const Frame& a = made.cut_for;
  Values<double> v = made.values;
  const double front = (a.front_neck_y + a.balance_shift) - (f.front_neck_y + f.balance_shift) -
                       0.5 * made.front_shorter;
  const double back = a.back_neck_y - f.back_neck_y + 0.5 * made.front_shorter;
  const double longer = 0.5 * (front + back);
  v[K::bodice_blouson] += longer;
  v[K::bodice_centre_front] += back - front;
  v[K::strap_inset] += (a.neck_half - f.neck_half) / std::cos(v[K::strap_slope]);
  v[K::neckline_depth] += a.neck_depth - f.neck_depth;
  v[K::neckline_back_depth] += a.neck_rise - f.neck_rise;
  v[K::armhole_drop] += f.armpit_y - a.armpit_y + longer;
  leave(f.theta - made.bust_shaping, made.bust_to_neck, v[K::shaping_neck], v[K::shaping_armhole]);
  leave(f.beta - made.blade_shaping, made.blade_to_neck, v[K::blade_neck], v[K::blade_armhole]);
  return v;
}

/// The cloth with this body's levels and points in it.
Bodice<double> cloth_on(const Made& made, const Frame& f, const Values<double>& v) {
  Bodice<double> bodice = made.bodice;
  BodiceFigures<double>& figures = bodice.figures;
  figures.underarm_y =
      made.cut_for.armpit_y + made.values[K::bodice_blouson] - made.values[K::armhole_drop];
  figures.bust_y = f.bust_y + v[K::bodice_blouson] + f.balance_shift;
  figures.waist_share = f.theta - v[K::shaping_neck] - v[K::shaping_armhole] - v[K::shaping_side];
  figures.blade_waist = f.beta - v[K::blade_neck] - v[K::blade_shoulder] - v[K::blade_armhole];
  figures.strap_angle = bodice_steps::strap_angle(bodice.front);
  bodice.front.pivot = {f.bust_x, figures.bust_y};
  bodice.back.pivot = {f.blade_x, f.back_neck_y + v[K::bodice_blouson] - f.blade_below};
  return bodice;
}

/// What folds took out of the edges, what stretching added, and what was left at the waist of a
/// tapered side. A stretched edge has nowhere to go: all of it stands off.
void take_folds(const Made& made, Measures<double>& m) {
  m[M::neckline_front] -= made.neck_folded;
  m[M::neckline_back] -= made.back_neck_folded;
  m[M::neckline_edge] -= 2 * (made.neck_folded + made.back_neck_folded);
  m[M::armhole_front] -= made.armhole_folded;
  m[M::armhole_girth] -= made.armhole_folded;
  m[M::armhole_ease] -= made.armhole_folded;
  m[M::neckline_front] += made.neck_stretched;
  m[M::neckline_edge] += 2 * made.neck_stretched;
  for (const M key : {M::neckline_slack, M::neckline_slack_bias, M::neckline_slack_leaning})
    m[key] += made.neck_stretched;
  m[M::armhole_front] += made.armhole_stretched;
  m[M::armhole_girth] += made.armhole_stretched;
  m[M::armhole_ease] += made.armhole_stretched;
  for (const M key : {M::armhole_slack, M::armhole_slack_bias}) m[key] += made.armhole_stretched;
  m[M::skirt_waist] += 4 * made.skirt_waist_kept;
}

/// A front whose armhole edges are cut back has lost cloth there, but its neck edge is as long as
/// it was: the width that stood off in it stays.
void keep_neck_width(
    const Made& made, const Frame& body, const Bodice<double>& cloth, M key, Measures<double>& m) {
  geometry::Directions<double> edge = geometry::directions(cloth.front.neck[0]);
  if (cloth.front.neck_curves == 2) edge = edge + geometry::directions(cloth.front.neck[1]);
  m[key] += made.front_scooped / (0.5 * body.body[BodyKey::across_front]) * edge.across;
}

}  // namespace

std::string_view to_string(Finish finish) { return kFinishWords[static_cast<size_t>(finish)]; }
double minutes_to_open(Finish finish) { return kFinishMinutes[static_cast<size_t>(finish)]; }

bool skirt_has(ValueKey key) { return key >= K::elastic_length; }

bool skirt_has(MeasureKey key) {
  const bool of_its_casing = key >= M::dressing_elastic && key <= M::casing_opening &&
                             key != M::gather_ratio && key != M::gather_front_ratio;
  return of_its_casing || (key >= M::skirt_hip && key != M::skirt_waist_mismatch);
}

double bust_point_off(const Made& made, const Worn& worn) {
  const double front_less_back =
      worn.values[K::bodice_centre_front] - made.values[K::bodice_centre_front];
  return made.bodice.figures.bust_y - (worn.bodice.figures.bust_y - 0.5 * front_less_back);
}

std::string_view to_string(SeamKey key) { return kSeamWords[static_cast<size_t>(key)]; }

std::string_view to_string(MadeKind kind) {
  return kind == MadeKind::dress ? "dress" : kind == MadeKind::top ? "top" : "skirt";
}

Made made_from(const Frame& frame, const Values<double>& values, MadeKind kind) {
  Made made;
  made.kind = kind;
  made.switches = frame.switches;
  made.cloth = frame.cloth;
  made.cut_for = frame;
  made.values = values;
  made.bodice = draft_bodice<double>(frame, BodiceValues<double>{values.at.data()});
  made.bust_shaping = frame.theta - values[K::shaping_neck] - values[K::shaping_armhole];
  made.blade_shaping = frame.beta - values[K::blade_neck] - values[K::blade_armhole];
  made.bust_to_neck = part_of(values[K::shaping_neck], values[K::shaping_armhole]);
  made.blade_to_neck = part_of(values[K::blade_neck], values[K::blade_armhole]);
  for (size_t i = 0; i < kSeamKeys; ++i) {
    made.seams[i].allowance = kUsualAllowance[i];
    // A fraying cloth keeps more; a lined edge has nothing to let out (trade practice).
    made.seams[i].keep = made.cloth.stretch > 0 ? 0.5 : 0.6;
  }
  made.seam(SeamKey::waist).keep = 0.8;
  made.seam(SeamKey::centre_back).keep = 0.8;
  made.seam(SeamKey::hem).keep = 1.5;
  return made;
}

Worn wear(const Made& made, const Frame& body) {
  Worn worn;
  worn.values = values_on(made, body);
  worn.hem_up = made.hem_up;
  worn.bodice = cloth_on(made, body, worn.values);
  const BodiceValues<double> bodice{worn.values.at.data()};
  measure_bodice<double>(body, bodice, worn.bodice, worn.measures.at.data());
  measure_skirt<double>(
      body, SkirtValues<double>{worn.values.at.data() + kSkirtFirst}, worn.measures.at.data());
  take_folds(made, worn.measures);
  for (const M key : {M::neckline_slack, M::neckline_slack_width, M::neckline_slack_leaning})
    keep_neck_width(made, body, worn.bodice, key, worn.measures);
  if (body.skirt) {
    worn.measures[M::skirt_waist_mismatch] =
        worn.measures[M::skirt_waist] - worn.measures[M::bodice_waist];
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto key = static_cast<MeasureKey>(i);
    worn.measures[key] += made.sewn_off[key];
    if (!has_measure(body.switches, key)) worn.measures[key] = 0;
  }
  for (size_t k = 0; k < kValueKeys; ++k) worn.values.at[k] += made.values_off.at[k];
  return worn;
}

}  // namespace easewright
