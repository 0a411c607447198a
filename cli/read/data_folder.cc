#include "cli/read/data_folder.h"

#include "cli/read/file.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

namespace easewright {
namespace fs = std::filesystem;

std::string data_folder() {
  if (const char* given = std::getenv("EASEWRIGHT_DATA"); given != nullptr && *given != '\0')
    return given;
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  if (!error) {
    const fs::path installed = program.parent_path().parent_path() / "share" / "easewright";
    if (fs::is_directory(installed / "rules", error)) return installed.string();
  }
  return EASEWRIGHT_DATA_DIR;
}

std::vector<std::string> yaml_files(const std::string& folder) {
  std::vector<std::string> files;
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    if (it->path().extension() == ".yaml") files.push_back(it->path().string());
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::vector<std::string> names_in(const std::string& data_folder, const std::string& room) {
  std::vector<std::string> names;
  for (const std::string& file : yaml_files((std::filesystem::path(data_folder) / room).string())) {
    std::string name = fs::path(file).stem().string();
    std::replace(name.begin(), name.end(), '-', ' ');
    names.push_back(std::move(name));
  }
  return names;
}

std::string path_of_name(const std::string& data_folder,
                         const std::string& room,
                         std::string_view name) {
  std::string file(name);
  std::replace(file.begin(), file.end(), ' ', '-');
  return data_folder + "/" + room + "/" + file + ".yaml";
}

bool is_path(std::string_view reference) {
  return reference.find('/') != std::string_view::npos || reference.ends_with(".yaml") ||
         reference.ends_with(".yml");
}

std::string beside(const std::string& file, std::string_view reference) {
  return (fs::path(file).parent_path() / fs::path(reference)).lexically_normal().string();
}

std::optional<YamlNode> load_yaml(const std::string& path,
                                  Complaints& complaints,
                                  const AskedFrom& asked_from) {
  std::string why;
  const auto text = read_file(path, why);
  if (!text) {
    complaints.add(asked_from.file,
                   asked_from.place,
                   asked_from.key_path,
                   path == asked_from.file ? why : path + ": " + why);
    return std::nullopt;
  }
  return parse_yaml(*text, Source{path, complaints});
}

}  // namespace easewright
