#include "cli/read/bodies.h"

#include "cli/read/body.h"
#include "cli/read/csv.h"
#include "cli/read/data_folder.h"
#include "cli/read/file.h"
#include "cli/read/quantity.h"
#include "cli/read/utf8.h"
#include "model/body/sanity.h"

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <limits>

#include <fmt/format.h>

namespace easewright {
namespace {

namespace fs = std::filesystem;
using Role = BodyColumn::Role;

/// Children's size tables run to about 14 years (common practice); who is older is drafted as
/// grown.
constexpr double kGrownFromYears = 14;
/// What a row of a report has room for.
constexpr size_t kMostLabel = 200;

void add_wrong(BodyRow& row, Place place, std::string_view key, std::string_view text) {
  Complaints one;  // for its one line, not too long
  one.add(row.file, place, key, text);
  row.wrong.push_back(one.in_order().front());
}

class CsvBodies final : public Bodies {
 public:
  CsvBodies(std::string path, std::vector<std::string> same)
      : path_(std::move(path)), same_(std::move(same)) {}

  /// Reads it through. False after a complaint.
  bool survey(Complaints& complaints) {
    const Source source{path_, complaints};
    const size_t before = complaints.size();
    if (!begin(source)) return false;
    columns_ = read_body_columns(cells_, read_shared(same_, reader_->comments(), source), source);
    left_out_ = easewright::left_out(columns_);
    if (complaints.size() > before) return false;
    while (reader_->skip()) ++count_;
    hash_ = reader_->hash();
    if (reader_->failed()) source.complain(reader_->place(), "", reader_->why());
    if (complaints.size() == before && count_ == 0)
      source.complain({}, "", "has no rows under its first");
    return complaints.size() == before;
  }

  void rewind() override {
    Complaints complaints;
    begin({path_, complaints});
    row_ = 0;
  }

  bool skip() override {
    if (!reader_->skip()) return false;
    ++row_;
    return true;
  }

  bool next(BodyRow& row) override {
    if (!reader_->next(cells_)) return false;
    row = {};
    row.row = ++row_;
    row.file = path_;
    row.place = cells_.empty() ? Place{} : Place{cells_.front().place.line, 1};
    row.body.label = fmt::format("row {}", row.row);
    if (reader_->is_torn()) {
      add_wrong(row, reader_->torn(), "", "a cell goes on after its closing quote");
    } else if (cells_.size() != columns_.all.size()) {
      const bool comma = reader_->separator() == ',' && cells_.size() > columns_.all.size();
      add_wrong(row,
                row.place,
                "",
                fmt::format("has {} cells; the first row has {}{}",
                            cells_.size(),
                            columns_.all.size(),
                            comma ? " (numbers are written with a point)" : ""));
    } else {
      read(row);
    }
    return true;
  }

 private:
  /// Opens it and takes its first row into cells_.
  bool begin(const Source& source) {
    reader_ = std::make_unique<CsvReader>();
    if (const std::string why = reader_->open(path_); !why.empty()) {
      source.complain({}, "", why);
      return false;
    }
    if (reader_->next(cells_)) return true;
    source.complain(reader_->place(), "", reader_->failed() ? reader_->why() : "is empty");
    return false;
  }

  void read(BodyRow& row) {
    row.body.build = columns_.shared.build.value_or(Build::woman);
    row.body.waist_level = columns_.shared.waist_level.value_or(WaistLevel::natural);
    row.body.slope_reading = columns_.shared.slope_reading.value_or(SlopeReading::silhouette);
    bool built = columns_.shared.build.has_value(), sexed = false;
    bool levelled = columns_.shared.waist_level.has_value();
    bool sloped = columns_.shared.slope_reading.has_value();
    for (size_t i = 0; i < cells_.size(); ++i) {
      const BodyColumn& column = columns_.all[i];
      const CsvCell& cell = cells_[i];
      if (cell.text.empty()) continue;
      const auto word = [&](const auto& found, auto& target, bool& said, const char* words) {
        if (!found) {
          wrong(row, cell, column, fmt::format("'{}' is none of {}", cell.text, words));
        } else {
          target = *found;
        }
        said = true;
      };
      switch (column.role) {
        case Role::left_out:
          break;
        case Role::label:
          read_label(row, cell, column);
          break;
        case Role::build:
          word(build_named(cell.text), row.body.build, built, "woman, man and child");
          break;
        case Role::sex:
          if (columns_.shared.build || has_built()) break;  // what is said of the build says more
          word(build_of_sex(cell.text), row.body.build, built, "F and M");
          sexed = true;
          break;
        case Role::waist_level:
          word(waist_level_named(cell.text),
               row.body.waist_level,
               levelled,
               "natural, iso and navel");
          break;
        case Role::slope_reading:
          word(slope_reading_named(cell.text),
               row.body.slope_reading,
               sloped,
               "bone, silhouette and garment");
          break;
        case Role::measure:
          read_measure(row, cell, column);
          break;
      }
    }
    const auto& age = row.body[BodyKey::age];
    if (sexed && age && age->value < kGrownFromYears) row.body.build = Build::child;
    ask(row, built, levelled, sloped);
    if (!row.wrong.empty()) return;
    std::vector<BodyNote> notes;
    refuse_values(row.body, nullptr, notes);
    std::erase_if(notes, [](const BodyNote& n) { return n.kind != BodyNote::Kind::error; });
    row.wrong = row.complaints_of(notes);
  }

  /// Whether this row's cell of the column 'build' is filled.
  bool has_built() const {
    for (size_t i = 0; i < cells_.size(); ++i)
      if (columns_.all[i].role == Role::build && !cells_[i].text.empty()) return true;
    return false;
  }

  void wrong(BodyRow& row, const CsvCell& cell, const BodyColumn& column, std::string_view text) {
    add_wrong(row, cell.place, column.name, text);
  }

  void read_label(BodyRow& row, const CsvCell& cell, const BodyColumn& column) {
    const bool lines = cell.text.find_first_of("\r\n\t") != std::string_view::npos;
    if (first_bad_byte(cell.text) != std::string_view::npos) {
      wrong(row, cell, column, "is no UTF-8 text");
    } else if (lines || cell.text.size() > kMostLabel) {
      wrong(row, cell, column, fmt::format("one line of at most {} bytes is wanted", kMostLabel));
    } else {
      row.body.label = std::string(cell.text);
    }
  }

  void read_measure(BodyRow& row, const CsvCell& cell, const BodyColumn& column) {
    const BodyMeasureInfo& measure = info(column.key);
    BodyValue value{0, measure.default_sd, Origin::measured};
    if (const auto number = bare(cell.text)) {
      value.value = *number * column.factor;
    } else {
      std::string why;
      const auto measured = parse_measured(cell.text, measure.dimension, why);
      if (!measured) return wrong(row, cell, column, why);
      value.value = measured->value;
      if (measured->sd) value.sd = *measured->sd;
      if (value.sd > 0.25 * (measure.most - measure.least))
        return wrong(row, cell, column, "the error after '+-' is too large to say anything");
    }
    row.body[column.key] = value;
    row.cells[static_cast<size_t>(column.key)] = cell.place;
  }

  /// A number without a unit; a decimal comma where the comma does not separate cells.
  std::optional<double> bare(std::string_view text) {
    if (reader_->separator() != ',' && text.find(',') != std::string_view::npos) {
      number_.assign(text);
      if (const size_t comma = number_.find(','); number_.find('.') == std::string::npos)
        number_[comma] = '.';
      text = number_;
    }
    if (text.empty() || !((text[0] >= '0' && text[0] <= '9') || text[0] == '.'))
      return std::nullopt;
    double value = 0;
    const auto [end, error] =
        std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
    if (error == std::errc() && end == text.data() + text.size()) return value;
    // '34 1/2' in a column of inches.
    if (!is_bare_number(text)) return std::nullopt;
    std::string why;
    return parse_quantity(text, kRatio, why);
  }

  /// As of a body file: a waist or a slope that does not say how it was read would be taken for
  /// another.
  void ask(BodyRow& row, bool built, bool levelled, bool sloped) {
    if (!built) add_wrong(row, row.place, "build", "is empty: woman, man or child is wanted");
    bool waist = false;
    for (int i = 0; i < kBodyKeys; ++i) {
      const auto key = static_cast<BodyKey>(i);
      waist = waist || (depends_on_waist_level(key) && row.body[key]);
    }
    if (waist && !levelled)
      add_wrong(row, row.place, "waist level", "is empty: natural, iso or navel is wanted");
    if (row.body[BodyKey::shoulder_slope] && !sloped) {
      add_wrong(row,
                row.place,
                "shoulder slope read from",
                "is empty: bone, silhouette or garment is wanted");
    }
  }

  std::string path_;
  std::vector<std::string> same_;
  std::unique_ptr<CsvReader> reader_;
  BodyColumns columns_;
  std::vector<CsvCell> cells_;
  std::string number_;
  std::uint32_t row_ = 0;
};

class FolderBodies final : public Bodies {
 public:
  explicit FolderBodies(const std::string& folder) : files_(yaml_files(folder)) {}

  bool survey(const std::string& folder, Complaints& complaints) {
    if (files_.empty()) complaints.add(folder, {}, "", "has no body files (.yaml)");
    count_ = static_cast<std::uint32_t>(files_.size());
    hash_ = hash_of("");
    for (const std::string& file : files_) {
      std::string why;
      hash_ = hash_of(fs::path(file).filename().string() + "\n", hash_);
      hash_ = hash_of(read_file(file, why).value_or(""), hash_);
    }
    return !files_.empty();
  }

  void rewind() override { at_ = 0; }

  bool skip() override {
    if (at_ == files_.size()) return false;
    ++at_;
    return true;
  }

  bool next(BodyRow& row) override {
    if (at_ == files_.size()) return false;
    const std::string& file = files_[at_++];
    row = {};
    row.row = static_cast<std::uint32_t>(at_);
    row.file = file;
    row.body.label = fs::path(file).stem().string();
    Complaints complaints;
    BodyPlaces places;
    const auto map = load_yaml(file, complaints, {file, {}, ""});
    if (map && map->kind != YamlNode::Kind::map) {
      complaints.add(file, map->place, "", "is no body: a map is wanted ('body: alto 2')");
    } else if (map) {
      const Source source{file, complaints};
      Body body = read_body(*map, "", source, BodyName::required, places);
      if (complaints.empty()) row.body = std::move(body);
      row.place = map->place;
    }
    row.wrong = complaints.in_order();
    for (const auto& [path, spot] : places.measures) {
      constexpr std::string_view kMeasures = "measures.";
      if (const auto key = find_body_key(path.substr(kMeasures.size())))
        row.cells[static_cast<size_t>(*key)] = spot.place;
    }
    return true;
  }

 private:
  std::vector<std::string> files_;
  size_t at_ = 0;
};

}  // namespace

std::vector<Complaint> BodyRow::complaints_of(const std::vector<BodyNote>& errors) const {
  Complaints complaints;
  for (const BodyNote& note : errors) {
    constexpr std::string_view kMeasures = "measures.";
    std::string_view name = note.key_path;
    if (name.starts_with(kMeasures)) name.remove_prefix(kMeasures.size());
    const auto key = find_body_key(name);
    const Place at = key ? cells[static_cast<size_t>(*key)] : Place{};
    complaints.add(file, at.line > 0 ? at : place, name, note.text);
  }
  return complaints.in_order();
}

std::unique_ptr<Bodies> open_bodies(const std::string& path,
                                    const std::vector<std::string>& same,
                                    Complaints& complaints) {
  std::error_code error;
  if (fs::is_directory(path, error)) {
    if (!same.empty()) {
      complaints.add("--same", {}, "", "is for a CSV file; body files say it themselves");
      return nullptr;
    }
    auto bodies = std::make_unique<FolderBodies>(path);
    return bodies->survey(path, complaints) ? std::move(bodies) : nullptr;
  }
  auto bodies = std::make_unique<CsvBodies>(path, same);
  if (!bodies->survey(complaints)) return nullptr;
  bodies->rewind();
  return bodies;
}

}  // namespace easewright
