#include "model/rules/rule.h"

#include "model/rules/expression_evaluate.h"
#include "model/rules/expression_parser.h"

#include <fmt/format.h>

namespace easewright {
namespace {

using Kind = Token::Kind;

class RangeParser {
 public:
  explicit RangeParser(std::string_view text) : text_(text), parser_(text) {}

  std::optional<Range> run() {
    if (!parser_.begin()) return std::nullopt;
    auto first = side();
    if (!first) return std::nullopt;
    auto range = after(std::move(*first));
    if (!range) return std::nullopt;
    if (parser_.peek().kind != Kind::end) return parser_.unexpected("an operator or the end");
    if (range->expression.is_given()) {
      return parser_.fail(
          first_column_,
          "no draft value or measure occurs, so nothing in a draft could change this");
    }
    if (is_reversed(*range))
      return parser_.fail(first_column_,
                          "the least is above the most: nothing can lie between them");
    return range;
  }

  const ExpressionError& error() const { return parser_.error(); }

 private:
  struct Side {
    Expression expression;
    size_t column = 0;
  };

  /// Two limits that are plain numbers and leave nothing between them.
  static bool is_reversed(const Range& range) {
    if (!range.lo || !range.hi || !range.lo->names().empty() || !range.hi->names().empty())
      return false;
    const Facts<double> none;
    return range.lo->evaluate(none) > range.hi->evaluate(none);
  }

  std::optional<Side> side() {
    const size_t column = parser_.peek().column;
    auto expression = parser_.next();
    if (!expression) return std::nullopt;
    if (sides_++ == 0) first_column_ = column;
    return Side{std::move(*expression), column};
  }

  /// A side that has to agree with `other` in dimension.
  std::optional<Side> side_like(const Side& other) {
    auto found = side();
    if (!found) return std::nullopt;
    const Expression &a = other.expression, &b = found->expression;
    if (a.dimension() == b.dimension()) return found;
    std::string message = fmt::format("can't compare {} with {}: {} is {}, {} is {}",
                                      with_article(a.dimension()),
                                      with_article(b.dimension()),
                                      quote(a.text()),
                                      with_article(a.dimension()),
                                      quote(b.text()),
                                      with_article(b.dimension()));
    if (b.dimension() == kRatio && b.names().empty() &&
        (a.dimension() == kLength || a.dimension() == kAngle)) {
      message += fmt::format(" (a bare number is a ratio: write '{} {}')",
                             b.text(),
                             a.dimension() == kLength ? "cm" : "deg");
    }
    return parser_.fail(found->column, std::move(message));
  }

  std::optional<Range> after(Side first) {
    switch (parser_.peek().kind) {
      case Kind::at_least:
        return comparison(std::move(first), Kind::at_least);
      case Kind::at_most:
        return comparison(std::move(first), Kind::at_most);
      case Kind::equals:
        return equality(std::move(first));
      case Kind::in:
        return within(std::move(first));
      default:
        return parser_.unexpected("'>=', '<=', '=' or 'in'");
    }
  }

  std::optional<Range> comparison(Side first, Kind sign) {
    parser_.take();
    auto second = side_like(first);
    if (!second) return std::nullopt;
    const Kind next = parser_.peek().kind;
    if (next == sign) return chain(std::move(first), std::move(*second), sign);
    if (next == Kind::at_least || next == Kind::at_most) {
      return parser_.fail(parser_.peek().column,
                          "both signs of a range point the same way: 'least <= it <= most'");
    }
    // The side that varies is the expression; the left one where both do.
    const bool turned = first.expression.is_given() && !second->expression.is_given();
    Expression it = turned ? std::move(second->expression) : std::move(first.expression);
    Expression bound = turned ? std::move(first.expression) : std::move(second->expression);
    const bool is_least = (sign == Kind::at_least) != turned;
    Range range = ranged(std::move(it));
    (is_least ? range.lo : range.hi) = std::move(bound);
    return range;
  }

  std::optional<Range> chain(Side first, Side middle, Kind sign) {
    parser_.take();
    auto third = side_like(middle);
    if (!third) return std::nullopt;
    if (middle.expression.is_given()) {
      return parser_.fail(middle.column,
                          "the middle of 'least <= it <= most' holds no draft value or measure");
    }
    Range range = ranged(std::move(middle.expression));
    const bool rising = sign == Kind::at_most;
    range.lo = rising ? std::move(first.expression) : std::move(third->expression);
    range.hi = rising ? std::move(third->expression) : std::move(first.expression);
    return range;
  }

  std::optional<Range> equality(Side first) {
    parser_.take();
    auto second = side_like(first);
    if (!second) return std::nullopt;
    const bool turned = first.expression.is_given() && !second->expression.is_given();
    Expression it = turned ? std::move(second->expression) : std::move(first.expression);
    const Expression target = turned ? std::move(first.expression) : std::move(second->expression);
    Range range = ranged(std::move(it));
    if (!parser_.accept(Kind::plus_minus)) {
      range.lo = range.hi = target;
      return range;
    }
    const auto within = side_like({target, 0});
    if (!within) return std::nullopt;
    range.lo = parser_.joined(target, Kind::minus, within->expression, within->column);
    range.hi = parser_.joined(target, Kind::plus, within->expression, within->column);
    if (!range.lo || !range.hi) return std::nullopt;
    return range;
  }

  std::optional<Range> within(Side first) {
    parser_.take();
    auto least = side_like(first);
    if (!least) return std::nullopt;
    if (!parser_.accept(Kind::to)) return parser_.unexpected("'to'");
    auto most = side_like(first);
    if (!most) return std::nullopt;
    Range range = ranged(std::move(first.expression));
    range.lo = std::move(least->expression);
    range.hi = std::move(most->expression);
    return range;
  }

  Range ranged(Expression it) const {
    const size_t first = text_.find_first_not_of(" \t\r\n"),
                 last = text_.find_last_not_of(" \t\r\n");
    return {std::move(it),
            std::nullopt,
            std::nullopt,
            std::string(text_.substr(first, last + 1 - first))};
  }

  std::string_view text_;
  ExpressionParser parser_;
  int sides_ = 0;
  size_t first_column_ = 0;
};

}  // namespace

std::optional<Range> parse_range(std::string_view text, ExpressionError* error) {
  RangeParser parser(text);
  auto range = parser.run();
  if (!range && error != nullptr) *error = parser.error();
  return range;
}

}  // namespace easewright
