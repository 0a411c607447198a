#include "cli/read/csv.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>

namespace easewright {
namespace {

constexpr size_t kBlock = 1 << 16;
constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

bool is_blank(std::string_view text) {
  return text.find_first_not_of(" \t") == std::string_view::npos;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

}  // namespace

struct CsvReader::File {
  std::ifstream in;
};

CsvReader::CsvReader() = default;
CsvReader::~CsvReader() = default;

std::string CsvReader::open(const std::string& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) return "there is no such file";
  // It is read twice, and a pipe or a device could block or never end.
  if (!std::filesystem::is_regular_file(status)) return "is not a regular file";
  file_ = std::make_unique<File>();
  file_->in.open(path, std::ios::binary);
  if (!file_->in) return fmt::format("can't be read: {}", std::strerror(errno));
  block_.resize(kBlock);
  return {};
}

bool CsvReader::fill() {
  file_->in.read(block_.data(), static_cast<std::streamsize>(block_.size()));
  at_ = 0;
  end_ = static_cast<size_t>(file_->in.gcount());
  const std::string_view read(block_.data(), end_);
  hash_ = hash_of(read, hash_);
  if (first_block_ && read.starts_with(kByteOrderMark)) at_ = kByteOrderMark.size();
  first_block_ = false;
  return at_ < end_;
}

/// Reads one record's bytes into record_, blank lines and comments passed over.
bool CsvReader::take_record() {
  if (failed() || file_ == nullptr) return false;
  while (true) {
    record_.clear();
    record_line_ = line_;
    bool quoted = false, fresh = true, any = false, ended = false;
    Place quote;
    size_t line_start = 0;
    while (!ended) {
      if (at_ == end_ && !fill()) break;
      any = true;
      // Runs of ordinary bytes are taken at once.
      const char* const from = block_.data() + at_;
      const bool comment = separator_ == 0 && (record_.empty() ? *from : record_.front()) == '#';
      const char* const to = block_.data() + end_;
      const char* p = from;
      for (; p != to; ++p) {
        const char c = *p;
        if (c == '\n') break;
        if (c == '"' && !comment) {
          if (quoted) {
            quoted = false;  // or the first of a doubled one, which opens again
            fresh = true;
          } else if (fresh) {
            quoted = true;
            quote = {
                line_,
                static_cast<int>(record_.size() + static_cast<size_t>(p - from) - line_start) + 1};
          }
          continue;
        }
        if (quoted) continue;
        const bool separates =
            separator_ != 0 ? c == separator_ : c == ',' || c == ';' || c == '\t';
        fresh = separates || (fresh && (c == ' ' || c == '\t'));
      }
      record_.append(from, p);
      at_ += static_cast<size_t>(p - from);
      if (p != to) {  // a line end
        ++at_;
        ++line_;
        if (!quoted) {
          ended = true;
        } else {
          record_ += '\n';
          line_start = record_.size();
        }
      }
      if (record_.size() > kMostRecord) break;
    }
    if (record_.size() > kMostRecord || (quoted && !ended)) {
      if (!any) return false;
      wrong_ = quoted ? quote : Place{record_line_, 1};
      why_ = quoted
                 ? "this quote is never closed"
                 : fmt::format("this row has more than {} bytes: no table of bodies", kMostRecord);
      return false;
    }
    if (!any) return false;
    if (!record_.empty() && record_.back() == '\r') record_.pop_back();
    if (const size_t zero = record_.find('\0'); zero != std::string::npos) {
      wrong_ = {record_line_, static_cast<int>(zero) + 1};
      why_ = "is no UTF-8 text (save it as CSV UTF-8)";
      return false;
    }
    if (is_blank(record_)) continue;
    if (separator_ == 0 && record_.front() == '#') {
      comments_.emplace_back(trimmed(std::string_view(record_).substr(1)));
      continue;
    }
    if (separator_ == 0) separator_ = find_separator();
    return true;
  }
}

/// What separates the cells of the first record: a comma if it has one outside quotes, else ';',
/// else a tab.
char CsvReader::find_separator() const {
  for (const char candidate : {',', ';', '\t'}) {
    bool quoted = false;
    for (const char c : record_) {
      if (c == '"') quoted = !quoted;
      if (c == candidate && !quoted) return candidate;
    }
  }
  return ',';
}

bool CsvReader::skip() { return take_record(); }

bool CsvReader::next(std::vector<CsvCell>& cells) {
  cells.clear();
  torn_ = {};
  if (!take_record()) return false;
  torn_ = split_record(record_, separator_, record_line_, text_, cells);
  return true;
}

Place split_record(std::string_view record,
                   char separator,
                   int line,
                   std::string& text,
                   std::vector<CsvCell>& cells) {
  cells.clear();
  text.clear();
  text.reserve(record.size());  // views into it stay: it never grows past the record
  Place torn;
  size_t line_start = 0, at = 0;
  while (true) {
    while (at < record.size() && record[at] == ' ') ++at;
    const Place place{line, static_cast<int>(at - line_start) + 1};
    if (at < record.size() && record[at] == '"') {
      const size_t from = text.size();
      for (++at; at < record.size(); ++at) {
        if (record[at] == '"') {
          if (at + 1 < record.size() && record[at + 1] == '"') {
            ++at;
          } else {
            break;
          }
        }
        if (record[at] == '\n') {
          ++line;
          line_start = at + 1;
        }
        text += record[at];
      }
      ++at;  // the closing quote
      cells.push_back({std::string_view(text).substr(from), place});
      const size_t end = std::min(record.find(separator, at), record.size());
      if (!is_blank(record.substr(std::min(at, end), end - std::min(at, end))) && torn.line == 0)
        torn = {line, static_cast<int>(at - line_start) + 1};
      at = end;
    } else {
      const size_t end = std::min(record.find(separator, at), record.size());
      cells.push_back({trimmed(record.substr(at, end - at)), place});
      at = end;
    }
    if (at >= record.size()) return torn;
    ++at;  // the separator; what follows it is a cell, even when it is empty
    if (at == record.size()) {
      cells.push_back({{}, {line, static_cast<int>(at - line_start) + 1}});
      return torn;
    }
  }
}

std::uint64_t hash_of(std::string_view bytes, std::uint64_t seed) {
  constexpr std::uint64_t kPrime = 1099511628211ULL;
  std::uint64_t hash = seed;
  size_t at = 0;
  for (; at + sizeof(std::uint64_t) <= bytes.size(); at += sizeof(std::uint64_t)) {
    std::uint64_t word = 0;
    std::memcpy(&word, bytes.data() + at, sizeof word);
    hash = (hash ^ word) * kPrime;
    hash ^= hash >> 29;  // or the high bits of a word would never reach the low ones
  }
  for (; at < bytes.size(); ++at) hash = (hash ^ static_cast<unsigned char>(bytes[at])) * kPrime;
  return hash;
}

std::string csv_cell(std::string_view text) {
  const bool plain = text.find_first_of(",;\t\"\r\n") == std::string_view::npos && !text.empty() &&
                     text.front() != ' ' && text.back() != ' ' && text.front() != '#';
  if (plain || text.empty()) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? "\"\"" : std::string(1, c);
  return quoted + "\"";
}

}  // namespace easewright
