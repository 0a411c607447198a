#include "cli/read/catalogue.h"

#include "cli/read/data_folder.h"
#include "cli/read/file.h"
#include "cli/read/rules.h"
#include "cli/read/values.h"
#include "model/body/tables.h"

namespace easewright {
namespace {

void read_body_tables(const std::string& data_folder,
                      Complaints& complaints,
                      Catalogue& catalogue) {
  for (const bool women : {true, false}) {
    const std::string path = data_folder + "/tables/bodies-" + (women ? "women" : "men") + ".csv";
    std::string why;
    const auto text = read_file(path, why);
    auto tables = text ? parse_body_tables(*text, &why) : std::nullopt;
    if (!tables) {
      complaints.add(path, {}, "", why);
      continue;
    }
    (women ? catalogue.bodies.women : catalogue.bodies.men) =
        std::move(women ? tables->women : tables->men);
  }
}

}  // namespace

std::optional<Catalogue> read_catalogue(const std::string& data_folder, Complaints& complaints) {
  const size_t before = complaints.size();
  Catalogue catalogue;
  const std::string values = data_folder + "/tables/values.yaml";
  if (const auto map = load_yaml(values, complaints, {values, {}, ""})) {
    read_values(*map, {values, complaints}, catalogue.values);
  }
  const auto files = yaml_files(data_folder + "/rules");
  if (files.empty())
    complaints.add(data_folder + "/rules", {}, "", "there are no rules here (*.yaml)");
  for (const std::string& file : files) {
    if (const auto map = load_yaml(file, complaints, {file, {}, ""}))
      read_rules(*map, {file, complaints}, catalogue.rules);
  }
  read_body_tables(data_folder, complaints, catalogue);
  if (complaints.size() > before) return std::nullopt;
  return catalogue;
}

}  // namespace easewright
