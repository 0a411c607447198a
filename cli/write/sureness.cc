#include "cli/write/sureness.h"

#include "cli/write/quantity.h"
#include "cli/write/words.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

constexpr size_t kNamedTossUps = 2;
constexpr size_t kNamedEffects = 3;

/// '47 %', never '0 %' or '100 %' for what isn't certain.
std::string percent(double probability) {
  if (probability > 0 && probability < 0.01) return "under 1 %";
  if (probability > 0.99 && probability < 1) return "over 99 %";
  return fmt::format("{:.0f} %", 100 * probability);
}

struct Doubtful {
  const Finding* finding;
  const RuleSureness* sureness;
};

std::vector<Doubtful> in_order_of_doubt(const Judged& judged) {
  std::vector<Doubtful> all;
  for (const Finding& f : judged.result.findings) {
    if (const RuleSureness* sureness = sureness_of(judged, f)) all.push_back({&f, sureness});
  }
  std::stable_sort(all.begin(), all.end(), [](const Doubtful& a, const Doubtful& b) {
    return a.sureness->probability < b.sureness->probability;
  });
  return all;
}

/// ': neck edge passes the head 50 %, ... and 5 more (--all)': tosses that aren't misses, since a
/// miss has been told.
std::string named(const std::vector<Doubtful>& all) {
  std::string text;
  size_t count = 0;
  for (const Doubtful& d : all) {
    if (d.sureness->sureness != Sureness::toss_up || d.finding->missed || ++count > kNamedTossUps)
      continue;
    text += fmt::format(
        "{} {} {}", count > 1 ? "," : ":", d.finding->name, percent(d.sureness->probability));
  }
  return text +
         (count > kNamedTossUps ? fmt::format(" and {} more (--all)", count - kNamedTossUps) : "");
}

/// '86 of 100 sure, 3 likely, 2 unlikely, 9 a toss-up: ...'
std::string counts_of(const std::vector<Doubtful>& all) {
  std::array<size_t, 4> counts{};
  for (const Doubtful& d : all) ++counts[static_cast<size_t>(d.sureness->sureness)];
  const auto count = [&counts](Sureness s) { return counts[static_cast<size_t>(s)]; };
  std::string text = fmt::format("{} of {} sure", count(Sureness::sure), all.size());
  for (const Sureness s : {Sureness::likely, Sureness::unlikely, Sureness::toss_up}) {
    if (count(s) > 0) text += fmt::format(", {} {}", count(s), to_string(s));
    if (s == Sureness::toss_up) text += named(all);
  }
  return text + ".";
}

std::string advice_of(const Uncertainty& doubts) {
  std::string names;
  for (const TapeAdvice& advice : doubts.advice)
    names += (names.empty() ? "" : " and ") + spoken(info(advice.key).id);
  return names.empty() ? "" : fmt::format("Taping {} would settle most.", names);
}

/// Signed: '+1.9', '-0.3 deg'; inches in decimals, since an eighth hides most of them.
std::string write_change(double change, Dimension dimension, LengthUnit unit) {
  Notation notation{unit};
  if (unit == LengthUnit::inch && dimension == kLength) notation.precision = Precision::fine;
  const std::string size = dimension == kLength ? write_number(change, dimension, notation)
                                                : write_quantity(change, dimension, notation);
  return (size.front() == '-' ? "" : "+") + size;
}

}  // namespace

void write_sureness(Page& page, const Judged& judged) {
  if (!judged.doubts) return;
  const std::vector<Doubtful> all = in_order_of_doubt(judged);
  std::string text = counts_of(all);
  if (const std::string advice = advice_of(*judged.doubts); !advice.empty()) text += " " + advice;
  page.paragraph("Sureness  ", text, Tone::bold);
  if (judged.sure) {
    page.paragraph("          ",
                   fmt::format("Musts and shoulds were asked to hold with at least {:.4g} %.",
                               100 * *judged.sure));
  }
  if (!judged.tell_all) return;
  for (const Doubtful& d : all) {
    page.paragraph("          ",
                   fmt::format("{:>9}  {}, {}",
                               percent(d.sureness->probability),
                               d.finding->name,
                               to_string(d.finding->strength)));
  }
}

double effect_step(Dimension dimension, LengthUnit unit) {
  if (dimension == kLength) return unit == LengthUnit::inch ? kCmPerInch : 1;
  if (dimension == kAngle) return radians(1);
  return dimension == kRatio ? 0.1 : 1;
}

void write_effects(Page& page, const Judged& judged) {
  if (!judged.effects || !judged.tell_effects) return;
  const LengthUnit unit = judged.job->unit;
  std::string lead = "Effects   ", still;
  for (const WishEffect& effect : *judged.effects) {
    const PosedRule& wish = judged.result.posed->rules[static_cast<size_t>(effect.rule)];
    const Dimension dimension = wish.expression.dimension();
    const double step = effect_step(dimension, unit);
    std::string text;
    size_t told = 0;
    for (const WishEffect::On& on : effect.on) {
      const std::string name = spoken(info(on.measure).id);
      if (told == kNamedEffects || name == wish.name) continue;
      const double change = on.per_unit * step;
      text += fmt::format("{}{} {}",
                          told++ > 0 ? ", " : "",
                          name,
                          write_change(change, info(on.measure).dimension, unit));
    }
    if (told == 0) {
      still += (still.empty() ? "" : ", ") + wish.name;
      continue;
    }
    page.paragraph(
        lead,
        fmt::format("{} +{}: {}", wish.name, write_quantity(step, dimension, {unit}), text),
        Tone::bold);
    lead = "          ";
  }
  // A wish that holds with room, or that has given way already, moves nothing.
  if (!still.empty())
    page.paragraph(lead, "a little more of these moves nothing: " + still, Tone::bold);
}

}  // namespace easewright
