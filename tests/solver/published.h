#pragma once
// Reads test-problems.json: published optima, infeasible systems and levelled problems, each entry
// with its source.

#include "solver/problem.h"

#include <map>
#include <string>
#include <vector>

namespace easewright::tests {

/// Minimise constant + sum of squared residuals, or one objective, under constraints.
struct PublishedOptimum {
  std::string name, source;
  solver::Problem problem;  ///< constraints as musts, then residuals (squared) or the objective
                            ///< (absolute) as wishes
  int constraints = 0;
  bool squares = false;
  double constant = 0;
  double optimum = 0;         ///< f*
  double share = 1e-6;        ///< f may be off by this share (absolute below 1)
  bool start_reaches = true;  ///< false where the entry says that a local method may end elsewhere

  double objective(const std::vector<double>& g) const;
};

/// A system that can't hold, with every irreducible set of its members.
struct PublishedConflict {
  std::string name, source, why;
  solver::Problem problem;  ///< constraints, all musts
  bool linear = false;
  std::vector<std::vector<std::string>>
      irreducible;                       ///< members by name; bounds as 'x[k]>=v', 'x[k]<=v'
  std::map<std::string, double> single;  ///< how far one member has to give
  double least_sum = 0;
};

/// Outputs in levels with the totals that are due.
struct PublishedLevels {
  std::string name, source, why;
  solver::Problem problem;
  std::vector<double> x;  ///< the answer
  bool unique = true;
  bool tangent = false;                  ///< a slack e in one level buys sqrt(e) below
  std::map<std::string, double> totals;  ///< by level; squared misses are summed without the half
  std::map<std::string, double> misses;
};

std::vector<PublishedOptimum> published_optima();
std::vector<PublishedConflict> published_conflicts();
std::vector<PublishedLevels> published_levels();

}  // namespace easewright::tests
