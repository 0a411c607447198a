#pragma once
// A job file: who, from what, which style, and what is wished for.
//
//   job: alto 2, concert dress
//   body: ../bodies/alto-2.yaml     # a path, or the body itself as a map
//   cloth: choir bolt               # a name in data/cloths, a path, or a map
//   style: concert dress            # a name in data/styles, a path, or a map
//   switches: {side dart: sewn}
//   wishes: {neckline depth: 12 cm}
//   units: cm                       # or in: what the report is written in
//   draft: {neckline depth: 12 cm}  # for `check`: the values as drafted
//   allowances: {side: 2 cm}        # for `cut`: allowances.h
//   made: ...                       # for `alter`, as are the faults: in_hand.h
//   faults: ...
//
// Relative paths start at the file that names them.

#include "cli/read/body.h"
#include "cli/read/complaint.h"
#include "model/job.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// What the command line says instead of the files.
struct Overrides {
  std::vector<std::string> wishes = {};    ///< 'neckline depth 20 cm'
  std::vector<std::string> limits = {};    ///< 'armhole drop at most 7 cm'
  std::vector<std::string> measures = {};  ///< 'bust girth 94 cm'
  std::vector<std::string> switches = {};  ///< 'side dart sewn'
  std::optional<std::string> style = {},
                             cloth = {};        ///< a name, or a path from where the user stands
  std::optional<std::string> cloth_width = {};  ///< '150 cm'
  std::optional<LengthUnit> unit = {};
};

/// Whether the job has to bring a draft.
enum class Draft { optional, required };

/// Whether the job has to bring a body: a job for a group need not, and what it brings is read all
/// the same.
enum class Wearer { required, optional };

struct LoadedJob {
  std::string file;
  Job job;
  BodyPlaces places;
  std::optional<YamlNode> made, faults;  ///< unread: read_in_hand does, where they are asked for
  std::optional<YamlNode> allowances;    ///< unread: read_allowances does
};

/// Nothing after a complaint.
std::optional<LoadedJob> read_job(const std::string& file,
                                  const std::string& data_folder,
                                  const Overrides& overrides,
                                  Draft draft,
                                  Complaints& complaints,
                                  Wearer wearer = Wearer::required);

}  // namespace easewright
