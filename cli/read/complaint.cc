#include "cli/read/complaint.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Past this nobody reads on; a key can be as long as its file.
constexpr size_t kMostText = 400;

/// A quoted key may span lines; a complaint is one.
std::string on_one_line(std::string_view text) {
  std::string line(text.substr(0, kMostText));
  std::replace_if(
      line.begin(), line.end(), [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
  // Not within a character of several bytes.
  while (text.size() > kMostText && !line.empty() &&
         (static_cast<unsigned char>(line.back()) & 0x80) != 0)
    line.pop_back();
  return text.size() > kMostText ? line + "..." : line;
}

}  // namespace

std::string to_string(const Complaint& c) {
  std::string line = c.file;
  if (c.place.line > 0) line += fmt::format(":{}:{}", c.place.line, c.place.column);
  if (!c.key_path.empty()) line += ": " + c.key_path;
  return line + ": " + c.text;
}

void Complaints::add(std::string_view file,
                     Place place,
                     std::string_view key_path,
                     std::string_view text) {
  all_.push_back({std::string(file), place, on_one_line(key_path), on_one_line(text)});
}

std::vector<Complaint> Complaints::in_order() const {
  std::map<std::string, size_t> seen;
  for (const Complaint& c : all_) seen.emplace(c.file, seen.size());
  std::vector<Complaint> sorted;
  std::set<std::string> said;
  for (const Complaint& c : all_) {
    if (said.insert(to_string(c)).second) sorted.push_back(c);
  }
  std::stable_sort(sorted.begin(), sorted.end(), [&seen](const Complaint& a, const Complaint& b) {
    return std::tuple(seen.at(a.file), a.place.line, a.place.column) <
           std::tuple(seen.at(b.file), b.place.line, b.place.column);
  });
  return sorted;
}

}  // namespace easewright
