#pragma once
// The command line as a struct, so that only one unit knows how it is parsed.

#include "cli/draw/paper.h"
#include "cli/read/job.h"
#include "model/pattern/nest.h"

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace easewright {

/// The program's exit codes, as --help states them. Of several jobs the highest code counts.
enum ExitCode {
  kAllHolds = 0,  ///< every must and every should holds
  kSomethingMissed = 1,
  kBadInput =
      2,  ///< a file or the command line is wrong, or a file can't be written; nothing was written
  kInternalError = 3,
};

enum class Command { fit, check, list, reach, map, cut, slip, figure, alter, group, sizes };

/// How much of the report is printed: one line a job, one screen, or with every rule's sureness.
enum class Length { brief, usual, all };

/// Whether a miss is explained and what would settle it is looked for.
enum class Why { told, skipped };

/// Whether the report says what one more centimetre of each wish does.
enum class Effects { left_out, told };

/// Whether `cut` plans how the pieces lie on the cloth.
enum class Plan { drawn, left_out };

struct Options {
  Command command = Command::fit;
  std::vector<std::string> jobs;
  std::string listed;  ///< what `list` lists
  Overrides overrides;
  std::optional<std::string> json;  ///< a path, or '-' for standard output
  Length length = Length::usual;
  Why why = Why::told;
  Effects effects = Effects::left_out;
  std::optional<double>
      sure;  ///< probability with which musts and shoulds are to hold, in (0.5, 1)
  std::vector<std::string>
      values;  ///< what `reach` is asked about; the two axes of `map`, each with or without a range
  int columns = 48, rows = 48;  ///< of the map
  int threads = 0;              ///< 0: as many as the machine has
  std::optional<std::string> csv, svg;
  std::optional<std::string> slip;    ///< where the slip goes in place of standard output
  std::optional<std::string> html;    ///< of `fit`
  int plans = 3;                      ///< how many `alter` hands out at most
  std::optional<std::string> figure;  ///< the file that `figure` draws into, or '-'
  std::optional<int> figure_plan;     ///< of an alteration, which `figure` draws
  std::string out;                    ///< the folder that `cut` and `group` write into; empty: none
  std::optional<draw::Paper> paper;   ///< nothing: as the unit has it
  std::optional<Layering> layering;   ///< nothing: as the cloth wants it
  Plan plan = Plan::drawn;
  std::string date;               ///< as it is printed; empty: none
  bool sewing = false;            ///< whether `group` plans the cutting of all its garments
  int count = 4;                  ///< of drafts, that `sizes` chooses
  double worth_minutes = 40;      ///< of a tolerance of a should
  double own_minutes = 600;       ///< of a garment of one's own
  std::string bodies;             ///< of `group` and `sizes`: a CSV file or a folder of body files
  std::vector<std::string> same;  ///< what all of its rows share: 'waist level natural'
  std::optional<std::pair<std::uint32_t, std::uint32_t>>
      body_rows;  ///< which of them, first and last, from 1
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
