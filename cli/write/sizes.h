#pragma once
// The sizes of a group: whose drafts, who is served by which, and what each of them needs.

#include "cli/write/page.h"
#include "model/group/sizes.h"

#include <cstdint>
#include <string>
#include <vector>

namespace easewright {

/// A body that a run of sizes could not take.
struct LeftOutBody {
  std::uint32_t row = 0;
  std::string label;
};

struct Sized {
  std::string file, bodies_file;
  const Job* job = nullptr;
  std::vector<Body> bodies;           ///< as sizes() had them
  std::vector<std::uint32_t> rows;    ///< of each, in its file
  std::vector<LeftOutBody> left_out;  ///< bad rows
  SizesOptions options;
  Sizes sizes;
  bool tell_all = false;  ///< of a large group every body's moves as well
};

/// True when nobody needs a garment of their own but those who are drafted for.
bool serves_all(const Sized& sized);

std::string write_sizes(const Sized& sized, Colour colour);

/// The schema is written down in cli/write/README.md.
std::string write_sizes_json(const Sized& sized);

}  // namespace easewright
