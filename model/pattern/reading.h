#pragma once
// Lengths as they stand on a piece: to the millimetre, or to the eighth of an inch.

#include "model/job.h"

#include <string>

namespace easewright {

/// '12.3 cm', '4 7/8 in', '1/8 in', '0 in'.
std::string length_as_read(double cm, LengthUnit unit);

}  // namespace easewright
