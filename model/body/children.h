#pragma once
// Children have no table: the one open survey at hand may be tested against but not shipped. They
// get the adults' correlations around means scaled by stature, with s.d. that say how little that
// is worth.

#include "model/body/estimate.h"

namespace easewright {

/// Means for a child of this stature, cm. Chest, waist and hip follow European children's sizes by
/// stature (from memory: 98 / 54 / 52 / 56, 122 / 62 / 57 / 67, 146 / 73 / 63 / 79 cm); all else is
/// the surveyed adults' mean times (stature / adult stature)^k, k 1, but 0.2 for the head, 0.6 for
/// the neck, 1.1 for leg heights, 1.2 for thigh and seated sizes, 1.4 for the arm: judgement.
/// Relative s.d. 5 % for heights, 9 % for lengths, 11 % for girths, and no tighter in proportion
/// than adults; of the adults' correlations 0.8.
Moments child_moments(const BodyTables& adults, double stature_cm);

/// Median stature of children of this age in years, cm (from memory of published growth charts); 1
/// to 18.
double child_stature(double age_years);
double child_age(double stature_cm);  ///< its inverse, 1 to 18

}  // namespace easewright
