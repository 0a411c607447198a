#include "cli/read/file.h"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>

namespace easewright {

std::optional<std::string> read_file(const std::string& path, std::string& why) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) {
    why = "there is no such file";
    return std::nullopt;
  }
  // A pipe or a device could block or never end.
  if (!std::filesystem::is_regular_file(status)) {
    why =
        std::filesystem::is_directory(status) ? "is a folder, not a file" : "is not a regular file";
    return std::nullopt;
  }
  const auto size = std::filesystem::file_size(path, error);
  if (!error && size > kMostFileBytes) {
    why = fmt::format(
        "is {} bytes long; no file of this kind has more than {}", size, kMostFileBytes);
    return std::nullopt;
  }
  std::ifstream in(path, std::ios::binary);
  if (!in) {
    why = fmt::format("can't be read: {}", std::strerror(errno));
    return std::nullopt;
  }
  std::string bytes(static_cast<size_t>(error ? kMostFileBytes : size), '\0');
  in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<size_t>(in.gcount()));
  return bytes;
}

}  // namespace easewright
