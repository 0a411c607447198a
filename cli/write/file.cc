#include "cli/write/file.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace easewright {
namespace {

bool write_all(int descriptor, const std::string& bytes) {
  size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t count = ::write(descriptor, bytes.data() + done, bytes.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    done += static_cast<size_t>(count);
  }
  return ::fsync(descriptor) == 0;
}

}  // namespace

std::string write_file(const std::string& path, const std::string& bytes) {
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (fs::exists(status) && !fs::is_regular_file(status))
    return "can't be written: it is there and no regular file";
  // The file behind a link is the one that is meant; its permissions stay.
  const fs::path target = fs::exists(status) ? fs::canonical(path, error) : fs::path(path);
  const fs::path folder = target.parent_path().empty() ? fs::path(".") : target.parent_path();
  std::string fresh = (folder / ("." + target.filename().string() + ".XXXXXX")).string();
  const auto failed = [&fresh](const char* what) {
    std::string why = fmt::format("can't be written: {}: {}", what, std::strerror(errno));
    ::unlink(fresh.c_str());
    return why;
  };
  const int descriptor = ::mkstemp(fresh.data());
  if (descriptor < 0) return fmt::format("can't be written: {}", std::strerror(errno));
  const mode_t mask = ::umask(0);
  ::umask(mask);
  const auto mode = fs::exists(status) ? static_cast<mode_t>(status.permissions())
                                       : static_cast<mode_t>(0666 & ~mask);
  const bool written = write_all(descriptor, bytes) && ::fchmod(descriptor, mode) == 0;
  const int problem = errno;
  ::close(descriptor);
  errno = problem;
  if (!written) return failed("writing");
  if (::rename(fresh.c_str(), target.c_str()) != 0) return failed("renaming");
  return {};
}

}  // namespace easewright
