#include "cli/commands/rows.h"

#include "cli/read/file.h"
#include "cli/write/file.h"

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace easewright {
namespace {

namespace fs = std::filesystem;

std::string inside(const std::string& folder, const std::string& name) {
  return folder.ends_with('/') ? folder + name : folder + "/" + name;
}

/// 'rows' or 'rows-1-500'.
std::string stem_of(const RowRange& range, bool part) {
  return part ? fmt::format("rows-{}-{}", range.first, range.last) : "rows";
}

std::string text_of(const RowsKey& key) {
  std::string text = "easewright rows 1\n";
  for (const auto& [word, number] : key) text += fmt::format("{} {:016x}\n", word, number);
  return text;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (size_t at = 0; at < text.size();) {
    const size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

/// Words of the key that differ, 'rules, bodies'; empty when none does.
std::string difference(const std::string& there, const RowsKey& key) {
  const auto old = lines_of(there), now = lines_of(text_of(key));
  std::string words;
  for (size_t i = 1; i < now.size(); ++i) {
    if (std::find(old.begin(), old.end(), now[i]) == old.end())
      words += (words.empty() ? "" : ", ") + now[i].substr(0, now[i].rfind(' '));
  }
  return words.empty() && there != text_of(key) ? "program" : words;
}

/// The number that a line begins with; 0 where there is none.
std::uint32_t row_of(std::string_view line) {
  std::uint32_t row = 0;
  const auto [end, error] = std::from_chars(line.data(), line.data() + line.size(), row);
  return error == std::errc() && end != line.data() + line.size() && *end == ',' ? row : 0;
}

std::string system_words() { return std::strerror(errno); }

}  // namespace

RowsFile::~RowsFile() {
  if (descriptor_ >= 0) ::close(descriptor_);  // and with it the lock
}

std::string RowsFile::open(const std::string& folder,
                           const RowRange& range,
                           bool part,
                           const RowsKey& key,
                           const std::string& header) {
  const std::string stem = stem_of(range, part);
  path_ = inside(folder, stem + ".csv");
  const std::string key_path = inside(folder, stem + ".key");
  const auto refused = [this](const std::string& why) { return fmt::format("{}: {}", path_, why); };
  std::error_code error;
  const fs::file_status status = fs::status(path_, error);
  if (fs::exists(status) && !fs::is_regular_file(status))
    return refused("is there and no regular file");
  descriptor_ = ::open(path_.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
  if (descriptor_ < 0) return refused("can't be written: " + system_words());
  if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0)
    return refused("another run is writing it just now");
  std::string why;
  if (fs::file_size(path_, error) == 0) {
    // The key goes first: rows without one would belong to nobody.
    StagedFile staged;
    why = staged.write(key_path, text_of(key));
    if (why.empty()) why = staged.keep();
    if (why.empty()) {
      why = append(header);
      return why.empty() ? why : refused(why);
    }
    ::unlink(path_.c_str());
    return fmt::format("{}: {}", key_path, why);
  }
  const auto old_key = read_file(key_path, why);
  if (!old_key)
    return refused("is there, and not from an earlier run of group; choose another --out");
  if (const std::string words = difference(*old_key, key); !words.empty()) {
    return refused(fmt::format(
        "was begun with another {}; choose another --out, or remove it to begin again", words));
  }
  why = recover(range, header);
  return why.empty() ? why : refused(why);
}

/// Counts the rows that are whole, and takes away what an end in the middle of a line has left.
std::string RowsFile::recover(const RowRange& range, const std::string& header) {
  std::ifstream in(path_, std::ios::binary);
  std::string line;
  std::uint64_t whole = 0;
  bool first = true;
  while (std::getline(in, line)) {
    if (in.eof()) break;  // no line end: torn
    if (first && line + "\n" != header)
      return "does not begin as rows do; remove it to begin again";
    if (!first && row_of(line) != range.first + done_)
      return fmt::format("row {} is not in its place; remove it to begin again",
                         range.first + done_);
    if (!first) ++done_;
    first = false;
    whole += line.size() + 1;
  }
  if (done_ > range.size()) return "has more rows than there are bodies; remove it to begin again";
  if (::ftruncate(descriptor_, static_cast<off_t>(whole)) != 0)
    return "can't be written: " + system_words();
  size_ = whole;
  return first ? append(header) : "";
}

std::string RowsFile::append(const std::string& lines) {
  size_t written = 0;
  while (written < lines.size()) {
    const ssize_t count = ::write(descriptor_, lines.data() + written, lines.size() - written);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) {
      const std::string why = "can't be written: " + system_words();
      // If this fails as well, the next run takes the torn line away.
      if (::ftruncate(descriptor_, static_cast<off_t>(size_)) != 0) return why;
      return why;
    }
    written += static_cast<size_t>(count);
  }
  size_ += lines.size();
  return {};
}

DoneParts::DoneParts(const std::string& folder, const RowsKey& key) {
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    const std::string name = it->path().filename().string();
    unsigned first = 0, last = 0;
    int length = 0;
    if (std::sscanf(name.c_str(), "rows-%9u-%9u.csv%n", &first, &last, &length) != 2 ||
        static_cast<size_t>(length) != name.size())
      continue;
    std::string why;
    const RowRange range{first, last};
    const auto old = read_file(inside(folder, stem_of(range, true) + ".key"), why);
    if (!old || *old != text_of(key)) continue;
    Part& part = parts_.emplace_back();
    part.range = range;
    part.path = it->path().string();
  }
  std::sort(parts_.begin(), parts_.end(), [](const Part& a, const Part& b) {
    return std::pair(a.range.first, a.range.last) < std::pair(b.range.first, b.range.last);
  });
}

void DoneParts::advance(Part& part) {
  if (!part.in.is_open()) {
    part.in.open(part.path, std::ios::binary);
    std::getline(part.in, part.line);  // the first row names the columns
  }
  if (!std::getline(part.in, part.line) || part.in.eof()) {
    part.ended = true;
    return;
  }
  part.row = row_of(part.line);
  part.line += '\n';
}

std::optional<std::string> DoneParts::take(std::uint32_t row) {
  while (!parts_.empty() && parts_.front().range.last < row) parts_.pop_front();
  for (Part& part : parts_) {
    if (part.range.first > row) break;
    while (!part.ended && part.row < row) advance(part);
    if (!part.ended && part.row == row) return part.line;
  }
  return std::nullopt;
}

}  // namespace easewright
