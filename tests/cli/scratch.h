#pragma once
// A folder of one test's own, and the program run as a user runs it.

#include <string>
#include <string_view>
#include <vector>

namespace easewright::tests {

class Scratch {
 public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  /// Writes a file, folders included, and returns its path.
  std::string write(const std::string& name, std::string_view bytes) const;
  std::string path(const std::string& name) const { return folder_ + "/" + name; }
  /// Names of all files, sorted, folders' contents included.
  std::vector<std::string> files() const;

 private:
  std::string folder_;
};

struct Ran {
  int exit_code = -1;
  std::string out, err;
};

/// Runs the program with these arguments in `folder` (the source folder when empty). `environment`:
/// 'NAME=value' words.
Ran run_program(const std::vector<std::string>& arguments,
                const std::string& folder = {},
                const std::string& environment = {});

/// The same with standard output into this file or device; `out` stays empty.
Ran run_program_into(const std::string& output, const std::vector<std::string>& arguments);

std::string bytes_of(const std::string& path);
std::vector<std::string> lines_of(std::string_view text);

/// '<source>/data/choir/jobs/alto-2.yaml'.
std::string choir_job(const std::string& name);
/// All job files of the choir and the examples.
std::vector<std::string> demo_jobs();

/// True when long runs are wanted (EASEWRIGHT_SOAK=1).
bool soaking();

}  // namespace easewright::tests
