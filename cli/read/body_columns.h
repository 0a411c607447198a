#pragma once
// The first row of a table of bodies: which column holds what.
//
//   label,build,waist level,bust girth (cm),hip girth [in],stature mm,age
//
// Measures by ISO 8559-1 name (`list body`) in any order, '_' as good as a blank; the unit of a
// length in the column's name, or one for the whole file. What all rows share need not be a
// column: a comment above the first row says it ('# waist level: natural'), or the command line.

#include "cli/read/complaint.h"
#include "cli/read/csv.h"
#include "model/body/body.h"

#include <optional>
#include <string>
#include <vector>

namespace easewright {

/// What all rows of a table share.
struct SharedByAll {
  std::optional<std::string> lengths;  ///< the unit of columns that name none: 'cm'
  std::optional<Build> build;
  std::optional<WaistLevel> waist_level;
  std::optional<SlopeReading> slope_reading;
};

struct BodyColumn {
  enum class Role { left_out, label, build, sex, waist_level, slope_reading, measure };
  Role role = Role::left_out;
  BodyKey key = BodyKey::count;  ///< of a measure
  double factor = 1;             ///< of a measure: a bare number's, to inside units
  std::string name;              ///< 'bust girth'; of one that is left out, as it stands there
};

struct BodyColumns {
  std::vector<BodyColumn> all;
  SharedByAll shared;
  Place place;  ///< of the first row
};

/// 'woman', 'man', 'child'; 'natural', 'iso', 'navel'; 'bone', 'silhouette', 'garment'.
std::optional<Build> build_named(std::string_view word);
/// 'F', 'female', 'woman' ...; nothing for what is neither.
std::optional<Build> build_of_sex(std::string_view word);
std::optional<WaistLevel> waist_level_named(std::string_view word);
std::optional<SlopeReading> slope_reading_named(std::string_view word);

/// What the command line says ('waist level natural') and then the comments, for what it leaves
/// unsaid.
SharedByAll read_shared(const std::vector<std::string>& same,
                        const std::vector<std::string>& comments,
                        const Source& source);

/// Complains of columns that are there twice, of units that are missing or none, and of what can't
/// be read without another column.
BodyColumns read_body_columns(const std::vector<CsvCell>& header,
                              const SharedByAll& shared,
                              const Source& source);

/// 'Left out, no body measures: upper_arm_length, body_mass'; empty when nothing is.
std::string left_out(const BodyColumns& columns);

}  // namespace easewright
