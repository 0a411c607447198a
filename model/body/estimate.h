#pragma once
// From what was measured to a complete body. Missing measures are estimated by linear regression on whatever is
// present. The coefficients are not a list of fixed models: they follow from the means, s.d. and correlations of the
// open 1988 survey (data/tables/), so that every subset of measures has its own best regression, with its own
// residual s.d., and the tape's error in the predictors shrinks them as it should.

#include <string>
#include <vector>

#include "model/body/body.h"

namespace easewright {

/// Means, s.d. and correlations of the measures of one build, over the open rows of a survey.
struct Moments {
  std::vector<BodyKey> keys;
  std::vector<double> mean;
  std::vector<double> sd;
  std::vector<double> correlation;  ///< keys.size() squared, row major
  std::vector<double> p01, p999;    ///< 0.1 and 99.9 percentiles: outside is unlikely
  std::string source;               ///< survey and number of people
};

struct BodyTables {
  Moments women, men, children;
};

struct BodyNote {
  enum class Kind { error, warning, info } kind = Kind::info;
  std::string key_path;  ///< 'measures.waist girth'; empty when it concerns the whole body
  std::string text;      ///< one line, with both values where two disagree
};

struct Completed {
  CompleteBody body;
  std::vector<BodyNote> notes;  ///< an error among them: the body is impossible and must not be used
};

/// Converts to the waist level that is wanted, estimates what is absent, finds bust and blade angle from their
/// evidence, and checks proportions. `to` is the level at which the garment's waist lies.
Completed complete(const Body& body, WaistLevel to, const BodyTables& tables);

}  // namespace easewright
