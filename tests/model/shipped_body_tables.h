#pragma once
// The tables that are shipped, for tests.

#include "model/body/tables.h"

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

namespace easewright {

inline std::string shipped_text(const std::string& name) {
  std::ifstream file(std::string(EASEWRIGHT_SOURCE_DIR) + "/data/tables/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

inline const BodyTables& shipped_body_tables() {
  static const BodyTables tables = [] {
    std::string error;
    const auto parsed = parse_body_tables(
        shipped_text("bodies-women.csv") + shipped_text("bodies-men.csv"), &error);
    if (!parsed) throw std::runtime_error("shipped body tables: " + error);
    return *parsed;
  }();
  return tables;
}

}  // namespace easewright
