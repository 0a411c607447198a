#include "cli/write/member_row.h"

#include "cli/read/csv.h"
#include "cli/write/quantity.h"
#include "cli/write/words.h"

#include <array>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Level;

double outer(double value, Dimension dimension) {
  return dimension == kAngle ? degrees(value) : value;
}

/// The value in fixed decimals without trailing zeros; nothing for what is no number. fmt takes
/// half of a row's time where it is asked for the shortest form.
void add_number(std::string& row, float value, Dimension dimension) {
  const double number = outer(static_cast<double>(value), dimension);
  const int decimals = decimals_of(dimension);
  constexpr std::array<std::int64_t, 7> kPowers = {1, 10, 100, 1000, 10000, 100000, 1000000};
  const std::int64_t power = kPowers.at(static_cast<size_t>(decimals));
  if (!(std::abs(number) < 1e9)) return;
  std::int64_t scaled = std::llround(number * static_cast<double>(power));
  if (scaled < 0) {
    row += '-';
    scaled = -scaled;
  }
  fmt::format_int whole(scaled / power);
  row.append(whole.data(), whole.size());
  std::int64_t rest = scaled % power;
  if (rest == 0) return;
  std::array<char, 7> digits{};
  int count = decimals;
  for (int i = decimals; i-- > 0; rest /= 10)
    digits[static_cast<size_t>(i)] = static_cast<char>('0' + rest % 10);
  while (digits[static_cast<size_t>(count - 1)] == '0') --count;
  row += '.';
  row.append(digits.data(), static_cast<size_t>(count));
}

std::string column_name(std::string_view id, Dimension dimension) {
  const std::string unit = unit_word(dimension, {});
  return spoken(id) + (unit.empty() ? "" : " (" + unit + ")");
}

/// '9 cm', '0.25'.
std::string amount_of(double value, Dimension dimension, const char* format) {
  const std::string unit = unit_word(dimension, {});
  return fmt::format(fmt::runtime(format), outer(value, dimension)) +
         (unit.empty() ? "" : " " + unit);
}

std::string write_step(const MemberStep& step, const Terms& terms) {
  if (step.kind == CureStep::Kind::option) {
    const SwitchInfo& which = info(static_cast<Switch>(step.which));
    return fmt::format("switch {} {}", spoken(which.id), which.options[step.option]);
  }
  const bool wish = step.kind == CureStep::Kind::wish;
  const Dimension dimension =
      wish ? terms.all[step.which].dimension : info(static_cast<ValueKey>(step.which)).dimension;
  const bool whole = wish && terms.all[step.which].exact && !step.between;
  const char* side = whole ? "" : step.side == solver::Side::lower ? "at least " : "at most ";
  return fmt::format(
      "{} {} {}{}",
      wish ? "wish" : "limit",
      wish ? terms.all[step.which].name : spoken(info(static_cast<ValueKey>(step.which)).id),
      side,
      amount_of(static_cast<double>(step.to), dimension, "{:.6g}"));
}

std::string misses_of(const Member& member, const Terms& terms) {
  std::string text;
  for (const MemberMiss& miss : member.misses) {
    const Term& term = terms.all[miss.term];
    text += (text.empty() ? "" : "; ") + term.name + " " +
            amount_of(static_cast<double>(miss.amount), term.dimension, "{:.5g}");
  }
  return text;
}

std::string cures_of(const Member& member, const Terms& terms) {
  std::string text;
  if (!member.explained) return text;
  for (const MemberMiss& miss : member.misses) {
    text += (text.empty() ? "" : "; ") + terms.all[miss.term].name + ": ";
    if (miss.cures.empty()) text += "none known";
    for (size_t i = 0; i < miss.cures.size(); ++i)
      text += (i > 0 ? " or " : "") + write_cure(miss.cures[i], terms);
  }
  return text;
}

std::string verdict_of(const Member& member, const Terms& terms) {
  if (all_hold(member, terms, Level::wish)) return "fits";  // a habit that gives way is no harm
  return std::string(to_string(terms.all[member.misses.front().term].strength)) + " missed";
}

int missed_at(const Member& member, const Terms& terms, Level level) {
  int count = 0;
  for (const MemberMiss& miss : member.misses) count += terms.all[miss.term].strength == level;
  return count;
}

template <typename Each>
void each_column(const Each& each) {
  for (int i = 0; i < kValueKeys; ++i) {
    const ValueInfo& value = info(static_cast<ValueKey>(i));
    each("", value.id, value.dimension);
  }
  for (int i = 0; i < kMeasureKeys; ++i) {
    const MeasureInfo& measure = info(static_cast<MeasureKey>(i));
    each("", measure.id, measure.dimension);
  }
  for (int i = 0; i < kBodyKeys; ++i) {
    const BodyMeasureInfo& measure = info(static_cast<BodyKey>(i));
    each("body ", measure.id, measure.dimension);
  }
}

}  // namespace

int decimals_of(Dimension dimension) { return dimension == kRatio ? 5 : 3; }

std::string write_cure(const MemberCure& cure, const Terms& terms) {
  std::string text;
  for (size_t i = 0; i < cure.count; ++i)
    text += (i > 0 ? " and " : "") + write_step(cure.steps.at(i), terms);
  return text;
}

std::string member_header() {
  std::string row =
      "row,body,build,verdict,refused because,put on,proved,missed musts,missed shoulds,missed "
      "wishes,misses,cures,misses to expect,least sure,holds with,toss-ups,estimated";
  each_column([&row](const char* before, std::string_view id, Dimension dimension) {
    row += ",";
    row += csv_cell(before + column_name(id, dimension));
  });
  return row + "\n";
}

std::string write_member(const Member& member, const Terms& terms) {
  std::string row;
  row.reserve(2048);
  fmt::format_to(std::back_inserter(row),
                 "{},{},{},{},,{},{},{},{},{},{},{},",
                 member.row,
                 csv_cell(member.label),
                 to_string(member.build),
                 verdict_of(member, terms),
                 info(Switch::put_on).options[member.put_on],
                 member.proved ? "yes" : "no",
                 missed_at(member, terms, Level::must),
                 missed_at(member, terms, Level::should),
                 missed_at(member, terms, Level::wish),
                 csv_cell(misses_of(member, terms)),
                 csv_cell(cures_of(member, terms)));
  if (member.sureness) {
    const MemberSureness& sure = *member.sureness;
    fmt::format_to(std::back_inserter(row),
                   "{:.4f},{},{:.4f},{},{}",
                   sure.missed,
                   csv_cell(sure.least < 1 ? terms.all[sure.least_term].name : ""),
                   sure.least,
                   sure.toss_ups,
                   sure.estimated);
  } else {
    row += ",,,,";
  }
  size_t at = 0;
  each_column([&](const char*, std::string_view, Dimension dimension) {
    row += ',';
    const size_t i = at++;
    const float value = i < kValueKeys ? member.values[i]
                        : i < size_t{kValueKeys} + kMeasureKeys
                            ? member.measures[i - kValueKeys]
                            : member.body[i - kValueKeys - kMeasureKeys];
    add_number(row, value, dimension);
  });
  row += '\n';
  return row;
}

std::string write_refused(std::uint32_t row, std::string_view label, std::string_view why) {
  constexpr size_t kEmpty = 12 + kValueKeys + kMeasureKeys + kBodyKeys;
  return fmt::format("{},{},,refused,{}", row, csv_cell(label), csv_cell(why)) +
         std::string(kEmpty, ',') + "\n";
}

}  // namespace easewright
