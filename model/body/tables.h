#pragma once
// Body tables as text: what data/tables/bodies-women.csv and bodies-men.csv hold. Model reads no
// files: whoever does hands their text over.
//
//   # comment lines
//   build,women                                  starts a table; 'women' or 'men'
//   source,"ANSUR 1988 ..."
//   variable,level,mean,sd,p0.1,p99.9,surveyed mean,surveyed sd      header, then one line a
//   variable stature,,161.46,6.78,140.8,183.4,162.97,6.36                     level empty where
//   there is none; cm and degrees waist girth,natural,... correlation then the lower triangle
//   without the diagonal, one line a variable stature waist girth,0.123
//
// A text may hold several tables, one after the other.

#include "model/body/estimate.h"

#include <optional>
#include <string>
#include <string_view>

namespace easewright {

/// The tables in `text`: one file, or both joined. A build whose table is absent stays empty.
/// Nothing when the text is not a table; then `error` (may be null) says in one line which line and
/// why.
std::optional<BodyTables> parse_body_tables(std::string_view text, std::string* error);

/// One table as parse_body_tables() reads it. `comments` go first, each a line that starts with
/// '#'.
std::string format_body_table(std::string_view build,
                              const Moments& moments,
                              std::string_view comments);

}  // namespace easewright
