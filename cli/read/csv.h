#pragma once
// Comma-separated values (RFC 4180), a record at a time: a file of 100,000 bodies is never in
// memory as a whole. Beyond the RFC: LF as well as CRLF, a byte order mark, blank lines (skipped),
// lines that begin with '#' before the first record (comments), and ';' or tab between cells where
// the first record has no comma. A quote inside a cell that does not begin with one is a letter:
// 36".

#include "cli/read/complaint.h"

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

struct CsvCell {
  std::string_view text;  ///< without its quotes and outer blanks; valid until the next record
  Place place;
};

class CsvReader {
 public:
  /// A record of more bytes than this is a quote that was never closed.
  static constexpr size_t kMostRecord = 1 << 20;

  CsvReader();
  ~CsvReader();
  CsvReader(const CsvReader&) = delete;
  CsvReader& operator=(const CsvReader&) = delete;

  /// Empty on success, else why not, in one sentence. Once.
  std::string open(const std::string& path);

  /// The next record; false at the end, or after a mistake that hides where the next one begins.
  bool next(std::vector<CsvCell>& cells);
  /// Passes over the next record without looking at its cells; false as next() is.
  bool skip();

  /// What ended the file early, if anything did.
  bool failed() const { return !why_.empty(); }
  const std::string& why() const { return why_; }
  Place place() const { return wrong_; }

  /// Of the record that came last: a cell goes on after its closing quote.
  bool is_torn() const { return torn_.line > 0; }
  Place torn() const { return torn_; }

  char separator() const { return separator_; }
  /// The comment lines above the first record, without '#' and outer blanks.
  const std::vector<std::string>& comments() const { return comments_; }

  /// Of all bytes read so far, in order.
  std::uint64_t hash() const { return hash_; }

 private:
  bool fill();
  bool take_record();
  char find_separator() const;

  struct File;
  std::unique_ptr<File> file_;
  std::vector<char> block_;
  size_t at_ = 0, end_ = 0;
  bool first_block_ = true;
  int line_ = 1;         ///< of the next byte
  int record_line_ = 1;  ///< of the record's first
  std::string record_;   ///< raw, without its line end
  std::string text_;     ///< cells that had to be rewritten
  char separator_ = 0;
  std::vector<std::string> comments_;
  Place wrong_, torn_;
  std::string why_;
  std::uint64_t hash_ = 14695981039346656037ULL;
};

/// The cells of one record, without its line end; `text` holds those that had to be rewritten, and
/// has to stay. Returns where a cell goes on after its closing quote; line 0 where none does.
Place split_record(std::string_view record,
                   char separator,
                   int line,
                   std::string& text,
                   std::vector<CsvCell>& cells);

/// FNV-1a, 64 bit, eight bytes at a time; `seed` from an earlier call goes on.
std::uint64_t hash_of(std::string_view bytes, std::uint64_t seed = 14695981039346656037ULL);

/// The cell as RFC 4180 writes it: in quotes where it has to be.
std::string csv_cell(std::string_view text);

}  // namespace easewright
