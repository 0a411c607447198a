#pragma once
// A choir job, fitted, with its pieces: what the tests of drawings draw.

#include "cli/commands/load.h"
#include "model/fit.h"
#include "model/pattern/pieces.h"
#include "scratch.h"

#include <stdexcept>
#include <string>
#include <vector>

namespace easewright::tests {

struct CutJob {
  Job job;
  FitResult result;
  std::vector<Piece> pieces;
};

inline CutJob cut_job(const std::string& name, const std::vector<std::string>& switches = {}) {
  Options options;
  options.jobs = {choir_job(name)};
  options.overrides.switches = switches;
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  if (!loaded) throw std::runtime_error("can't read " + name);
  CutJob cut;
  cut.job = loaded->jobs.front().job;
  cut.result = fit(cut.job, loaded->catalogue);
  cut.pieces = pieces_of(cut.result, {}, {cut.job.body.label, cut.job.label, "", cut.job.unit});
  return cut;
}

}  // namespace easewright::tests
