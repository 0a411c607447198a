#include "model/rules/expression.h"

#include "model/body/measures.h"
#include "model/cloth.h"
#include "model/garment/measures.h"
#include "model/garment/values.h"
#include "model/rules/expression_parser.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include <fmt/format.h>

namespace easewright {
namespace {

struct Catalogue {
  std::vector<std::string> ids;
  std::unordered_map<std::string_view, Name> names;

  Catalogue() {
    std::vector<Name> found;
    const auto add = [&](std::string id, NameKind kind, int index, Dimension dimension) {
      ids.push_back(std::move(id));
      found.push_back({kind, index, dimension});
    };
    for (int i = 0; i < kValueKeys; ++i) {
      const ValueInfo& value = info(static_cast<ValueKey>(i));
      add(std::string(value.id), NameKind::value, i, value.dimension);
    }
    for (int i = 0; i < kMeasureKeys; ++i) {
      const MeasureInfo& measure = info(static_cast<MeasureKey>(i));
      add(std::string(measure.id), NameKind::measure, i, measure.dimension);
    }
    for (int i = 0; i < kBodyKeys; ++i) {
      const BodyMeasureInfo& body = info(static_cast<BodyKey>(i));
      add("body." + std::string(body.id), NameKind::body, i, body.dimension);
    }
    for (int i = 0; i < kClothFacts; ++i) {
      const ClothFactInfo& fact = cloth_fact(i);
      add("cloth." + std::string(fact.id), NameKind::cloth, i, fact.dimension);
    }
    for (size_t i = 0; i < ids.size(); ++i) names.emplace(ids[i], found[i]);
  }
};

const Catalogue& catalogue() {
  static const Catalogue all;
  return all;
}

/// Letters in lower case, everything between words one space.
std::string plain_words(std::string_view text) {
  std::string words;
  for (const char c : text) {
    if (c == '.' || c == '_' || c == '-' || c == ' ') {
      if (!words.empty() && words.back() != ' ') words += ' ';
    } else {
      words += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
  }
  return words;
}

/// Edit distance with swaps of neighbours (optimal string alignment).
size_t edits(std::string_view a, std::string_view b) {
  const size_t n = b.size();
  std::vector<size_t> before(n + 1), last(n + 1), row(n + 1);
  for (size_t j = 0; j <= n; ++j) last[j] = j;
  for (size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (size_t j = 1; j <= n; ++j) {
      row[j] =
          std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[n];
}

/// A number with its unit; where the dimension has none of its own, as a product of units.
std::string constant_text(double value, Dimension d) {
  if (d == kRatio) return fmt::format("{}", value);
  if (d == kLength) return fmt::format("{} cm", value);
  if (d == kAngle) return fmt::format("{} deg", degrees(value));
  if (d == kTime) return fmt::format("{} years", value);
  std::string text = fmt::format("{}", value);
  const auto append = [&text](int power, std::string_view unit) {
    for (int i = 0; i < std::abs(power); ++i)
      text += fmt::format(" {} 1 {}", power > 0 ? '*' : '/', unit);
  };
  append(d.length, "cm");
  append(d.angle, "rad");
  append(d.time, "years");
  return text;
}

}  // namespace

std::optional<Name> find_name(std::string_view id) {
  const auto found = catalogue().names.find(id);
  if (found == catalogue().names.end()) return std::nullopt;
  return found->second;
}

const std::vector<std::string>& all_names() { return catalogue().ids; }

std::string nearest_name(std::string_view id) {
  constexpr size_t kLongest = 60;
  if (id.empty() || id.size() > kLongest) return {};
  const std::string words = plain_words(id);
  std::string near;
  size_t best = std::max<size_t>(2, words.size() / 4) + 1;
  for (const std::string& known : catalogue().ids) {
    const std::string its = plain_words(known);
    if (its == words) return known;
    size_t distance = edits(words, its);
    // Left off too soon, at the end of a word: 'body.bust'.
    if (words.find(' ') != std::string::npos && its.compare(0, words.size() + 1, words + ' ') == 0)
      distance = 1;
    const size_t point = its.find(' ');
    if (its.compare(0, point, "body") == 0 || its.compare(0, point, "cloth") == 0) {
      distance = std::min(distance, edits(words, std::string_view(its).substr(point + 1)));
    }
    if (distance < best) {
      best = distance;
      near = known;
    }
  }
  return near;
}

Expression::Expression(double value, Dimension dimension)
    : code_{{Instruction::Op::number, 0, value}},
      text_(constant_text(value, dimension)),
      dimension_(dimension),
      depth_(1) {}

std::optional<Expression> Expression::parse(std::string_view text, ExpressionError* error) {
  ExpressionParser parser(text);
  std::optional<Expression> result;
  if (parser.begin()) {
    result = parser.next();
    if (result && parser.peek().kind != Token::Kind::end)
      result = parser.unexpected("an operator or the end");
  }
  if (!result && error != nullptr) *error = parser.error();
  return result;
}

std::vector<Name> Expression::names() const { return names_; }

void Expression::measure_depth() {
  int depth = 0;
  depth_ = 0;
  for (const Instruction& i : code_) {
    using Op = Instruction::Op;
    if (i.op <= Op::cloth) {
      ++depth;
    } else if (i.op != Op::negate && i.op != Op::abs) {
      --depth;
    }
    depth_ = std::max(depth_, depth);
  }
}

}  // namespace easewright
