#pragma once
// From what was measured to a complete body. Missing measures are estimated by linear regression on
// whatever is present. The coefficients are not a list of fixed models: measures are taken as
// jointly normal, with means, s.d. and correlations from the open 1988 survey (data/tables/), and
// the complete body is the conditional mean. So every subset of measures has its own best
// regression, with its own residual s.d., and the tape's error in the predictors shrinks them as it
// should.
//
// The waist has three levels, and each measure that runs to the waist is three variables, one a
// level. A measure that was taken at one level and is wanted at another is a conditional mean like
// any other: 4.0 (s.d. 1.7) cm of length and 3.3 of girth from natural to ISO, 7.4 (2.1) and 6.6 to
// the navel on average of women, more exactly from whatever else was measured.
//
// Soldiers were surveyed, and they are slimmer than the public; among them the broad are also tall.
// The moments are corrected for this selection (Pearson, Lawley) to people half of whom have
// stature, hip and waist of the US public (NHANES): what is estimated from all three changes
// little, from fewer a lot.
//
// Far from the people surveyed a line is an extrapolation. The s.d. grows there as in a
// multivariate t of f = kTailFreedom degrees of freedom, by sqrt(1 + (D2 - n) / (f + n)), D2 the
// squared Mahalanobis distance of the n measures given; and as if one measure alone did so, by
// sqrt(1 + (z2 - 4) / (f + 4)), z the farthest that any given measure lies from the soldiers' mean
// in their s.d. The larger counts, never below 1.

#include "model/body/body.h"

#include <string>
#include <vector>

namespace easewright {

/// One variable of the tables: a measure, at a waist level where it has one (`natural` where it has
/// not).
struct BodyVariable {
  BodyKey key = BodyKey::stature;
  WaistLevel level = WaistLevel::natural;
  friend constexpr bool operator==(BodyVariable, BodyVariable) = default;
};

inline constexpr int kMaxBodyVariables = 72;
inline constexpr double kTailFreedom = 10;

/// Means, s.d. and correlations of the measures of one build, derived from the open rows of
/// surveys. The shoulder slope is a garment's. Tables come from parse_body_tables().
struct Moments {
  std::vector<BodyVariable> variables;  ///< at most kMaxBodyVariables
  std::vector<double> mean;             ///< cm, rad
  std::vector<double> sd;
  std::vector<double> correlation;  ///< variables.size() squared, row major, positive definite
  std::vector<double> p01, p999;    ///< 0.1 and 99.9 percentiles: outside is unlikely
  std::vector<double> surveyed_mean, surveyed_sd;  ///< of the people surveyed, not corrected
  std::string source;                              ///< survey and number of people

  int find(BodyVariable variable) const;  ///< -1 when absent
};

/// Children have no table of their own, for want of an open one: see children.h.
struct BodyTables {
  Moments women, men;
};

struct BodyNote {
  enum class Kind { error, warning, info } kind = Kind::info;
  std::string key_path;  ///< 'measures.waist girth'; empty when it concerns the whole body
  std::string text;      ///< one line, with both values where two disagree
};

struct Completed {
  CompleteBody body;
  std::vector<BodyNote>
      notes;  ///< an error among them: the body is impossible and must not be used
};

/// Converts to the waist level that is wanted, estimates what is absent, finds bust and blade angle
/// from their evidence, and checks proportions. `to` is the level at which the garment's waist
/// lies. Measured values stay as measured, but for evidence of the same measure, with which they
/// are joined by their precisions. Order of notes: refused values, impossible pairs, warnings,
/// conversions; by the catalogue's order. With empty tables the answer is one error.
Completed complete(const Body& body, WaistLevel to, const BodyTables& tables);

bool has_error(const Completed& completed);

/// Covariance of the errors of a complete body's values, kBodyKeys squared, row major, cm and rad.
/// What was taped errs by itself; what was estimated from it errs with it and with all else that
/// was estimated. Measures without a table (angles, age, underwear) err alone, by their own s.d.
std::vector<double> error_covariance(const Body& body,
                                     const CompleteBody& complete,
                                     const BodyTables& tables);

}  // namespace easewright
