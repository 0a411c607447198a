#pragma once
// The rows of a group in a folder: `rows.csv` grows a whole line at a time, so that a run that was
// stopped, by Ctrl-C or worse, goes on where it stopped. `rows.key` beside it says what the rows
// were made of; with anything else they are not gone on with. A part of the bodies (--rows 1-500)
// has files of its own (rows-1-500.csv), and the run of the whole takes over what such parts have.

#include <cstdint>
#include <deque>
#include <fstream>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace easewright {

/// What rows are made of: a word and a number that changes with it.
using RowsKey = std::vector<std::pair<std::string, std::uint64_t>>;

/// A run of rows, both from 1 and both in it.
struct RowRange {
  std::uint32_t first = 1, last = 0;
  std::uint32_t size() const { return last < first ? 0 : last - first + 1; }
};

class RowsFile {
 public:
  RowsFile() = default;
  ~RowsFile();
  RowsFile(const RowsFile&) = delete;
  RowsFile& operator=(const RowsFile&) = delete;

  /// Opens or makes the file of these rows in a folder that is there. `part`: not of the whole.
  /// `header` is its first line. Empty on success, else why not, in one sentence that names the
  /// file.
  std::string open(const std::string& folder,
                   const RowRange& range,
                   bool part,
                   const RowsKey& key,
                   const std::string& header);

  /// How many rows are done already, from the range's first.
  std::uint32_t done() const { return done_; }
  const std::string& path() const { return path_; }

  /// Adds whole lines. Empty on success; else the file still ends with a whole line.
  std::string append(const std::string& lines);

 private:
  std::string recover(const RowRange& range, const std::string& header);

  std::string path_;
  int descriptor_ = -1;
  std::uint32_t done_ = 0;
  std::uint64_t size_ = 0;
};

/// Rows that parts of the same group have in a folder, in order.
class DoneParts {
 public:
  /// The parts with this key. A part that was made of something else is not looked at.
  DoneParts(const std::string& folder, const RowsKey& key);

  /// The line of this row, with its line end, if a part has it. Rows are asked for in rising order.
  std::optional<std::string> take(std::uint32_t row);

 private:
  struct Part {
    RowRange range;
    std::string path;
    std::ifstream in;
    std::string line;       ///< read ahead
    std::uint32_t row = 0;  ///< of `line`; 0 before the first
    bool ended = false;
  };
  static void advance(Part& part);
  std::deque<Part> parts_;
};

}  // namespace easewright
