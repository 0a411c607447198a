#pragma once
// What every command that works on jobs begins and ends with: all input is read before anything is
// computed, and nothing is written before all of it has been found good.

#include "cli/options.h"
#include "cli/read/complaint.h"
#include "cli/read/job.h"
#include "model/job.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

struct Loaded {
  std::vector<LoadedJob> jobs;  ///< in the order of the command line
  Catalogue catalogue;
};

/// Nothing after a complaint.
std::optional<Loaded> load(const Options& options, Draft draft, Complaints& complaints);

/// A file that was asked for.
struct Wanted {
  std::string path;
  std::string bytes;
};

/// Writes the files, each whole or not at all, then the text to standard output. Returns `code`; or
/// kBadInput after a complaint, and then prints no text.
int deliver(const std::vector<Wanted>& files, const std::string& text, int code);

/// Prints the complaints to standard error, one line each, and returns kBadInput.
int refuse(const Complaints& complaints);

}  // namespace easewright
