#include "survey.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <sstream>
#include <stdexcept>
#include <utility>

namespace easewright {
namespace {

std::string bodies_folder() {
  if (const char* named = std::getenv("EASEWRIGHT_BODIES")) return named;
  return std::string(EASEWRIGHT_SOURCE_DIR) + "/../shared/data/bodies";
}

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::stringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) {
    while (!cell.empty() && (cell.back() == '\r' || cell.back() == ' ')) cell.pop_back();
    cells.push_back(cell);
  }
  return cells;
}

double value_of(const std::string& cell) {
  if (cell == "F") return 0;
  if (cell == "M") return 1;
  if (cell.empty()) return std::numeric_limits<double>::quiet_NaN();
  return std::stod(cell);
}

// Columns of the catalogue's measures where the survey's name differs. What the columns mean: the
// surveys' reports.
struct Column {
  BodyKey key;
  const char* name;
};
using enum BodyKey;
constexpr Column kRenamed[] = {{side_neck_to_bust_point, "neck_to_bust_point"},
                               {across_back, "back_width_axilla"},
                               {armpit_height, "axilla_height"},
                               {bust_breadth, "chest_breadth"},
                               {bust_depth, "chest_depth"}};

// Same word, other thing: the survey's upper chest is level and the catalogue's slants; NHANES
// measures the arm lower down under another name already.
constexpr BodyKey kNotTheSame[] = {upper_chest_girth, shoulder_slope};

std::string column_name(BodyKey key, WaistLevel level) {
  for (const Column& c : kRenamed)
    if (c.key == key) return c.name;
  const std::string id(info(key).id);
  if (!depends_on_waist_level(key) || level == WaistLevel::natural) return id;
  if (key == waist_height_sitting)
    return level == WaistLevel::navel ? "waist_height_omphalion_sitting" : "none";
  if (level == WaistLevel::navel) return id + "_omphalion";
  return key == waist_height ? "waist_height_iso" : id + "_iso_est";
}

struct Reader {
  const SurveyTable& table;
  const std::vector<double>& row;
  SurveyTape tape;
  Body& body;

  std::optional<double> at(std::string_view name) const {
    const auto column = table.find(name);
    if (!column || std::isnan(row[*column])) return std::nullopt;
    return row[*column];
  }
  void set(BodyKey key, double value, double more_sd = 0) const {
    const double sd = tape == SurveyTape::exact ? 0 : info(key).default_sd;
    body[key] =
        BodyValue{.value = value, .sd = std::hypot(sd, more_sd), .origin = Origin::measured};
  }
  void take(BodyKey key) const {
    for (const BodyKey other : kNotTheSame)
      if (key == other) return;
    if (const auto value = at(column_name(key, body.waist_level))) set(key, *value);
  }
  void derive() const {
    const auto neck = at("side_neck_height"), tip = at("acromion_height"),
               length = at("shoulder_length");
    if (neck && tip && length && std::abs(*neck - *tip) < *length && *neck >= *tip)
      set(shoulder_slope, std::asin((*neck - *tip) / *length));
    const auto reach = at("spine_to_scye_arms_forward"), back = at("across_back_width");
    if (reach && back && 2 * *reach >= *back) set(back_reach, 2 * *reach - *back);
  }
};

std::vector<Body> bodies_of(const std::string& file,
                            std::string_view label,
                            Build build,
                            WaistLevel level,
                            SurveyTape tape) {
  const SurveyTable table = read_survey(file);
  std::vector<Body> bodies;
  bodies.reserve(table.rows.size());
  for (size_t i = 0; i < table.rows.size(); ++i) {
    Body body;
    body.label = std::string(label) + " no " + std::to_string(i + 1);
    body.build = build;
    body.waist_level = level;
    body.slope_reading = SlopeReading::bone;
    const Reader reader{table, table.rows[i], tape, body};
    for (int k = 0; k < kBodyKeys; ++k) reader.take(static_cast<BodyKey>(k));
    reader.derive();
    bodies.push_back(std::move(body));
  }
  return bodies;
}

// NHANES tapes the waist just above the iliac crest, which compares with the navel level.
std::vector<Body> nhanes_of(const std::string& file,
                            std::string_view label,
                            Build build,
                            SurveyTape tape) {
  const SurveyTable table = read_survey(file);
  std::vector<Body> bodies = bodies_of(file, label, build, WaistLevel::navel, tape);
  for (size_t i = 0; i < bodies.size(); ++i) {
    const Reader reader{table, table.rows[i], tape, bodies[i]};
    if (const auto waist = reader.at("waist_girth_iliac")) reader.set(waist_girth, *waist);
  }
  return bodies;
}

}  // namespace

std::optional<size_t> SurveyTable::find(std::string_view column) const {
  const auto at = std::find(columns.begin(), columns.end(), column);
  if (at == columns.end()) return std::nullopt;
  return static_cast<size_t>(at - columns.begin());
}

std::vector<double> SurveyTable::column(std::string_view name) const {
  const auto at = find(name);
  if (!at) throw std::invalid_argument("no survey column " + std::string(name));
  std::vector<double> values;
  values.reserve(rows.size());
  for (const auto& row : rows) values.push_back(row[*at]);
  return values;
}

SurveyTable read_survey(const std::string& name) {
  SurveyTable table;
  std::ifstream file(bodies_folder() + "/" + name + "-open.csv");
  std::string line;
  if (!std::getline(file, line)) return table;
  table.columns = cells_of(line);
  while (std::getline(file, line)) {
    std::vector<std::string> cells = cells_of(line);
    cells.resize(table.columns.size());
    std::vector<double> row;
    row.reserve(cells.size());
    for (const std::string& cell : cells) row.push_back(value_of(cell));
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::vector<Body> survey_women_1988(SurveyTape tape) {
  return survey_women_1988_at(WaistLevel::natural, tape);
}
std::vector<Body> survey_men_1988(SurveyTape tape) {
  return survey_men_1988_at(WaistLevel::natural, tape);
}
std::vector<Body> survey_women_1988_at(WaistLevel level, SurveyTape tape) {
  return bodies_of("ansur1988-women", "women 1988", Build::woman, level, tape);
}
std::vector<Body> survey_men_1988_at(WaistLevel level, SurveyTape tape) {
  return bodies_of("ansur1988-men", "men 1988", Build::man, level, tape);
}
std::vector<Body> survey_women_2012(SurveyTape tape) {
  return bodies_of("ansur2-women", "women 2012", Build::woman, WaistLevel::navel, tape);
}
std::vector<Body> survey_men_2012(SurveyTape tape) {
  return bodies_of("ansur2-men", "men 2012", Build::man, WaistLevel::navel, tape);
}
std::vector<Body> survey_women_nhanes(SurveyTape tape) {
  return nhanes_of("nhanes2020-women", "women 2020", Build::woman, tape);
}
std::vector<Body> survey_men_nhanes(SurveyTape tape) {
  return nhanes_of("nhanes2020-men", "men 2020", Build::man, tape);
}
std::vector<Body> survey_children_1977(SurveyTape tape) {
  const SurveyTable table = read_survey("anthrokids1977");
  std::vector<Body> bodies =
      bodies_of("anthrokids1977", "child 1977", Build::child, WaistLevel::navel, tape);
  for (size_t i = 0; i < bodies.size(); ++i) {
    const Reader reader{table, table.rows[i], tape, bodies[i]};
    if (const auto chest = reader.at("chest_girth")) reader.set(bust_girth, *chest);
  }
  return bodies;
}

}  // namespace easewright
