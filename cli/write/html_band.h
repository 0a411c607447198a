#pragma once
// A small picture of one finding: a bar for what is wanted, a stroke for what is.

#include "model/fit.h"

#include <string>

namespace easewright {

/// An <svg> element; empty where neither side is limited or a number is missing.
std::string band_of(const Finding& finding);

}  // namespace easewright
