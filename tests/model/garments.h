#pragma once
// Shipped styles over open bodies, fitted, for the tests that walk their pieces.

#include "tests/model/demo.h"
#include "tests/model/population.h"
#include "tests/model/survey.h"

#include <memory>
#include <string>
#include <vector>

#include <tbb/parallel_for.h>

namespace easewright::tests {

inline const std::vector<std::string>& shipped_styles() {
  static const std::vector<std::string> names{
      "concert dress", "concert top", "fitted dress", "junior dress"};
  return names;
}

/// So many bodies, spread evenly over the women of 1988 and of 2012 and the men of 1988 (two, one
/// and one part); empty when the surveys are absent.
inline std::vector<Body> open_bodies(size_t count) {
  std::vector<Body> bodies;
  const auto take = [&](const std::vector<Body>& all, size_t some) {
    for (size_t i = 0; i < some && !all.empty(); ++i) bodies.push_back(all[i * all.size() / some]);
  };
  take(survey_women_1988(), count / 2);
  take(survey_women_2012(), count / 4);
  take(survey_men_1988(), count - count / 2 - count / 4);
  return bodies;
}

/// Fits on all processors, in the bodies' order; impossible bodies are left out.
inline std::vector<FitResult> fitted(const std::vector<Body>& bodies, const std::string& style) {
  const Style chosen = shipped_style(style);
  const Catalogue& catalogue = shipped_catalogue();
  std::vector<FitResult> all(bodies.size());
  tbb::parallel_for(size_t{0}, bodies.size(), [&](size_t i) {
    all[i] = fit(population_job(bodies[i], chosen), catalogue);
  });
  std::vector<FitResult> possible;
  for (FitResult& r : all)
    if (r.posed) possible.push_back(std::move(r));
  return possible;
}

}  // namespace easewright::tests
