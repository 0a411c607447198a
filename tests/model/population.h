#pragma once
// A whole population through fit(), each result judged without the solver's own words: every rule
// that applies is evaluated again from its expression and limits at the returned draft, and held
// against what the findings say. No Catch2 in here, so that bodies can be judged on several
// threads; slips come back as sentences.

#include "model/fit.h"

#include <string>
#include <vector>

namespace easewright::tests {

/// A style and a cloth of data/, by name. Abort when they can't be read: nothing could be tested.
Style shipped_style(const std::string& name);
Cloth shipped_cloth(const std::string& name);

/// The body in a garment of this style from the choir's bolt, with no wishes but the style's.
Job population_job(const Body& body, const Style& style);

/// A wish for just this much, as a job file would say 'neckline depth: 18 cm'.
Wish just(const std::string& id, double value, double tolerance = 0.5);

/// CPU time of this thread so far, in milliseconds: machines are shared, walls lie.
double thread_cpu_ms();

/// One rule or wish, evaluated by the test.
struct Verdict {
  std::string name;
  solver::Level strength = solver::Level::should;
  double miss = 0;  ///< in tolerances, >= 0
  bool missed = false;
};

/// What the test makes of one result.
struct Judged {
  std::string label;
  bool refused = false;            ///< the body was called impossible; nothing else is set then
  std::vector<std::string> slips;  ///< what is wrong with the result itself; empty when all is well
  std::vector<Verdict> verdicts;   ///< each rule and wish that applies, musts to habits
  int musts = 0, shoulds = 0;      ///< that apply
  int missed_at[solver::kLevels] = {0, 0, 0, 0};
  double cpu_ms = 0;  ///< of fit()
  std::string route;  ///< option of 'put on' that was taken

  bool holds(solver::Level down_to) const;
};

/// Judges a result of fit(job, catalogue).
Judged judge(const Job& job, const Catalogue& catalogue, const FitResult& result);

/// Fits and judges all, on all processors; in the bodies' order.
std::vector<Judged> judge_all(const std::vector<Body>& bodies,
                              const Style& style,
                              const Catalogue& catalogue);

/// What the record keeps of a population: shares that hold, the rules missed most, CPU times. Not
/// for an empty one.
std::string summary(const std::string& title, const std::vector<Judged>& all);

}  // namespace easewright::tests
