#include "cli/commands/group_key.h"

#include "cli/read/csv.h"
#include "cli/read/data_folder.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <vector>

#include <fmt/format.h>

namespace easewright {
namespace {

namespace fs = std::filesystem;

std::uint64_t hash_of_file(const std::string& path, std::uint64_t seed) {
  std::ifstream in(path, std::ios::binary);
  std::vector<char> block(1 << 16);
  std::uint64_t hash = hash_of("file\n", seed);
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())), in.gcount() > 0)
    hash = hash_of({block.data(), static_cast<size_t>(in.gcount())}, hash);
  return hash;
}

/// What every job is read against: rules, tables, and their names.
std::uint64_t hash_of_data(const std::string& folder) {
  std::vector<std::string> files;
  for (const char* room : {"rules", "tables"}) {
    std::error_code error;
    for (fs::directory_iterator it(folder + "/" + room, error), end; !error && it != end;
         it.increment(error))
      files.push_back(it->path().string());
  }
  std::sort(files.begin(), files.end());
  std::uint64_t hash = hash_of("");
  for (const std::string& file : files) hash = hash_of_file(file, hash);
  return hash;
}

std::string text_of(const std::optional<Expression>& e) { return e ? e->text() : "-"; }

/// Numbers in hexadecimal: each bit counts.
std::string text_of(const Cloth& cloth) {
  std::string text = fmt::format("{} {} {}\n", cloth.label, cloth.nap, cloth.leaves_holes);
  for (int i = 0; i < kClothFacts; ++i) text += fmt::format("{:a} ", cloth.*cloth_fact(i).member);
  return text + "\n";
}

std::string text_of(const std::vector<Wish>& wishes) {
  std::string text;
  for (const Wish& w : wishes) {
    text += fmt::format("{} {} {} {:a} {}\n",
                        w.id,
                        text_of(w.lo),
                        text_of(w.hi),
                        w.tolerance,
                        static_cast<int>(w.strength));
  }
  return text;
}

std::string text_of(const Style& style) {
  std::string text = style.label + "\n";
  for (const int option : style.switches.at) text += fmt::format("{} ", option);
  for (const int option : style.put_on) text += fmt::format("/{} ", option);
  for (const ValueOverride& o : style.overrides) {
    text += fmt::format("\n{} {} {} {} {}",
                        static_cast<int>(o.key),
                        text_of(o.habit),
                        text_of(o.least),
                        text_of(o.most),
                        o.fixed);
  }
  return text + "\n" + text_of(style.wishes);
}

}  // namespace

RowsKey rows_key(const Options& options, const Job& job, const Bodies& bodies) {
  const std::string how = fmt::format(
      "{} {}", options.why == Why::told, options.why == Why::told && job.unit == LengthUnit::inch);
  std::uint64_t read_as = hash_of("", bodies.hash());
  for (const std::string& same : options.same) read_as = hash_of(same + "\n", read_as);
  return {{"program", hash_of_file("/proc/self/exe", hash_of(""))},
          {"rules", hash_of_data(data_folder())},
          {"job", hash_of(text_of(job.style) + text_of(job.cloth) + text_of(job.wishes))},
          {"bodies", read_as},
          {"options", hash_of(how)}};
}

}  // namespace easewright
