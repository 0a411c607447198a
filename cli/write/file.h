#pragma once
// Files out: whole or not at all.

#include <string>

namespace easewright {

/// Writes `bytes` to a new file beside `path` and renames it there, so that nobody ever sees half
/// of it and an earlier file stays when something fails. Empty on success, else why not, in one
/// sentence.
std::string write_file(const std::string& path, const std::string& bytes);

}  // namespace easewright
