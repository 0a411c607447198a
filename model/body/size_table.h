#pragma once
// Published size tables as text: a body for who has only a size. Lines 'name,...', 'build,woman',
// 'unit,in', 'size,00,0,2,...', then one line a measure; '#' starts a comment. A measure is spoken
// as the catalogue does
// ('bust girth'); any other name is kept as a row that has no body measure ('waist girth curvy').

#include "model/body/body.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

struct SizeRow {
  std::string name;
  std::vector<double> values;  ///< cm or rad, one a size
};

struct SizeTable {
  std::string name;
  Build build = Build::woman;
  std::vector<std::string> sizes;
  std::vector<SizeRow> rows;

  /// In cm or rad; nothing when the row or the size is not there.
  std::optional<double> value(std::string_view row, std::string_view size) const;
};

/// Nothing when the text is no size table; then `error` (may be null) says which line and why.
std::optional<SizeTable> parse_size_table(std::string_view text, std::string* error);

/// A body with all rows that are catalogue measures. Nobody has exactly a size: the s.d. is half a
/// step to the next size, and at least the tape's. The waist is taken as ISO level, since tables'
/// back lengths of 40 to 42 cm belong there (the natural waist's averages 36.7), the slope as of
/// the silhouette (23 deg, where blocks have 20). Nothing for an unknown size.
std::optional<Body> size_body(const SizeTable& table, std::string_view size);

}  // namespace easewright
