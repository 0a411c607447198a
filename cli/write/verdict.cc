#include "cli/write/verdict.h"

#include "cli/write/judged.h"
#include "cli/write/words.h"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::Level;

long count_missed(const FitResult& result, Level strength) {
  return std::count_if(result.findings.begin(),
                       result.findings.end(),
                       [strength](const Finding& f) { return f.missed && f.strength == strength; });
}

/// 'missed 1 must and 3 wishes of 98'.
std::string missed_counts(const FitResult& result) {
  std::vector<std::string> counts;
  for (const Level level : {Level::must, Level::should, Level::wish, Level::habit}) {
    const long missed = count_missed(result, level);
    const std::string_view plural = level == Level::wish ? "es" : "s";
    if (missed > 0)
      counts.push_back(fmt::format("{} {}{}", missed, to_string(level), missed == 1 ? "" : plural));
  }
  std::string text = "missed ";
  for (size_t i = 0; i < counts.size(); ++i) {
    if (i > 0) text += i + 1 == counts.size() ? " and " : ", ";
    text += counts[i];
  }
  return text + fmt::format(" of {}", result.findings.size());
}

}  // namespace

Verdict verdict_of(const FitResult& result) {
  if (!has_answer(result))
    return {"NO ANSWER: ",
            "the garment can't be computed on this body; a rule or a habit divides by nothing",
            false};
  if (!result.all_hold(Level::must))
    return {"CAN'T BE WORN OR SEWN: ", missed_counts(result), false};
  if (!result.all_hold(Level::should)) return {"DOES NOT FIT WELL: ", missed_counts(result), false};
  if (!result.all_hold(Level::wish))
    return {"FITS, not all as wished: ", missed_counts(result), true};
  if (!result.all_hold(Level::habit))
    return {"FITS: ", "all that is wished holds; " + missed_counts(result), true};
  return {"FITS: ", fmt::format("all {} rules and wishes hold", result.findings.size()), true};
}

Notation notation_of_miss(const Finding& f, LengthUnit unit) {
  Notation notation = notation_of(f.rule, f.dimension, unit);
  const double limit = f.miss < 0 ? f.lo : f.hi;
  if (write_number(f.value, f.dimension, notation) == write_number(limit, f.dimension, notation))
    notation.precision = Precision::fine;
  return notation;
}

std::string miss_of(const Finding& f, LengthUnit unit) {
  return write_amount(f.miss, f.dimension, notation_of_miss(f, unit)) +
         (f.miss < 0 ? " under" : " over");
}

std::string miss_sentence(const Finding& f, LengthUnit unit) {
  const Notation notation = notation_of_miss(f, unit);
  return fmt::format("{}: {}, wanted {} ({})",
                     f.name,
                     write_quantity(f.value, f.dimension, notation),
                     write_wanted(f.lo, f.hi, f.dimension, notation),
                     miss_of(f, unit));
}

}  // namespace easewright
