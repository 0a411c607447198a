#pragma once
// Whether bytes are text.

#include <cstddef>
#include <string_view>

namespace easewright {

/// Byte offset of the first byte that is not UTF-8 text or a control character other than tab and
/// line ends; npos when all is well.
size_t first_bad_byte(std::string_view text);

}  // namespace easewright
