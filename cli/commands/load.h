#pragma once
// What every command that works on jobs begins and ends with: all input is read before anything is
// computed, and nothing is written before all of it has been found good.

#include "cli/options.h"
#include "cli/read/complaint.h"
#include "cli/read/job.h"
#include "model/job.h"
#include "model/pattern/pieces.h"
#include "model/pose.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

struct Loaded {
  std::vector<LoadedJob> jobs;  ///< in the order of the command line
  Catalogue catalogue;
};

/// Nothing after a complaint.
std::optional<Loaded> load(const Options& options,
                           Draft draft,
                           Complaints& complaints,
                           Wearer wearer = Wearer::required);

/// 'at least 5 cm leaves no room below at most 4 cm (the table of values)'.
std::string words_of(const CrossedLimits& crossed);

/// The job's seam allowances, the usual ones where it gives none.
Allowances allowances_of(const LoadedJob& job, Complaints& complaints);

/// A file that was asked for.
struct Wanted {
  std::string path;  ///< '-': standard output, in place of the report
  std::string bytes;
};

/// Writes the files and the report, which goes to standard output: all of them, or none and
/// kBadInput after one line that says why. Returns `code` otherwise.
int deliver(const std::vector<Wanted>& files, const std::string& report, int code);

/// Prints the complaints to standard error, one line each, and returns kBadInput.
int refuse(const Complaints& complaints);

}  // namespace easewright
