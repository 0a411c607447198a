// easewright: reads as a table of contents. Each command has its file under cli/commands/.

#include "cli/commands/alter.h"
#include "cli/commands/check.h"
#include "cli/commands/cut.h"
#include "cli/commands/figure.h"
#include "cli/commands/fit.h"
#include "cli/commands/group.h"
#include "cli/commands/list.h"
#include "cli/commands/map.h"
#include "cli/commands/reach.h"
#include "cli/commands/sizes.h"
#include "cli/commands/slip.h"
#include "cli/options.h"

#include <cstdio>
#include <exception>

#include <fmt/format.h>

namespace easewright {
namespace {

int run(const Options& options) {
  switch (options.command) {
    case Command::fit:
      return run_fit(options);
    case Command::check:
      return run_check(options);
    case Command::reach:
      return run_reach(options);
    case Command::map:
      return run_map(options);
    case Command::slip:
      return run_slip(options);
    case Command::alter:
      return run_alter(options);
    case Command::figure:
      return run_figure(options);
    case Command::cut:
      return run_cut(options);
    case Command::group:
      return run_group(options);
    case Command::sizes:
      return run_sizes(options);
    case Command::list:
      return run_list(options);
  }
  return kInternalError;
}

}  // namespace
}  // namespace easewright

int main(int argc, char** argv) {
  try {
    const auto [options, exit_code] = easewright::parse_options(argc, argv);
    return options ? easewright::run(*options) : exit_code;
  } catch (const std::exception& e) {
    std::fputs(fmt::format("easewright: internal error: {}\n", e.what()).c_str(), stderr);
    return easewright::kInternalError;
  }
}
