#pragma once
// The whole garment: from draft values to measures, with their Jacobian.

#include "model/garment/frame.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"

#include <array>
#include <vector>

namespace easewright {

/// All measures at the given values; those of absent parts are 0.
Measures<double> measure(const Frame& frame, const Values<double>& values);

/// The same with d(measure)/d(value), row major, kMeasureKeys x kValueKeys. The bodice's measures
/// depend on the bodice's values alone and the skirt's on the skirt's, so each block has jets of
/// its own width.
void measure_with_jacobian(const Frame& frame,
                           const Values<double>& values,
                           Measures<double>& measures,
                           double* jacobian);

/// Whether a garment with these switches has the measure, or the value.
bool has_measure(const Switches& switches, MeasureKey key);

}  // namespace easewright
