#include "cli/write/file.h"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <utility>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace easewright {
namespace {

namespace fs = std::filesystem;

bool write_all(int descriptor, const std::string& bytes) {
  size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t count = ::write(descriptor, bytes.data() + done, bytes.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    done += static_cast<size_t>(count);
  }
  return true;
}

/// Why the last system call failed.
std::string cant(const char* doing = "") {
  return fmt::format("can't be written: {}{}", doing, std::strerror(errno));
}

}  // namespace

StagedFile::~StagedFile() {
  if (!fresh_.empty()) ::unlink(fresh_.c_str());
}

StagedFile::StagedFile(StagedFile&& other) noexcept
    : fresh_(std::exchange(other.fresh_, {})), target_(std::move(other.target_)) {}

std::string StagedFile::write(const std::string& path, const std::string& bytes) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (fs::exists(status) && !fs::is_regular_file(status))
    return "can't be written: it is there and no regular file";
  // The file behind a link is the one that is meant; its permissions stay.
  const fs::path target = fs::exists(status) ? fs::canonical(path, error) : fs::path(path);
  const fs::path folder = target.parent_path().empty() ? fs::path(".") : target.parent_path();
  std::string fresh = (folder / ("." + target.filename().string() + ".XXXXXX")).string();
  const int descriptor = ::mkstemp(fresh.data());
  if (descriptor < 0) return cant();
  fresh_ = fresh;
  target_ = target.string();
  const mode_t mask = ::umask(0);
  ::umask(mask);
  const auto mode = fs::exists(status) ? static_cast<mode_t>(status.permissions())
                                       : static_cast<mode_t>(0666 & ~mask);
  const bool written =
      write_all(descriptor, bytes) && ::fsync(descriptor) == 0 && ::fchmod(descriptor, mode) == 0;
  const int problem = errno;
  ::close(descriptor);
  errno = problem;
  return written ? "" : cant("writing: ");
}

std::string StagedFile::keep() {
  if (::rename(fresh_.c_str(), target_.c_str()) != 0) return cant("renaming: ");
  fresh_.clear();
  return {};
}

StagedFolder::~StagedFolder() {
  // rmdir leaves a folder alone that somebody else has put something into.
  for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) ::rmdir(folder->c_str());
}

std::string StagedFolder::make(const std::string& path) {
  std::error_code error;
  if (fs::is_directory(path, error)) return {};
  if (fs::exists(fs::symlink_status(path, error))) return "is there and no folder";
  const fs::path parent = fs::path(path).parent_path();
  // A path that ends in '/' has itself without the '/' as parent.
  if (!parent.empty() && parent != path)
    if (std::string why = make(parent.string()); !why.empty()) return why;
  if (fs::is_directory(path, error)) return {};
  if (::mkdir(path.c_str(), 0777) != 0)
    return fmt::format("can't be made: {}", std::strerror(errno));
  made_.push_back(path);
  return {};
}

std::string write_out(const std::string& text) {
  return write_all(STDOUT_FILENO, text) ? "" : cant();
}

bool same_file(const std::string& a, const std::string& b) {
  if (a == b) return true;
  std::error_code error;
  if (fs::equivalent(a, b, error)) return true;
  const fs::path first = fs::weakly_canonical(a, error), second = fs::weakly_canonical(b, error);
  return !first.empty() && first == second;
}

}  // namespace easewright
