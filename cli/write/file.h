#pragma once
// Bytes out: files whole or not at all, several of them together or none; and standard output with
// its errors told.

#include <string>
#include <vector>

namespace easewright {

/// A file that lies complete beside its place, under another name. It is moved there by keep() and
/// removed without: nobody ever sees half of it, and an earlier file stays when something else
/// fails.
class StagedFile {
 public:
  StagedFile() = default;
  ~StagedFile();
  StagedFile(StagedFile&& other) noexcept;
  StagedFile(const StagedFile&) = delete;
  StagedFile& operator=(const StagedFile&) = delete;

  /// Writes `bytes` for `path`; once. Empty on success, else why not, in one sentence.
  std::string write(const std::string& path, const std::string& bytes);
  /// Puts it in its place. Empty on success, else why not.
  std::string keep();

 private:
  std::string fresh_;   ///< empty when there is nothing to remove
  std::string target_;  ///< the file behind a link
};

/// A folder for files. What of it is missing is made, and taken away again unless keep() is called;
/// what is there stays as it is.
class StagedFolder {
 public:
  StagedFolder() = default;
  ~StagedFolder();
  StagedFolder(const StagedFolder&) = delete;
  StagedFolder& operator=(const StagedFolder&) = delete;

  /// Once. Empty on success, else why not, in one sentence.
  std::string make(const std::string& path);
  void keep() { made_.clear(); }

 private:
  std::vector<std::string> made_;  ///< outermost first
};

/// Writes to standard output. Empty on success, else why not. A reader that is gone (EPIPE) is an
/// error only where SIGPIPE is ignored.
std::string write_out(const std::string& text);

/// True when both paths mean one file, whether it is there yet or not.
bool same_file(const std::string& a, const std::string& b);

}  // namespace easewright
