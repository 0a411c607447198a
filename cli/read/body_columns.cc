#include "cli/read/body_columns.h"

#include "cli/read/nearest.h"
#include "cli/read/quantity.h"
#include "cli/read/utf8.h"

#include <algorithm>
#include <array>
#include <cctype>

#include <fmt/format.h>

namespace easewright {
namespace {

using Role = BodyColumn::Role;

constexpr const char* kLengths = "lengths";
constexpr const char* kBuild = "build";
constexpr const char* kSex = "sex";
constexpr const char* kWaistLevel = "waist level";
constexpr const char* kSlope = "shoulder slope read from";
const std::array<const char*, 5> kShared = {kLengths, kBuild, kSex, kWaistLevel, kSlope};
/// Any of these names a body; the first that is there does.
const std::array<const char*, 4> kLabels = {"body", "label", "name", "id"};

std::string lower(std::string_view text) {
  std::string low(text);
  std::transform(low.begin(), low.end(), low.begin(), [](unsigned char c) {
    return static_cast<char>(std::tolower(c));
  });
  return low;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

/// 'Bust_Girth' -> 'bust girth'.
std::string plain_name(std::string_view text) {
  std::string name;
  for (const char c : lower(trimmed(text))) {
    const bool gap = c == '_' || c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!gap) {
      name += c;
    } else if (!name.empty() && name.back() != ' ') {
      name += ' ';
    }
  }
  return name;
}

/// A column's name and its unit, as far as it names one: 'bust girth (cm)', '[cm]', ' cm'.
struct Named {
  std::string name;
  std::string unit;
};

Named named(std::string_view text) {
  const std::string whole = plain_name(text);
  if (find_body_key(whole)) return {whole, ""};
  for (const auto& [open, close] : {std::pair{'(', ')'}, std::pair{'[', ']'}}) {
    const size_t at = whole.rfind(open);
    if (at != std::string::npos && whole.back() == close) {
      return {std::string(trimmed(whole.substr(0, at))),
              std::string(trimmed(whole.substr(at + 1, whole.size() - at - 2)))};
    }
  }
  // Without brackets only a word that is a unit is one: 'waist girth seated' is another measure.
  const size_t at = whole.rfind(' ');
  if (at != std::string::npos) {
    const auto key = find_body_key(whole.substr(0, at));
    std::string why;
    if (key && parse_quantity("1 " + whole.substr(at + 1), info(*key).dimension, why))
      return {whole.substr(0, at), whole.substr(at + 1)};
  }
  return {whole, ""};
}

Role role_of(const std::string& name) {
  if (name == kBuild) return Role::build;
  if (name == kSex) return Role::sex;
  if (name == kWaistLevel) return Role::waist_level;
  if (name == kSlope) return Role::slope_reading;
  return Role::left_out;
}

/// Sets what `key` says of all rows; complains of a value that it can't have. False for no such
/// key.
bool share(const std::string& key,
           std::string_view value,
           const Source& source,
           SharedByAll& shared) {
  const auto set = [&](auto& target, const auto& found, const char* words) {
    if (!found) {
      source.complain({}, key, fmt::format("'{}' is none of {}", value, words));
    } else if (!target) {
      target = found;
    }
  };
  if (key == kLengths) {
    std::string why;
    const bool known = parse_quantity(fmt::format("1 {}", value), kLength, why).has_value();
    set(shared.lengths,
        known && !value.empty() ? std::optional(std::string(value)) : std::nullopt,
        "cm, mm, m and in");
  } else if (key == kBuild) {
    set(shared.build, build_named(value), "woman, man and child");
  } else if (key == kSex) {
    set(shared.build, build_of_sex(value), "F and M");
  } else if (key == kWaistLevel) {
    set(shared.waist_level, waist_level_named(value), "natural, iso and navel");
  } else if (key == kSlope) {
    set(shared.slope_reading, slope_reading_named(value), "bone, silhouette and garment");
  } else {
    return false;
  }
  return true;
}

class ColumnReader {
 public:
  ColumnReader(const std::vector<CsvCell>& header, const SharedByAll& shared, const Source& source)
      : header_(header), source_(source) {
    columns_.shared = shared;
    if (!header.empty()) columns_.place = {header.front().place.line, 1};
  }

  BodyColumns read() {
    for (const CsvCell& cell : header_) columns_.all.push_back(column_of(cell));
    choose_label();
    refuse_repeats();
    ask_for_what_is_missing();
    return std::move(columns_);
  }

 private:
  BodyColumn column_of(const CsvCell& cell) {
    BodyColumn column;
    if (first_bad_byte(cell.text) != std::string_view::npos) {
      source_.complain(cell.place, "", "this column's name is no UTF-8 text");
      return column;
    }
    const Named words = named(cell.text);
    column.name = words.name;
    if (const auto key = find_body_key(words.name)) {
      column.role = Role::measure;
      column.key = *key;
      column.factor = factor_of(cell, words, info(*key).dimension);
      return column;
    }
    column.role = role_of(words.name);
    if (column.role == Role::left_out) column.name = std::string(cell.text);
    return column;
  }

  /// What a bare number in this column is multiplied by. Angles and ages have one unit each.
  double factor_of(const CsvCell& cell, const Named& words, Dimension dimension) {
    std::string unit = words.unit;
    if (unit.empty() && dimension == kAngle) unit = "deg";
    if (unit.empty() && dimension == kTime) unit = "years";
    if (unit.empty() && columns_.shared.lengths) unit = *columns_.shared.lengths;
    if (unit.empty()) {
      unitless_.push_back(words.name);
      if (unitless_.size() == 1) unitless_place_ = cell.place;
      return 1;
    }
    std::string why;
    const auto factor = parse_quantity("1 " + unit, dimension, why);
    if (!factor) source_.complain(cell.place, words.name, why);
    return factor.value_or(1);
  }

  void choose_label() {
    for (const char* label : kLabels) {
      for (BodyColumn& column : columns_.all) {
        if (column.role == Role::left_out && plain_name(column.name) == label) {
          column.role = Role::label;
          return;
        }
      }
    }
  }

  void refuse_repeats() {
    for (size_t i = 0; i < columns_.all.size(); ++i) {
      const BodyColumn& column = columns_.all[i];
      if (column.role == Role::left_out) continue;
      for (size_t j = 0; j < i; ++j) {
        if (columns_.all[j].role != column.role || columns_.all[j].key != column.key) continue;
        source_.complain(header_[i].place, column.name, fmt::format("is column {} already", j + 1));
        break;
      }
    }
  }

  bool has(Role role) const {
    return std::any_of(columns_.all.begin(), columns_.all.end(), [role](const BodyColumn& c) {
      return c.role == role;
    });
  }

  bool has_at_the_waist() const {
    return std::any_of(columns_.all.begin(), columns_.all.end(), [](const BodyColumn& c) {
      return c.role == Role::measure && depends_on_waist_level(c.key);
    });
  }

  bool has_slope() const {
    return std::any_of(columns_.all.begin(), columns_.all.end(), [](const BodyColumn& c) {
      return c.role == Role::measure && c.key == BodyKey::shoulder_slope;
    });
  }

  void ask_for(const char* key, const char* words) {
    source_.complain(columns_.place,
                     "",
                     fmt::format("a column '{}' is missing: {}; or, the same for all, a line '# "
                                 "{}: ...' above, or --same '{} ...'",
                                 key,
                                 words,
                                 key,
                                 key));
  }

  void ask_for_what_is_missing() {
    if (!has(Role::measure)) {
      std::string guess;
      for (const BodyColumn& column : columns_.all) {
        if (guess.empty()) guess = suggestion(named(column.name).name, measure_names());
      }
      source_.complain(
          columns_.place,
          "",
          "no column is a body measure ('bust girth (cm)'; see easewright list body)" + guess);
      return;
    }
    if (!unitless_.empty()) {
      const std::string name = unitless_.front();
      source_.complain(
          unitless_place_,
          name,
          fmt::format(
              "names no unit{}: write '{} (cm)', or for all lengths a line '# "
              "lengths: cm' above, or --same 'lengths cm'",
              unitless_.size() > 1 ? fmt::format(", nor do {} more", unitless_.size() - 1) : "",
              name));
    }
    const SharedByAll& shared = columns_.shared;
    if (!shared.build && !has(Role::build) && !has(Role::sex))
      ask_for(kBuild, "woman, man or child");
    if (!shared.waist_level && !has(Role::waist_level) && has_at_the_waist())
      ask_for(kWaistLevel, "natural, iso or navel, where the waist measures were taken");
    if (!shared.slope_reading && !has(Role::slope_reading) && has_slope())
      ask_for(kSlope, "bone, silhouette or garment");
  }

  static std::vector<std::string> measure_names() {
    std::vector<std::string> names;
    for (int i = 0; i < kBodyKeys; ++i) names.push_back(spoken(info(static_cast<BodyKey>(i)).id));
    return names;
  }

  const std::vector<CsvCell>& header_;
  const Source& source_;
  BodyColumns columns_;
  std::vector<std::string> unitless_;
  Place unitless_place_;
};

}  // namespace

std::optional<Build> build_named(std::string_view word) {
  const std::string low = lower(word);
  if (low == "woman") return Build::woman;
  if (low == "man") return Build::man;
  if (low == "child") return Build::child;
  return std::nullopt;
}

std::optional<Build> build_of_sex(std::string_view word) {
  const std::string low = lower(word);
  if (low == "f" || low == "w" || low == "female" || low == "woman") return Build::woman;
  if (low == "m" || low == "male" || low == "man") return Build::man;
  return std::nullopt;
}

std::optional<WaistLevel> waist_level_named(std::string_view word) {
  const std::string low = lower(word);
  for (const WaistLevel level : {WaistLevel::natural, WaistLevel::iso, WaistLevel::navel})
    if (low == to_string(level)) return level;
  return std::nullopt;
}

std::optional<SlopeReading> slope_reading_named(std::string_view word) {
  const std::string low = lower(word);
  if (low == "bone") return SlopeReading::bone;
  if (low == "silhouette") return SlopeReading::silhouette;
  if (low == "garment") return SlopeReading::garment;
  return std::nullopt;
}

SharedByAll read_shared(const std::vector<std::string>& same,
                        const std::vector<std::string>& comments,
                        const Source& source) {
  SharedByAll shared;
  const Source option{"--same", source.complaints};
  for (const std::string& text : same) {
    const std::string words = plain_name(text);
    const auto key = std::find_if(kShared.begin(), kShared.end(), [&](const char* k) {
      return words.starts_with(k) && (words.size() == std::string_view(k).size() ||
                                      !std::isalpha(words[std::string_view(k).size()]));
    });
    if (key == kShared.end()) {
      const std::vector<std::string> known(kShared.begin(), kShared.end());
      option.complain(
          {},
          text.substr(0, text.find(' ')),
          "can't be told of all rows; can be told: " + fmt::format("{}", fmt::join(known, ", ")));
      continue;
    }
    std::string_view value = trimmed(std::string_view(words).substr(std::string_view(*key).size()));
    while (value.starts_with(':') || value.starts_with('=')) value = trimmed(value.substr(1));
    share(*key, value, option, shared);
  }
  for (const std::string& comment : comments) {
    const size_t colon = comment.find(':');
    if (colon == std::string::npos) continue;
    // Any other comment is prose.
    share(plain_name(comment.substr(0, colon)),
          trimmed(std::string_view(comment).substr(colon + 1)),
          source,
          shared);
  }
  return shared;
}

BodyColumns read_body_columns(const std::vector<CsvCell>& header,
                              const SharedByAll& shared,
                              const Source& source) {
  return ColumnReader(header, shared, source).read();
}

std::string left_out(const BodyColumns& columns) {
  // A measure that has its column can't have been meant by another.
  std::vector<std::string> absent;
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    if (std::none_of(columns.all.begin(), columns.all.end(), [key](const BodyColumn& c) {
          return c.role == Role::measure && c.key == key;
        }))
      absent.push_back(spoken(info(key).id));
  }
  std::vector<std::string> names;
  size_t mistyped = 0;  // they are told first
  for (const BodyColumn& column : columns.all) {
    if (column.role != Role::left_out || trimmed(column.name).empty()) continue;
    // One slip of a key: at two a wrist is a waist.
    const auto meant = std::find_if(absent.begin(), absent.end(), [&](const std::string& name) {
      return edit_distance(named(column.name).name, name) == 1;
    });
    const std::string guess =
        meant == absent.end() ? "" : fmt::format(" (did you mean '{}'?)", *meant);
    const auto at =
        guess.empty() ? names.end() : names.begin() + static_cast<std::ptrdiff_t>(mistyped++);
    names.insert(at, column.name.substr(0, 40) + guess);
  }
  if (names.empty()) return "";
  constexpr size_t kNamed = 12;
  std::string more;
  if (names.size() > kNamed) {
    more = fmt::format(" and {} more", names.size() - kNamed);
    names.resize(kNamed);
  }
  return fmt::format(
      "left out, for no body measure has that name: {}{}", fmt::join(names, ", "), more);
}

}  // namespace easewright
