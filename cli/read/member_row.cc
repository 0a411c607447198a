#include "cli/read/member_row.h"

#include "cli/read/body_columns.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace easewright {
namespace {

using solver::Side;

constexpr size_t kFixed = 17;  // columns before the first draft value
constexpr float kAbsent = std::numeric_limits<float>::quiet_NaN();

double inner(double value, Dimension dimension) {
  return dimension == kAngle ? radians(value) : value;
}

std::optional<double> number_of(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

template <typename Whole>
std::optional<Whole> whole_of(std::string_view text) {
  Whole value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

/// Takes `word` from the front of `text`.
bool take(std::string_view& text, std::string_view word) {
  if (!text.starts_with(word)) return false;
  text.remove_prefix(word.size());
  return true;
}

/// Takes '9 cm' or '0.25' from the front.
std::optional<double> take_amount(std::string_view& text, Dimension dimension) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || !std::isfinite(value)) return std::nullopt;
  text.remove_prefix(static_cast<size_t>(end - text.data()));
  const std::string_view unit = dimension == kLength  ? " cm"
                                : dimension == kAngle ? " deg"
                                : dimension == kTime  ? " years"
                                                      : "";
  if (!take(text, unit)) return std::nullopt;
  return inner(value, dimension);
}

/// Takes a term's name and what follows it. Where one name begins another, the longer that fits.
template <typename Then>
bool take_term(std::string_view& text, const Terms& terms, const Then& then) {
  std::string_view best;
  bool found = false;
  size_t length = 0;
  for (size_t i = 0; i < terms.all.size(); ++i) {
    std::string_view rest = text;
    if (terms.all[i].name.size() < length || !take(rest, terms.all[i].name)) continue;
    if (!then(i, rest)) continue;
    best = rest;
    length = terms.all[i].name.size();
    found = true;
  }
  if (found) text = best;
  return found;
}

bool take_misses(std::string_view text, const Terms& terms, Member& member) {
  while (!text.empty()) {
    MemberMiss miss;
    const bool taken = take_term(text, terms, [&](size_t i, std::string_view& rest) {
      if (!take(rest, " ")) return false;
      const auto amount = take_amount(rest, terms.all[i].dimension);
      if (!amount || !(rest.empty() || rest.starts_with("; "))) return false;
      miss.term = static_cast<std::uint16_t>(i);
      miss.amount = static_cast<float>(*amount);
      return true;
    });
    if (!taken) return false;
    take(text, "; ");
    member.misses.push_back(miss);
  }
  member.misses.shrink_to_fit();
  return true;
}

bool at_end(std::string_view rest) {
  return rest.empty() || rest.starts_with(" and ") || rest.starts_with(" or ") ||
         rest.starts_with("; ");
}

/// 'at least 9 cm', 'at most 9 cm', '9 cm'.
bool take_limit(std::string_view& text, Dimension dimension, MemberStep& step, bool& sided) {
  sided = true;
  if (take(text, "at least ")) {
    step.side = Side::lower;
  } else if (take(text, "at most ")) {
    step.side = Side::upper;
  } else {
    step.side = Side::lower;
    sided = false;
  }
  const auto to = take_amount(text, dimension);
  if (to) step.to = static_cast<float>(*to);
  return to && at_end(text);
}

bool take_step(std::string_view& text, const Terms& terms, MemberStep& step) {
  step = {};
  bool sided = false;
  if (take(text, "wish ")) {
    step.kind = CureStep::Kind::wish;
    return take_term(text, terms, [&](size_t i, std::string_view& rest) {
      MemberStep own = step;
      if (terms.all[i].rule != nullptr || !take(rest, " ") ||
          !take_limit(rest, terms.all[i].dimension, own, sided))
        return false;
      own.which = static_cast<std::uint16_t>(i);
      own.between = sided && terms.all[i].exact;
      step = own;
      return true;
    });
  }
  if (take(text, "limit ")) {
    step.kind = CureStep::Kind::limit;
    for (int i = 0; i < kValueKeys; ++i) {
      const ValueInfo& value = info(static_cast<ValueKey>(i));
      std::string_view rest = text;
      if (!take(rest, spoken(value.id)) || !take(rest, " ") ||
          !take_limit(rest, value.dimension, step, sided) || !sided)
        continue;
      step.which = static_cast<std::uint16_t>(i);
      text = rest;
      return true;
    }
    return false;
  }
  if (!take(text, "switch ")) return false;
  step.kind = CureStep::Kind::option;
  for (int i = 0; i < kSwitches; ++i) {
    const SwitchInfo& which = info(static_cast<Switch>(i));
    for (size_t o = 0; o < which.options.size(); ++o) {
      std::string_view rest = text;
      if (!take(rest, spoken(which.id)) || !take(rest, " ") || !take(rest, which.options[o]) ||
          !at_end(rest))
        continue;
      step.which = static_cast<std::uint16_t>(i);
      step.option = static_cast<std::uint8_t>(o);
      text = rest;
      return true;
    }
  }
  return false;
}

bool take_cure(std::string_view& text, const Terms& terms, MemberCure& cure) {
  cure = {};
  do {
    if (cure.count == cure.steps.size() || !take_step(text, terms, cure.steps.at(cure.count)))
      return false;
    ++cure.count;
  } while (take(text, " and "));
  return true;
}

/// One entry a miss, in their order.
bool take_cures(std::string_view text, const Terms& terms, Member& member) {
  for (size_t i = 0; i < member.misses.size(); ++i) {
    MemberMiss& miss = member.misses[i];
    if (i > 0 && !take(text, "; ")) return false;
    if (!take(text, terms.all[miss.term].name) || !take(text, ": ")) return false;
    if (take(text, "none known")) continue;
    do {
      MemberCure cure;
      if (!take_cure(text, terms, cure)) return false;
      miss.cures.push_back(cure);
    } while (take(text, " or "));
    miss.cures.shrink_to_fit();
  }
  return text.empty();
}

bool read_sureness(const std::vector<CsvCell>& cells, const Terms& terms, Member& member) {
  if (cells[12].text.empty()) return true;
  MemberSureness sure;
  const auto missed = number_of(cells[12].text), least = number_of(cells[14].text);
  const auto toss_ups = whole_of<std::uint8_t>(cells[15].text),
             estimated = whole_of<std::uint8_t>(cells[16].text);
  if (!missed || !least || !toss_ups || !estimated) return false;
  sure.missed = static_cast<float>(*missed);
  sure.least = static_cast<float>(*least);
  sure.toss_ups = *toss_ups;
  sure.estimated = *estimated;
  if (!cells[13].text.empty()) {
    const auto term = std::find_if(terms.all.begin(), terms.all.end(), [&](const Term& t) {
      return t.name == cells[13].text;
    });
    if (term == terms.all.end()) return false;
    sure.least_term = static_cast<std::uint16_t>(term - terms.all.begin());
  }
  member.sureness = sure;
  return true;
}

bool read_float(std::string_view text, Dimension dimension, float& value) {
  value = kAbsent;
  if (text.empty()) return true;
  const auto number = number_of(text);
  if (number) value = static_cast<float>(inner(*number, dimension));
  return number.has_value();
}

bool read_columns(const std::vector<CsvCell>& cells, Member& member) {
  bool good = true;
  size_t at = kFixed;
  for (size_t i = 0; i < kValueKeys; ++i, ++at)
    good = good &&
           read_float(cells[at].text, info(static_cast<ValueKey>(i)).dimension, member.values[i]);
  for (size_t i = 0; i < kMeasureKeys; ++i, ++at)
    good =
        good &&
        read_float(cells[at].text, info(static_cast<MeasureKey>(i)).dimension, member.measures[i]);
  for (size_t i = 0; i < kBodyKeys; ++i, ++at)
    good =
        good && read_float(cells[at].text, info(static_cast<BodyKey>(i)).dimension, member.body[i]);
  return good;
}

bool read_words(const std::vector<CsvCell>& cells, const Terms& terms, Member& member) {
  const auto build = build_named(cells[2].text);
  const auto& ways = info(Switch::put_on).options;
  const auto way = std::find(ways.begin(), ways.end(), cells[5].text);
  const bool proved = cells[6].text == "yes";
  if (!build || way == ways.end() || !(proved || cells[6].text == "no")) return false;
  member.build = *build;
  member.put_on = static_cast<std::uint8_t>(way - ways.begin());
  member.proved = proved;
  if (!take_misses(cells[10].text, terms, member)) return false;
  member.explained = member.misses.empty() || !cells[11].text.empty();
  return cells[11].text.empty() || take_cures(cells[11].text, terms, member);
}

}  // namespace

std::optional<RowRead> read_member(const std::vector<CsvCell>& cells, const Terms& terms) {
  if (cells.size() != kFixed + kValueKeys + kMeasureKeys + kBodyKeys) return std::nullopt;
  const auto row = whole_of<std::uint32_t>(cells[0].text);
  if (!row) return std::nullopt;
  RowRead read;
  read.row = *row;
  if (cells[3].text == "refused") {
    read.label = std::string(cells[1].text);
    read.refused = std::string(cells[4].text);
    return read;
  }
  Member member;
  member.row = *row;
  member.label = std::string(cells[1].text);
  if (!read_words(cells, terms, member) || !read_sureness(cells, terms, member) ||
      !read_columns(cells, member))
    return std::nullopt;
  read.member = std::move(member);
  return read;
}

std::optional<RowRead> read_member(std::string_view line, const Terms& terms) {
  std::string text;
  std::vector<CsvCell> cells;
  if (line.ends_with('\n')) line.remove_suffix(1);
  if (split_record(line, ',', 1, text, cells).line > 0) return std::nullopt;
  return read_member(cells, terms);
}

std::optional<MemberCure> read_cure(std::string_view text, const Terms& terms) {
  MemberCure cure;
  if (!take_cure(text, terms, cure) || !text.empty()) return std::nullopt;
  return cure;
}

}  // namespace easewright
