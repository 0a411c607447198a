// Writes data/tables/bodies-women.csv and bodies-men.csv from the open surveys.
//   body_tables FOLDER

#include "../model/derive_body_tables.h"
#include "model/body/tables.h"

#include <cstdio>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>

int main(int argc, char** argv) {
  using namespace easewright;
  if (argc != 2) {
    fmt::print(stderr, "body_tables FOLDER: write the body tables there\n");
    return 2;
  }
  for (const Build build : {Build::woman, Build::man}) {
    const std::string name = build == Build::man ? "men" : "women";
    const Moments moments = derive_moments(build);
    if (moments.variables.empty()) {
      fmt::print(stderr, "the survey of {} is not there; set EASEWRIGHT_BODIES\n", name);
      return 1;
    }
    const auto path = std::filesystem::path(argv[1]) / ("bodies-" + name + ".csv");
    std::ofstream file(path);
    file << format_body_table(name, moments, table_comments(build));
    if (!file.flush()) {
      fmt::print(stderr, "cannot write {}\n", path.string());
      return 1;
    }
    fmt::print("{}: {} variables\n", path.string(), moments.variables.size());
  }
  return 0;
}
