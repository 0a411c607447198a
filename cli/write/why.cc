#include "cli/write/why.h"

#include "cli/write/quantity.h"
#include "cli/write/words.h"
#include "model/rules/expression_evaluate.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

namespace easewright {
namespace {

using solver::kInfinity;
using solver::Side;

/// More members than these are counted, not named.
constexpr size_t kNamedMembers = 6;

std::string wanted(Side side, double at, Dimension dimension, const Notation& notation) {
  return side == Side::lower ? write_wanted(at, kInfinity, dimension, notation)
                             : write_wanted(-kInfinity, at, dimension, notation);
}

bool is_equality(const PosedRule& rule) {
  return rule.lo && rule.hi && rule.lo->text() == rule.hi->text();
}

const PosedRule* wish_named(const FitResult& result, const std::string& id) {
  for (const PosedRule& rule : result.posed->rules) {
    if (rule.wish_id == id) return &rule;
  }
  return nullptr;
}

std::string write_option(const CureStep& step, LengthUnit unit) {
  const bool told = step.added != ValueKey::count;
  const std::string amount =
      told ? write_quantity(step.added_amount, info(step.added).dimension, {unit}) : "";
  switch (step.which) {
    case Switch::side_dart:
      return told ? "a side dart of " + amount : "a side dart";
    case Switch::stay:
      return told ? fmt::format("stay the edge, tape {} short on each side", amount)
                  : "stay the edge with tape";
    case Switch::put_on:
      return step.option == "side opening" ? "a side opening" : "put it on " + step.option;
    case Switch::waist_edge:
      return "the casing's edge " + step.option;
    default:
      return spoken(info(step.which).id) + ": " + step.option;
  }
}

std::string write_step(const CureStep& step, const FitResult& result, LengthUnit unit) {
  if (step.kind == CureStep::Kind::option) return write_option(step, unit);
  const Notation notation{unit};
  const std::string to = write_quantity(step.to, step.dimension, notation);
  const std::string from = write_number(step.from, step.dimension, notation);
  if (step.kind == CureStep::Kind::limit) {
    return fmt::format("let {} go {} to {} (its limit is {})",
                       spoken(step.id),
                       step.side == Side::lower ? "down" : "up",
                       to,
                       from);
  }
  if (step.between) {
    const bool lower = step.side == Side::lower;
    const std::string least = write_number(lower ? step.to : step.from, step.dimension, notation);
    const std::string most = write_quantity(lower ? step.from : step.to, step.dimension, notation);
    return fmt::format("{} {} -> {} to {}", spoken(step.id), from, least, most);
  }
  const PosedRule* wish = wish_named(result, step.id);
  const char* side = wish != nullptr && is_equality(*wish) ? ""
                     : step.side == Side::lower            ? "at least "
                                                           : "at most ";
  return fmt::format("{} {}{} -> {}", spoken(step.id), side, from, to);
}

/// A quantity as a reader of the command line takes it, to a millionth.
std::string typed(double value, Dimension dimension) {
  std::string text = fmt::format("{:.6f}", dimension == kAngle ? degrees(value) : value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  const std::string unit = unit_word(dimension, {});
  return (text == "-0" ? "0" : text) + (unit.empty() ? "" : " " + unit);
}

/// A wish of a cure has plain numbers.
std::string typed(const Expression& e) { return typed(e.evaluate(Facts<double>{}), e.dimension()); }

std::string typed_wish(const Wish& wish) {
  const std::string name = spoken(wish.id) + " ";
  if (!wish.hi) return name + "at least " + typed(*wish.lo);
  if (!wish.lo) return name + "at most " + typed(*wish.hi);
  const std::string lo = typed(*wish.lo), hi = typed(*wish.hi);
  return name + (lo == hi ? lo : lo + " to " + hi);
}

}  // namespace

std::string write_participant(const Participant& participant,
                              const FitResult& result,
                              LengthUnit unit) {
  if (participant.kind == Participant::Kind::limit) {
    const ValueInfo& value = info(participant.value);
    return fmt::format("{} {} (its limit)",
                       spoken(value.id),
                       wanted(participant.side, participant.at, value.dimension, {unit}));
  }
  if (participant.rule < 0) return "what is usual";
  const PosedRule& rule = result.posed->rules[static_cast<size_t>(participant.rule)];
  const Dimension dimension = rule.expression.dimension();
  const Notation notation = notation_of(rule.rule, dimension, unit);
  const bool exact = participant.as_got || is_equality(rule);
  const std::string at = exact ? write_quantity(participant.at, dimension, notation)
                               : wanted(participant.side, participant.at, dimension, notation);
  if (participant.as_got) return fmt::format("{} (as it is: {})", rule.name, at);
  if (participant.kind == Participant::Kind::wish) return rule.name + " " + at;
  return fmt::format("{} ({})", rule.name, at);
}

std::vector<Participant> told_order(const Explanation& explanation) {
  std::vector<Participant> members = explanation.members;
  const auto rank = [](const Participant& p) {
    if (p.kind == Participant::Kind::rule) return 1;
    // Nothing is less than nothing: a limit of 0 is nobody's to change.
    return p.kind == Participant::Kind::limit && p.at == 0 ? 2 : 0;
  };
  std::stable_sort(
      members.begin(), members.end(), [&rank](const Participant& a, const Participant& b) {
        return rank(a) < rank(b);
      });
  return members;
}

std::string write_cure(const Cure& cure, const FitResult& result, LengthUnit unit) {
  std::string text;
  for (const CureStep& step : cure.steps)
    text += (text.empty() ? "" : " and ") + write_step(step, result, unit);
  return text;
}

std::vector<std::string> cure_options(const Cure& cure, const Job& job, const FitResult& result) {
  const Job changed = with_cure(job, result, cure.steps);
  std::vector<std::string> options;
  std::set<std::string> told;  // both sides of one wish are two steps and one option
  for (const CureStep& step : cure.steps) {
    switch (step.kind) {
      case CureStep::Kind::option:
        options.insert(options.end(),
                       {"--switch", spoken(info(step.which).id) + " " + step.option});
        break;
      case CureStep::Kind::wish: {
        if (!told.insert(step.id).second) break;
        const auto& wishes = changed.wishes;
        const auto last = std::find_if(
            wishes.rbegin(), wishes.rend(), [&step](const Wish& w) { return w.id == step.id; });
        options.insert(options.end(), {"--wish", typed_wish(*last)});
        break;
      }
      case CureStep::Kind::limit: {
        const char* side = step.side == Side::lower ? " at least " : " at most ";
        options.insert(options.end(),
                       {"--limit", spoken(step.id) + side + typed(step.to, step.dimension)});
        break;
      }
    }
  }
  return options;
}

void write_why(Page& page, const Explanation& explanation, const Judged& judged) {
  const FitResult& result = judged.result;
  const LengthUnit unit = judged.job->unit;
  const std::vector<Participant> members = told_order(explanation);
  if (!members.empty()) {
    std::string text = "can't all hold: ";
    for (size_t i = 0; i < std::min(members.size(), kNamedMembers); ++i) {
      text += (i > 0 ? "; " : "") + write_participant(members[i], result, unit);
    }
    if (members.size() > kNamedMembers)
      text += fmt::format("; ... and {} more", members.size() - kNamedMembers);
    page.paragraph("    why   ", text);
  } else if (judged.sure) {
    page.paragraph(
        "    why   ",
        fmt::format("gives way so that musts and shoulds hold at {:.4g} %", 100 * *judged.sure));
    return;
  }
  std::string cures;
  for (const Cure& cure : explanation.cures)
    cures += (cures.empty() ? "" : "; or ") + write_cure(cure, result, unit);
  if (cures.empty())
    cures = "no change of a wish, a limit or a switch settles it without a worse miss elsewhere";
  page.paragraph("    cure  ", cures);
}

}  // namespace easewright
