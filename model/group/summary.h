#pragma once
// What a group of drafts says of its style: how many it fits, what is missed, how values and
// measures are spread over the bodies.

#include "model/group/member.h"

#include <array>
#include <cstddef>
#include <vector>

namespace easewright {

/// Where a share lies that was seen k times in n: Wilson's score interval (1927), which neither
/// leaves 0 to 1 nor vanishes at its ends. Bodies in hand that are the whole group have no such
/// doubt; those that stand for others like them have.
struct Interval {
  double least = 0, most = 1;
};
Interval share_interval(std::size_t seen, std::size_t of, double probability = 0.95);

/// How much of the group lies below: 5, 25, 50, 75 and 95 %.
inline constexpr std::array<double, 5> kShares = {0.05, 0.25, 0.5, 0.75, 0.95};

/// Order statistics, linear between neighbours (type 7 of Hyndman and Fan 1996).
struct Spread {
  std::size_t count = 0;  ///< bodies that have it
  double least = 0, most = 0;
  std::array<double, kShares.size()> at{};
};
Spread spread_of(std::vector<double> values);

/// One rule or wish over the group.
struct TermMisses {
  int term = 0;
  std::vector<double> amounts;  ///< signed, inside units, of those who miss it
  std::size_t above = 0;        ///< of them over the range, not under it
  Spread size;                  ///< in tolerances, of those who miss it
};

struct Summary {
  std::size_t members = 0;
  std::size_t fit_fully = 0;       ///< hold every must, should and wish
  std::size_t fit = 0;             ///< hold every must and should
  std::size_t can_be_made = 0;     ///< hold every must
  std::vector<TermMisses> misses;  ///< those missed by anybody: by how many, the most first
  std::array<Spread, kValueKeys> values;
  std::array<Spread, kMeasureKeys> measures;
  std::array<Spread, kBodyKeys> body;
  // Where sureness was computed:
  std::size_t sure_of = 0;        ///< members with a sureness
  std::size_t with_toss_ups = 0;  ///< of those, with a must or should that holds with 30 to 70 %
  double expected_misses = 0;     ///< musts and shoulds to be expected to miss, on average of those
  Spread estimated;               ///< measures a body that no tape was laid on
};

Summary summarise(const std::vector<Member>& members, const Terms& terms);

}  // namespace easewright
