#include "model/group/summary.h"

#include "model/uncertainty.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using solver::Level;

/// Finite ones of what `read` takes of each member.
template <typename Read>
Spread spread_over(const std::vector<Member>& members, const Read& read) {
  std::vector<double> values;
  values.reserve(members.size());
  for (const Member& m : members) {
    const auto value = static_cast<double>(read(m));
    if (std::isfinite(value)) values.push_back(value);
  }
  return spread_of(std::move(values));
}

std::vector<TermMisses> misses_of(const std::vector<Member>& members, const Terms& terms) {
  std::vector<TermMisses> all(terms.all.size());
  for (const Member& m : members) {
    for (const MemberMiss& miss : m.misses) {
      // A habit is nobody's wish: what it misses is no miss of the style.
      if (terms.all[miss.term].strength > Level::wish) continue;
      TermMisses& t = all[miss.term];
      t.amounts.push_back(static_cast<double>(miss.amount));
      t.above += miss.amount > 0;
    }
  }
  for (size_t i = 0; i < all.size(); ++i) {
    all[i].term = static_cast<int>(i);
    std::vector<double> sizes;
    for (const double amount : all[i].amounts)
      sizes.push_back(std::abs(amount) / terms.all[i].tolerance);
    all[i].size = spread_of(std::move(sizes));
  }
  std::erase_if(all, [](const TermMisses& t) { return t.amounts.empty(); });
  std::stable_sort(all.begin(), all.end(), [](const TermMisses& a, const TermMisses& b) {
    return a.amounts.size() > b.amounts.size();
  });
  return all;
}

void add_sureness(const std::vector<Member>& members, Summary& summary) {
  double expected = 0;
  std::vector<double> estimated;
  for (const Member& m : members) {
    if (!m.sureness) continue;
    ++summary.sure_of;
    summary.with_toss_ups += m.sureness->toss_ups > 0;
    expected += static_cast<double>(m.sureness->missed);
    estimated.push_back(m.sureness->estimated);
  }
  if (summary.sure_of > 0)
    summary.expected_misses = expected / static_cast<double>(summary.sure_of);
  summary.estimated = spread_of(std::move(estimated));
}

}  // namespace

Interval share_interval(std::size_t seen, std::size_t of, double probability) {
  if (of == 0) return {};
  const double n = static_cast<double>(of), p = static_cast<double>(seen) / n;
  const double z = normal_quantile(0.5 + 0.5 * probability), z2 = z * z;
  const double middle = p + z2 / (2 * n);
  const double half = z * std::sqrt((p * (1 - p) + z2 / (4 * n)) / n);
  const double whole = 1 + z2 / n;
  // At the ends the formula is exact; its last bits are not.
  return {seen == 0 ? 0 : (middle - half) / whole, seen == of ? 1 : (middle + half) / whole};
}

Spread spread_of(std::vector<double> values) {
  Spread spread;
  spread.count = values.size();
  if (values.empty()) return spread;
  std::sort(values.begin(), values.end());
  spread.least = values.front();
  spread.most = values.back();
  for (size_t i = 0; i < kShares.size(); ++i) {
    const double place = kShares[i] * static_cast<double>(values.size() - 1);
    const auto below = static_cast<size_t>(place);
    const size_t above = std::min(below + 1, values.size() - 1);
    spread.at[i] =
        values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
  }
  return spread;
}

Summary summarise(const std::vector<Member>& members, const Terms& terms) {
  Summary summary;
  summary.members = members.size();
  for (const Member& m : members) {
    summary.fit_fully += all_hold(m, terms, Level::wish);
    summary.fit += all_hold(m, terms, Level::should);
    summary.can_be_made += all_hold(m, terms, Level::must);
  }
  summary.misses = misses_of(members, terms);
  for (int i = 0; i < kValueKeys; ++i) {
    const auto key = static_cast<ValueKey>(i);
    summary.values[static_cast<size_t>(i)] =
        spread_over(members, [key](const Member& m) { return m[key]; });
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const auto key = static_cast<MeasureKey>(i);
    summary.measures[static_cast<size_t>(i)] =
        spread_over(members, [key](const Member& m) { return m[key]; });
  }
  for (int i = 0; i < kBodyKeys; ++i) {
    const auto key = static_cast<BodyKey>(i);
    summary.body[static_cast<size_t>(i)] =
        spread_over(members, [key](const Member& m) { return m[key]; });
  }
  add_sureness(members, summary);
  return summary;
}

}  // namespace easewright
