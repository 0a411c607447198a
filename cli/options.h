#pragma once
// The command line as a struct, so that only one unit knows how it is parsed.

#include <optional>
#include <string>
#include <vector>

#include "cli/read/job.h"

namespace easewright {

/// The program's exit codes, as --help states them. Of several jobs the highest code counts.
enum ExitCode {
  kAllHolds = 0,       ///< every must and every should holds
  kSomethingMissed = 1,
  kBadInput = 2,       ///< a file or the command line is wrong, or a file can't be written; nothing was written
  kInternalError = 3,
};

enum class Command { fit, check, list };

/// How much of the report is printed.
enum class Length { full, brief };

struct Options {
  Command command = Command::fit;
  std::vector<std::string> jobs;
  std::string listed;               ///< what `list` lists
  Overrides overrides;
  std::optional<std::string> json;  ///< a path, or '-' for standard output
  Length length = Length::full;
};

/// What `list` knows.
const std::vector<std::string>& listable();

/// The options; or, after help, version or a mistake has been printed, the code to exit with.
struct ParsedOptions {
  std::optional<Options> options;
  int exit_code = kAllHolds;
};
ParsedOptions parse_options(int argc, char** argv);

}  // namespace easewright
