#pragma once
// Reader of the open survey files, for tests and for the program that derives the body tables. The
// files are no part of the project; they are looked for in the folder that the environment variable
// EASEWRIGHT_BODIES names, else in ../shared/data/bodies beside the sources. A file that is absent
// gives an empty table: the tests that need it then say so loudly. No Catch2 in here.
//
// Surveys: ANSUR 1988 (Gordon et al. 1989, NATICK/TR-89/044), ANSUR II 2012 (Gordon et al. 2014,
// NATICK/TR-15/007), NHANES 2017-2020 (CDC/NCHS, P_BMX), AnthroKids 1977 (Snyder et al. 1977,
// UM-HSRI-77-17; test data only).

#include "model/body/body.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

struct SurveyTable {
  std::vector<std::string> columns;
  std::vector<std::vector<double>> rows;  ///< NaN where blank; sex is 0 for F and 1 for M

  std::optional<size_t> find(std::string_view column) const;
  /// All values of a column that must exist.
  std::vector<double> column(std::string_view name) const;
};

/// 'ansur1988-women' reads ansur1988-women-open.csv.
SurveyTable read_survey(const std::string& name);

/// Bodies with every catalogue measure that the survey took, at the tape s.d. given by `sd`: the
/// catalogue's default, or 0 to take the survey's own values as exact.
enum class SurveyTape { home, exact };
std::vector<Body> survey_women_1988(SurveyTape tape = SurveyTape::home);  ///< natural waist
std::vector<Body> survey_men_1988(SurveyTape tape = SurveyTape::home);
std::vector<Body> survey_women_2012(SurveyTape tape = SurveyTape::home);  ///< navel
std::vector<Body> survey_men_2012(SurveyTape tape = SurveyTape::home);
std::vector<Body> survey_women_nhanes(
    SurveyTape tape = SurveyTape::home);  ///< waist just above the iliac crest: navel
std::vector<Body> survey_men_nhanes(SurveyTape tape = SurveyTape::home);
std::vector<Body> survey_children_1977(
    SurveyTape tape = SurveyTape::home);  ///< navel; many measures blank

/// The 1988 rows with the waist measures of another level; iso is the survey's interpolation.
std::vector<Body> survey_women_1988_at(WaistLevel level, SurveyTape tape);
std::vector<Body> survey_men_1988_at(WaistLevel level, SurveyTape tape);

}  // namespace easewright
