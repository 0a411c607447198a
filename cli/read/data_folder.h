#pragma once
// Where rules, tables, styles and cloths lie, and how a file refers to others.

#include "cli/read/complaint.h"
#include "cli/read/yaml.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// EASEWRIGHT_DATA; else ../share/easewright beside the program's own folder, if there; else the
/// source tree's data/.
std::string data_folder();

/// The names in one of its rooms ('styles', 'cloths'), sorted: 'concert-dress.yaml' is 'concert
/// dress'.
std::vector<std::string> names_in(const std::string& data_folder, const std::string& room);

/// The .yaml files of a folder, sorted by name.
std::vector<std::string> yaml_files(const std::string& folder);

/// 'concert dress' -> '<data>/styles/concert-dress.yaml'.
std::string path_of_name(const std::string& data_folder,
                         const std::string& room,
                         std::string_view name);

/// True for 'bodies/alto-2.yaml', './x.yaml', 'x.yaml': what is a path, not a name.
bool is_path(std::string_view reference);

/// `reference` as seen from the folder that `file` lies in, tidied: 'jobs/a.yaml' and
/// '../bodies/b.yaml' -> 'bodies/b.yaml'.
std::string beside(const std::string& file, std::string_view reference);

/// Reads and parses a file; complains at `asked_from` (the place that names it) when it can't be
/// read.
struct AskedFrom {
  std::string file;
  Place place;
  std::string key_path;
};
std::optional<YamlNode> load_yaml(const std::string& path,
                                  Complaints& complaints,
                                  const AskedFrom& asked_from);

}  // namespace easewright
