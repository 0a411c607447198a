#include "cli/write/finding.h"

#include "cli/write/quantity.h"
#include "cli/write/verdict.h"
#include "cli/write/words.h"
#include "model/rounding.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Parts of a slack below this go unsaid, cm.
constexpr double kSaidSlackCm = 0.05;

}  // namespace

std::string slack_sentence(const Finding& f, const FitResult& result, LengthUnit unit) {
  std::vector<SlackTerm> terms = slack_terms(f, result);
  const Notation notation = notation_of(f.rule, kLength, unit);
  std::erase_if(terms, [&notation](const SlackTerm& t) {
    return std::abs(t.amount) < kSaidSlackCm || write_number(t.amount, kLength, notation) == "0";
  });
  std::stable_sort(terms.begin(), terms.end(), [](const SlackTerm& a, const SlackTerm& b) {
    return a.amount > b.amount;
  });
  std::string text;
  for (const SlackTerm& term : terms) {
    text += fmt::format("{}{} {}",
                        text.empty() ? "; in it " : ", ",
                        write_quantity(term.amount, kLength, notation),
                        term.text);
  }
  return text;
}

std::string lost_by_reading(const FitResult& result, LengthUnit unit) {
  std::string lost;
  for (const Finding& f : lost_by_rounding(result, as_rounded(result, unit))) {
    lost += (lost.empty() ? "" : ", ") + f.name + " by " +
            write_amount(f.miss, f.dimension, notation_of_miss(f, unit));
  }
  return lost;
}

}  // namespace easewright
