#include "model/rules/expression_parser.h"

#include "model/geometry/smooth.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

namespace easewright {
namespace {

using Kind = Token::Kind;

constexpr int kMostNesting = 100;
constexpr int kMostPower = 9;
constexpr const char* kTooDeep = "the brackets are nested too deeply to evaluate";
// A corner of an angle or a ratio is rounded over a tenth of what a length's is: 0.006 degrees,
// 0.01 %.
constexpr double kSmoothOther = 0.1 * geometry::kSmoothCm;

double corner_width(Dimension d) { return d == kLength ? geometry::kSmoothCm : kSmoothOther; }

Dimension plus(Dimension a, Dimension b, int sign) {
  return {a.length + sign * b.length, a.angle + sign * b.angle, a.time + sign * b.time};
}

bool too_high(Dimension d) {
  return std::max({std::abs(d.length), std::abs(d.angle), std::abs(d.time)}) > kMostPower;
}

}  // namespace

std::string with_article(Dimension dimension) {
  const std::string text = to_string(dimension);
  return (text.front() == 'a' ? "an " : "a ") + text;
}

std::string quote(std::string_view text) {
  constexpr size_t kMost = 48, kEnds = 20;
  if (text.size() <= kMost) return fmt::format("'{}'", text);
  const auto inside = [text](size_t at) {
    return (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
  };
  size_t head = kEnds, tail = text.size() - kEnds;
  while (inside(head)) --head;  // between characters
  while (inside(tail)) ++tail;
  return fmt::format("'{} ... {}'", text.substr(0, head), text.substr(tail));
}

std::nullopt_t ExpressionParser::fail(size_t column, std::string message) {
  error_ = {column, std::move(message)};
  return std::nullopt;
}

bool ExpressionParser::begin() {
  if (text_.size() > Expression::kMostText) {
    fail(Expression::kMostText,
         fmt::format("an expression has at most {} characters", Expression::kMostText));
    return false;
  }
  auto tokens = split_expression(text_, error_);
  if (!tokens) return false;
  tokens_ = std::move(*tokens);
  return true;
}

bool ExpressionParser::accept(Kind kind) {
  if (peek().kind != kind) return false;
  past_ = peek().column + peek().text.size();
  take();
  return true;
}

std::nullopt_t ExpressionParser::unexpected(std::string_view wanted) {
  const Token& token = peek();
  if (token.kind == Kind::end)
    return fail(token.column, fmt::format("the text ends where {} is missing", wanted));
  if (at_ > 0 && tokens_[at_ - 1].kind == Kind::number) {
    if (token.kind == Kind::name && !find_name(token.text)) {
      return fail(token.column,
                  fmt::format("'{}' is no unit: cm, mm, m, in, deg, % and years are", token.text));
    }
    if (token.kind == Kind::comma) {
      return fail(
          token.column,
          "a decimal is written with a point; commas stand between the arguments of min and max");
    }
  }
  return fail(token.column, fmt::format("{} where {} is missing", quote(token.text), wanted));
}

std::optional<Expression> ExpressionParser::next() {
  code_.clear();
  names_.clear();
  const auto part = sum();
  if (!part) return std::nullopt;
  Expression expression;
  expression.code_ = std::move(code_);
  expression.names_ = std::move(names_);
  expression.text_ = std::string(text_.substr(part->column, part->end - part->column));
  expression.dimension_ = part->dimension;
  expression.given_ =
      std::none_of(expression.names_.begin(), expression.names_.end(), [](const Name& n) {
        return n.kind == NameKind::value || n.kind == NameKind::measure;
      });
  expression.measure_depth();
  if (expression.depth_ > Expression::kMostDepth) {
    return fail(part->column, kTooDeep);
  }
  return expression;
}

std::optional<ExpressionParser::Part> ExpressionParser::sum() {
  auto left = product();
  while (left && (peek().kind == Kind::plus || peek().kind == Kind::minus)) {
    const Token sign = take();
    const auto right = product();
    if (!right) return std::nullopt;
    const bool add = sign.kind == Kind::plus;
    if (!agree(*left, *right, add ? "add" : "subtract", sign.column)) return std::nullopt;
    if (!combine(add ? Op::add : Op::subtract, *left, *right, sign.column)) return std::nullopt;
  }
  return left;
}

std::optional<ExpressionParser::Part> ExpressionParser::product() {
  auto left = factor();
  while (left && (peek().kind == Kind::times || peek().kind == Kind::divide)) {
    const Token sign = take();
    const auto right = factor();
    if (!right) return std::nullopt;
    const bool times = sign.kind == Kind::times;
    const Instruction& last = code_.back();
    if (!times && code_.size() == right->first + 1 && last.op == Op::number && last.number == 0) {
      return fail(sign.column, "this divides by zero");
    }
    const Dimension dimension = plus(left->dimension, right->dimension, times ? 1 : -1);
    if (too_high(dimension))
      return fail(sign.column, fmt::format("{} is no quantity of a garment", to_string(dimension)));
    if (!combine(times ? Op::multiply : Op::divide, *left, *right, sign.column))
      return std::nullopt;
    left->dimension = dimension;
  }
  return left;
}

std::optional<ExpressionParser::Part> ExpressionParser::factor() {
  if (nesting_ >= kMostNesting) return fail(peek().column, "the brackets are nested too deeply");
  const Token token = peek();
  switch (token.kind) {
    case Kind::number:
      return number(take());
    case Kind::name:
      take();
      return peek().kind == Kind::open ? call(token) : name(token);
    case Kind::open:
      take();
      return bracket(token);
    case Kind::plus:
    case Kind::minus:
      break;
    default:
      return unexpected("a number or a name");
  }
  take();
  ++nesting_;
  auto part = factor();
  --nesting_;
  if (!part) return std::nullopt;
  part->column = token.column;
  if (token.kind == Kind::minus) {
    code_.push_back({Op::negate, 0, 0});
    fold(part->first, token.column);  // the negative of a finite number is finite
  }
  return part;
}

std::optional<ExpressionParser::Part> ExpressionParser::bracket(const Token& open) {
  ++nesting_;
  auto part = sum();
  --nesting_;
  if (!part) return std::nullopt;
  if (!accept(Kind::close)) return unexpected("')'");
  part->column = open.column;
  part->end = past_;
  return part;
}

std::optional<ExpressionParser::Part> ExpressionParser::call(const Token& function) {
  const bool is_abs = function.text == "abs";
  if (!is_abs && function.text != "min" && function.text != "max") {
    return fail(function.column,
                fmt::format("{} is no function: min, max and abs are", quote(function.text)));
  }
  const Op op = is_abs ? Op::abs : function.text == "min" ? Op::min : Op::max;
  take();  // the bracket
  ++nesting_;
  auto first = sum();
  int arguments = 1;
  while (first && accept(Kind::comma)) {
    const size_t column = peek().column;
    const auto other = sum();
    if (!other) return std::nullopt;
    if (!agree(*first, *other, "compare", column)) return std::nullopt;
    if (!combine(op, *first, *other, column)) return std::nullopt;
    if (++arguments > 1 && is_abs) return fail(column, "abs takes one argument");
  }
  --nesting_;
  if (!first) return std::nullopt;
  if (!is_abs && arguments < 2 && peek().kind == Kind::close) {
    return fail(peek().column, fmt::format("{0} compares at least two: {0}(a, b)", function.text));
  }
  if (!accept(Kind::close)) return unexpected(is_abs ? "')'" : "',' or ')'");
  if (is_abs) {
    code_.push_back({op, 0, corner_width(first->dimension)});
    fold(first->first, function.column);
  }
  first->column = function.column;
  first->end = past_;
  first->bare = false;
  return first;
}

std::optional<ExpressionParser::Part> ExpressionParser::number(const Token& token) {
  code_.push_back({Op::number, 0, token.number});
  return Part{code_.size() - 1,
              token.dimension,
              token.column,
              token.column + token.text.size(),
              token.bare};
}

std::optional<ExpressionParser::Part> ExpressionParser::name(const Token& token) {
  const auto found = find_name(token.text);
  if (!found) return unknown(token);
  const Op op = found->kind == NameKind::value     ? Op::value
                : found->kind == NameKind::measure ? Op::measure
                : found->kind == NameKind::body    ? Op::body
                                                   : Op::cloth;
  code_.push_back({op, found->index, 0});
  const bool known = std::any_of(names_.begin(), names_.end(), [&](const Name& n) {
    return n.kind == found->kind && n.index == found->index;
  });
  if (!known) names_.push_back(*found);
  return Part{
      code_.size() - 1, found->dimension, token.column, token.column + token.text.size(), false};
}

std::nullopt_t ExpressionParser::unknown(const Token& token) {
  if (token.text == "min" || token.text == "max" || token.text == "abs") {
    return fail(token.column,
                fmt::format("{0} takes its arguments in brackets: {0}({1})",
                            token.text,
                            token.text == "abs" ? "a" : "a, b"));
  }
  // A spoken name is several words: 'armhole girth'.
  size_t last = at_;
  std::string words(token.text);
  while (tokens_[last].kind == Kind::name && last < at_ + 4)
    words += fmt::format(" {}", tokens_[last++].text);
  std::string near = last > at_ ? nearest_name(words) : std::string();
  if (near.empty()) words = std::string(token.text);
  if (near.empty()) near = nearest_name(token.text);
  const std::string what = fmt::format(
      "{} is no name of a draft value, measure, body measure or cloth fact", quote(words));
  return fail(token.column,
              near.empty() ? what : fmt::format("{}; did you mean '{}'?", what, near));
}

std::string ExpressionParser::quoted(const Part& part) const {
  return quote(text_.substr(part.column, part.end - part.column));
}

bool ExpressionParser::agree(const Part& a, const Part& b, std::string_view doing, size_t column) {
  if (a.dimension == b.dimension) return true;
  std::string message = fmt::format("can't {} {} and {}: {} is {}, {} is {}",
                                    doing,
                                    with_article(a.dimension),
                                    with_article(b.dimension),
                                    quoted(a),
                                    with_article(a.dimension),
                                    quoted(b),
                                    with_article(b.dimension));
  const Part& other = a.bare ? b : a;
  if ((a.bare || b.bare) &&
      (other.dimension == kLength || other.dimension == kAngle || other.dimension == kTime)) {
    const Part& bare = a.bare ? a : b;
    message += fmt::format(" (a bare number is a ratio: write '{} {}')",
                           text_.substr(bare.column, bare.end - bare.column),
                           other.dimension == kLength  ? "cm"
                           : other.dimension == kAngle ? "deg"
                                                       : "years");
  }
  fail(column, std::move(message));
  return false;
}

bool ExpressionParser::combine(Op op, Part& left, const Part& right, size_t column) {
  using Iterator = std::vector<Instruction>::difference_type;
  const auto is_scalar = [this](size_t first, size_t last) {
    return last == first + 1 && (code_[first].op == Op::number || code_[first].op == Op::body ||
                                 code_[first].op == Op::cloth);
  };
  // A number goes last where order is free: evaluation then applies it to the rest as a number.
  if ((op == Op::add || op == Op::multiply) && is_scalar(left.first, right.first) &&
      !is_scalar(right.first, code_.size())) {
    std::rotate(code_.begin() + static_cast<Iterator>(left.first),
                code_.begin() + static_cast<Iterator>(right.first),
                code_.end());
  }
  code_.push_back({op, 0, op == Op::min || op == Op::max ? corner_width(left.dimension) : 0});
  left.end = right.end;
  left.bare = false;
  return fold(left.first, column);
}

/// Works the last operation out when all its operands are numbers. False when the result is beyond
/// all numbers.
bool ExpressionParser::fold(size_t first, size_t column) {
  for (size_t i = first; i + 1 < code_.size(); ++i) {
    if (code_[i].op != Op::number) return true;
  }
  const Op op = code_.back().op;
  double& a = code_[first].number;
  const double b = code_.size() == first + 3 ? code_[first + 1].number : 0;
  switch (op) {
    case Op::add:
      a += b;
      break;
    case Op::subtract:
      a -= b;
      break;
    case Op::multiply:
      a *= b;
      break;
    case Op::divide:
      a /= b;
      break;
    case Op::negate:
      a = -a;
      break;
    case Op::abs:
      a = std::abs(a);
      break;
    case Op::min:
      a = std::min(a, b);
      break;
    case Op::max:
      a = std::max(a, b);
      break;
    default:
      return true;
  }
  code_.resize(first + 1);
  if (std::isfinite(a)) return true;
  fail(column, "the number grows beyond what can be computed");
  return false;
}

std::optional<Expression> ExpressionParser::joined(const Expression& a,
                                                   Kind sign,
                                                   const Expression& b,
                                                   size_t column) {
  Expression result = a;
  result.code_.insert(result.code_.end(), b.code_.begin(), b.code_.end());
  result.code_.push_back({sign == Kind::plus ? Op::add : Op::subtract, 0, 0});
  for (const Name& name : b.names_) {
    const bool known = std::any_of(a.names_.begin(), a.names_.end(), [&name](const Name& other) {
      return other.kind == name.kind && other.index == name.index;
    });
    if (!known) result.names_.push_back(name);
  }
  result.given_ = a.given_ && b.given_;
  result.text_ = fmt::format("({}) {} ({})", a.text_, sign == Kind::plus ? '+' : '-', b.text_);
  result.measure_depth();
  if (result.depth_ > Expression::kMostDepth) return fail(column, kTooDeep);
  return result;
}

}  // namespace easewright
