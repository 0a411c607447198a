#pragma once
// Whole files in, with the limits that keep odd ones from doing harm.

#include <cstddef>
#include <optional>
#include <string>

namespace easewright {

/// Input files are written by hand; the largest of ours is under 100 kB. Past this it is the wrong
/// file.
inline constexpr size_t kMostFileBytes = 1 << 20;

/// The file's bytes. Nothing when it can't be read, is no regular file or is larger than
/// kMostFileBytes; then `why` is one sentence without the file's name.
std::optional<std::string> read_file(const std::string& path, std::string& why);

}  // namespace easewright
