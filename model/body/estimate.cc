#include "model/body/estimate.h"

#include "model/body/bust_angle.h"
#include "model/body/children.h"
#include "model/body/conditional.h"
#include "model/body/sanity.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using Kind = BodyNote::Kind;

// Shoulder slope: blocks run flatter than the bone points (25.7 deg in the 1988 women, 20 in
// blocks) and than the silhouette (practice). The correction itself is known to about a degree.
constexpr double kBoneToGarment = radians(-5.7);
constexpr double kSilhouetteToGarment = radians(-2.5);
constexpr double kSlopeReadingSd = radians(1);

// Nothing in a body tells these; practice, and said so in the report through their origin and s.d.
constexpr double kAdultAge = 40, kAdultAgeSd = 15;
constexpr double kChildAgeSd = 1.5;
constexpr double kBladeAngle = radians(11), kBladeAngleSd = radians(3);  // Bunka block, derived
constexpr double kStrapWidth = 1.5, kStrapWidthSd = 0.5;
constexpr double kUnknownChildStature = 130;

/// Index of every (key, level) in the moments, -1 where absent.
class Index {
 public:
  explicit Index(const Moments& moments) {
    for (auto& row : at_) row.fill(-1);
    for (size_t i = 0; i < moments.variables.size(); ++i) {
      const BodyVariable v = moments.variables[i];
      at_[static_cast<size_t>(v.key)][static_cast<size_t>(v.level)] = static_cast<int>(i);
    }
  }
  int operator()(BodyKey key, WaistLevel level) const {
    const WaistLevel used = depends_on_waist_level(key) ? level : WaistLevel::natural;
    return at_[static_cast<size_t>(key)][static_cast<size_t>(used)];
  }

 private:
  std::array<std::array<int, kWaistLevels>, kBodyKeys> at_;
};

BodyValue garment_slope(BodyValue slope, SlopeReading reading) {
  if (reading == SlopeReading::garment) return slope;
  slope.value += reading == SlopeReading::bone ? kBoneToGarment : kSilhouetteToGarment;
  slope.value = std::max(slope.value, 0.0);
  slope.sd = std::hypot(slope.sd, kSlopeReadingSd);
  if (slope.origin == Origin::measured) slope.origin = Origin::converted;
  return slope;
}

// What can be used of what was given: values in range, the slope a garment's.
Body usable(const Body& body) {
  Body result = body;
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    std::optional<BodyValue>& v = result[key];
    if (!v) continue;
    const bool fine = std::isfinite(v->value) && v->value >= least_possible(key, body.build) &&
                      v->value <= info(key).most && std::isfinite(v->sd) && v->sd >= 0;
    if (!fine) v.reset();
  }
  if (auto& slope = result[BodyKey::shoulder_slope])
    slope = garment_slope(*slope, body.slope_reading);
  result.slope_reading = SlopeReading::garment;
  std::erase_if(result.evidence, [](const BodyEvidence& e) {
    return e.terms.empty() || e.terms.front().second == 0 || !std::isfinite(e.value) ||
           !std::isfinite(e.sd) || !(e.sd > 0);
  });
  return result;
}

double stature_of_child(const Body& body, const BodyTables& tables) {
  if (const auto& stature = body[BodyKey::stature]) return stature->value;
  if (const auto& age = body[BodyKey::age]) return child_stature(age->value);
  // Whatever else was taped, as a share of what an adult has.
  double sum = 0, weight = 0;
  for (size_t i = 0; i < tables.women.variables.size(); ++i) {
    const BodyVariable v = tables.women.variables[i];
    if (!body[v.key] || info(v.key).dimension != kLength) continue;
    if (depends_on_waist_level(v.key) && v.level != body.waist_level) continue;
    const double relative_sd = tables.women.sd[i] / tables.women.mean[i];
    const double w = 1 / (relative_sd * relative_sd);
    sum += w * body[v.key]->value / tables.women.mean[i];
    weight += w;
  }
  if (!(weight > 0)) return kUnknownChildStature;
  return std::clamp(sum / weight * 163, info(BodyKey::stature).least, info(BodyKey::stature).most);
}

std::vector<Observation> observations_of(const Body& body, const Index& index) {
  std::vector<Observation> result;
  result.reserve(kMaxBodyVariables);
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    const std::optional<BodyValue>& v = body[key];
    const int at = index(key, body.waist_level);
    if (v && at >= 0 && v->origin != Origin::estimated)
      result.push_back({.variable = at, .value = v->value, .sd = v->sd});
  }
  return result;
}

/// Evidence as an observation, its first factor 1; nothing where the tables lack one of its
/// measures.
std::optional<Observation> observation_of(const BodyEvidence& evidence, const Index& index) {
  const double first = evidence.terms.front().second;
  Observation result{.variable = index(evidence.terms.front().first, evidence.waist_level),
                     .value = evidence.value / first,
                     .sd = evidence.sd / std::abs(first)};
  if (result.variable < 0) return std::nullopt;
  for (size_t i = 1; i < evidence.terms.size(); ++i) {
    const int at = index(evidence.terms[i].first, evidence.waist_level);
    if (at < 0) return std::nullopt;
    result.also.emplace_back(at, evidence.terms[i].second / first);
  }
  return result;
}

/// Both see the same sum: as good as one observation of their joint precision.
void merge(Observation& one, const Observation& other) {
  const double a = one.sd * one.sd, b = other.sd * other.sd;
  one.value += a / (a + b) * (other.value - one.value);
  one.sd = std::sqrt(a * b / (a + b));
}

/// Tapes, then what else speaks of the body. Several garments see the same sums, so that there are
/// never many; what is past kMaxBodyVariables is not used.
std::vector<Observation> all_observations_of(const Body& body, const Index& index) {
  std::vector<Observation> result = observations_of(body, index);
  const auto tapes = static_cast<std::ptrdiff_t>(result.size());
  for (const BodyEvidence& evidence : body.evidence) {
    auto observation = observation_of(evidence, index);
    if (!observation) continue;
    const auto same = std::find_if(result.begin() + tapes, result.end(), [&](const Observation& o) {
      return o.variable == observation->variable && o.also == observation->also;
    });
    if (same != result.end())
      merge(*same, *observation);
    else if (result.size() < static_cast<size_t>(kMaxBodyVariables))
      result.push_back(std::move(*observation));
  }
  return result;
}

/// Whether evidence is read for this measure.
bool is_evident(const Body& body, BodyKey key) {
  return std::any_of(body.evidence.begin(), body.evidence.end(), [key](const BodyEvidence& e) {
    return e.terms.front().first == key;
  });
}

/// A tape and the evidence for the same measure alone, by their precisions: a tape wins by its
/// smaller error.
BodyValue joined_with_evidence(const Body& body, BodyKey key) {
  BodyValue value = *body[key];
  if (!is_taped(value.origin)) return value;
  for (const BodyEvidence& e : body.evidence) {
    if (e.terms.size() != 1 || e.terms.front().first != key) continue;
    if (depends_on_waist_level(key) && e.waist_level != body.waist_level) continue;
    const double factor = e.terms.front().second;
    const double said = e.value / factor, variance = value.sd * value.sd;
    const double gain = variance / (variance + e.sd * e.sd / (factor * factor));
    value.value += gain * (said - value.value);
    value.sd *= std::sqrt(1 - gain);
  }
  return value;
}

// A given value stays as it is, unless it was taken at another waist level.
bool stands(const Body& body, BodyKey key, WaistLevel to) {
  return body[key] && (!depends_on_waist_level(key) || body.waist_level == to);
}

bool is_for_conversion(const Body& body, BodyKey key, WaistLevel to) {
  return body[key] && !stands(body, key, to) && body[key]->origin != Origin::estimated;
}

void fill_from_moments(const Body& body,
                       WaistLevel to,
                       const Moments& moments,
                       const Index& index,
                       const std::vector<Observation>& observations,
                       Completed& result) {
  std::vector<int> wanted;
  wanted.reserve(kBodyKeys);
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (stands(body, key, to)) {
      result.body.at(key) = joined_with_evidence(body, key);
    } else if (const int at = index(key, to); at >= 0) {
      wanted.push_back(at);
    }
  }
  const Conditional conditional = condition(moments, observations, wanted);
  for (const int at : wanted) {
    const BodyKey key = moments.variables[static_cast<size_t>(at)].key;
    result.body.at(key) = {.value = std::clamp(conditional.mean[static_cast<size_t>(at)],
                                               least_possible(key, body.build),
                                               info(key).most),
                           .sd = conditional.sd[static_cast<size_t>(at)],
                           .origin = is_for_conversion(body, key, to) ? Origin::converted
                                     : is_evident(body, key)          ? Origin::garment
                                                                      : Origin::estimated};
  }
}

void fill_untabled(const Body& body, Completed& result) {
  CompleteBody& full = result.body;
  const auto fill = [&](BodyKey key, double value, double sd) {
    const double kept = std::clamp(value, least_possible(key, body.build), info(key).most);
    if (!body[key]) full.at(key) = {.value = kept, .sd = sd, .origin = Origin::estimated};
  };
  const AngleEvidence bust = bust_angle(body.build,
                                        full.at(BodyKey::bust_girth),
                                        full.at(BodyKey::underbust_girth),
                                        full.at(BodyKey::upper_chest_girth));
  fill(BodyKey::bust_angle, bust.angle, bust.sd);
  fill(BodyKey::blade_angle, kBladeAngle, kBladeAngleSd);
  if (body.build == Build::woman)
    fill(BodyKey::underwear_strap_width, kStrapWidth, kStrapWidthSd);
  else
    fill(BodyKey::underwear_strap_width, 0, 0);
  if (body.build == Build::child)
    fill(BodyKey::age, child_age(full[BodyKey::stature]), kChildAgeSd);
  else
    fill(BodyKey::age, kAdultAge, kAdultAgeSd);
}

/// Evidence this many s.d. from what the tapes make of it, its own error counted, is said.
constexpr double kOddEvidence = 3.5;

void warn_odd_evidence(const Body& body,
                       const Moments& moments,
                       const Index& index,
                       const std::vector<Observation>& tapes,
                       Completed& result) {
  for (const BodyEvidence& evidence : body.evidence) {
    const auto observation = observation_of(evidence, index);
    if (!observation) continue;
    const LeftOut odd = compare(moments, tapes, *observation);
    if (std::abs(odd.difference) <= kOddEvidence * odd.sd) continue;
    const BodyKey key = evidence.terms.front().first;
    const double made = condition(moments, tapes, {observation->variable})
                            .mean[static_cast<size_t>(observation->variable)];
    const bool any = !tapes.empty();
    result.notes.push_back(
        {.kind = Kind::warning,
         .key_path = "garment that fits." + evidence.from,
         .text = fmt::format(
             "{} makes the {} {}; {} {}, and that is {:.1f} s.d. apart: read it again, or "
             "the garment does not fit as it says",
             evidence.from,
             spoken(info(key).id),
             format_body_value(key, made + odd.difference),
             any ? "the tapes make it" : "the people surveyed have",
             format_body_value(key, made),
             std::abs(odd.difference) / odd.sd)});
  }
}

void note_conversions(const Body& body, WaistLevel to, Completed& result) {
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (!is_for_conversion(body, key, to)) continue;
    const BodyValue& now = result.body.at(key);
    const std::string name = spoken(info(key).id);
    result.notes.push_back(
        {.kind = Kind::info,
         .key_path = "measures." + name,
         .text = fmt::format("{} {} at the {} waist is {} (s.d. {}) at the {} waist",
                             name,
                             format_body_value(key, body[key]->value),
                             to_string(body.waist_level),
                             format_body_value(key, now.value),
                             format_body_value(key, now.sd),
                             to_string(to))});
  }
}

void warn_of_build(const Body& body, Completed& result) {
  const auto& age = body[BodyKey::age];
  if (body.build == Build::child)
    result.notes.push_back(
        {.kind = Kind::warning,
         .key_path = {},
         .text = "there is no table of children: what is estimated scales an adult's "
                 "proportions by stature, s.d. 5 to 11 %; tape as much as you can"});
  if (body.build == Build::child && age && age->value > 18)
    result.notes.push_back(
        {.kind = Kind::warning,
         .key_path = "measures.age",
         .text = fmt::format("{} is no child's age", format_body_value(BodyKey::age, age->value))});
  if (body.build != Build::child && age && age->value < 14)
    result.notes.push_back({.kind = Kind::warning,
                            .key_path = "measures.age",
                            .text = fmt::format("{} is a child's age; the build is an adult's",
                                                format_body_value(BodyKey::age, age->value))});
}

}  // namespace

int Moments::find(BodyVariable variable) const {
  const auto at = std::find(variables.begin(), variables.end(), variable);
  return at == variables.end() ? -1 : static_cast<int>(at - variables.begin());
}

Body as_given(const CompleteBody& body) {
  Body result{.label = body.label,
              .build = body.build,
              .waist_level = body.waist_level,
              .slope_reading = SlopeReading::garment,
              .given = {},
              .evidence = {}};
  std::copy(body.values.begin(), body.values.end(), result.given.begin());
  return result;
}

bool has_error(const Completed& completed) {
  return std::any_of(completed.notes.begin(), completed.notes.end(), [](const BodyNote& note) {
    return note.kind == Kind::error;
  });
}

Completed complete(const Body& body, WaistLevel to, const BodyTables& tables) {
  Completed result;
  result.body.label = body.label;
  result.body.build = body.build;
  result.body.waist_level = to;
  const bool child = body.build == Build::child;
  if (tables.women.variables.empty() ||
      (body.build != Build::woman && tables.men.variables.empty())) {
    result.notes.push_back(
        {.kind = Kind::error, .key_path = {}, .text = "the body tables are empty"});
    return result;
  }

  const Body known = usable(body);
  Moments scaled;
  if (child) scaled = child_moments(tables, stature_of_child(known, tables));
  const Moments& moments = child ? scaled : body.build == Build::man ? tables.men : tables.women;
  const Index index(moments);
  const std::vector<Observation> tapes = observations_of(known, index);

  refuse_values(body, &moments, result.notes);
  fill_from_moments(known, to, moments, index, all_observations_of(known, index), result);
  fill_untabled(known, result);
  check_pairs(result.body, result.notes);
  warn_of_build(known, result);
  if (!child) {
    warn_unlikely(known, moments, result.notes);
    warn_mixed_levels(known, moments, result.notes);
  }
  warn_odd_one_out(moments, tapes, result.notes);
  warn_odd_evidence(known, moments, index, tapes, result);
  note_conversions(known, to, result);
  return result;
}

std::vector<double> error_covariance(const Body& body,
                                     const CompleteBody& complete,
                                     const BodyTables& tables) {
  std::vector<double> result(static_cast<size_t>(kBodyKeys) * kBodyKeys, 0.0);
  for (int i = 0; i < kBodyKeys; ++i) {
    const double sd = complete.values[static_cast<size_t>(i)].sd;
    result[static_cast<size_t>(i) * (kBodyKeys + 1)] = sd * sd;
  }
  if (tables.women.variables.empty() || tables.men.variables.empty()) return result;
  const Body known = usable(body);
  const bool child = body.build == Build::child;
  Moments scaled;
  if (child) scaled = child_moments(tables, stature_of_child(known, tables));
  const Moments& moments = child ? scaled : body.build == Build::man ? tables.men : tables.women;
  const Index index(moments);
  std::vector<int> wanted;
  std::vector<size_t> keys;
  for (int i = 0; i < kBodyKeys; ++i) {
    const int at = index(static_cast<BodyKey>(i), complete.waist_level);
    if (at < 0) continue;
    wanted.push_back(at);
    keys.push_back(static_cast<size_t>(i));
  }
  const std::vector<double> joint =
      conditional_covariance(moments, all_observations_of(known, index), wanted);
  for (size_t a = 0; a < keys.size(); ++a) {
    for (size_t b = 0; b < keys.size(); ++b) {
      result[keys[a] * kBodyKeys + keys[b]] = joint[a * keys.size() + b];
    }
  }
  return result;
}

}  // namespace easewright
