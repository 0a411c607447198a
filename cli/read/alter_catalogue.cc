#include "cli/read/alter_catalogue.h"

#include "cli/read/data_folder.h"
#include "cli/read/faults.h"
#include "cli/read/moves.h"

namespace easewright {
namespace {

/// Every file of a room of the data folder, read by `read`.
template <typename T, typename Read>
void read_room(const std::string& folder, Complaints& complaints, Read read, std::vector<T>& into) {
  const auto files = yaml_files(folder);
  if (files.empty()) complaints.add(folder, {}, "", "there is nothing here (*.yaml)");
  for (const std::string& file : files) {
    if (const auto map = load_yaml(file, complaints, {file, {}, ""}))
      read(*map, Source{file, complaints}, into);
  }
}

}  // namespace

std::optional<AlterCatalogue> read_alter_catalogue(const std::string& data_folder,
                                                   Complaints& complaints) {
  const size_t before = complaints.size();
  AlterCatalogue catalogue;
  read_room(data_folder + "/moves", complaints, read_moves, catalogue.moves);
  read_room(data_folder + "/faults", complaints, read_fault_kinds, catalogue.faults);
  if (complaints.size() > before) return std::nullopt;
  return catalogue;
}

}  // namespace easewright
