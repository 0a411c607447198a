#pragma once
// The parser behind Expression::parse and parse_range: recursive descent to postfix code, numbers
// folded, dimensions checked on the way.

#include "model/rules/expression_tokens.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

class ExpressionParser {
 public:
  explicit ExpressionParser(std::string_view text) : text_(text) {}

  /// Splits the text; false with error() set when that can't be done.
  bool begin();
  /// The expression that begins at the next token, as far as it goes.
  std::optional<Expression> next();
  const Token& peek() const { return tokens_[at_]; }
  const Token& take() { return tokens_[at_ + 1 < tokens_.size() ? at_++ : at_]; }
  bool accept(Token::Kind kind);
  /// What follows has no place there; `wanted` says what has.
  std::nullopt_t unexpected(std::string_view wanted);
  std::nullopt_t fail(size_t column, std::string message);
  const ExpressionError& error() const { return error_; }

  /// a + b or a - b, already known to agree in dimension; `column` is b's.
  std::optional<Expression> joined(const Expression& a,
                                   Token::Kind sign,
                                   const Expression& b,
                                   size_t column);

 private:
  using Instruction = Expression::Instruction;
  using Op = Instruction::Op;
  /// Code that leaves one number: from code_[first] to the end of code_ when it has just been read.
  struct Part {
    size_t first = 0;
    Dimension dimension;
    size_t column = 0, end = 0;  ///< in the text
    bool bare = false;           ///< a number without a unit: a message can say how to give it one
  };

  std::optional<Part> sum();
  std::optional<Part> product();
  std::optional<Part> factor();
  std::optional<Part> bracket(const Token& open);
  std::optional<Part> call(const Token& function);
  std::optional<Part> name(const Token& token);
  std::optional<Part> number(const Token& token);
  std::nullopt_t unknown(const Token& token);

  bool agree(const Part& a, const Part& b, std::string_view doing, size_t column);
  bool combine(Op op, Part& left, const Part& right, size_t column);
  bool fold(size_t first, size_t column);
  std::string quoted(const Part& part) const;

  std::string_view text_;
  ExpressionError error_;
  std::vector<Token> tokens_;
  size_t at_ = 0;
  size_t past_ = 0;  // end of the last token taken into a part
  int nesting_ = 0;
  std::vector<Instruction> code_;
  std::vector<Name> names_;
};

/// 'a length', 'an angle', 'a ratio', 'a length^2'.
std::string with_article(Dimension dimension);
/// A text in quotes, shortened in the middle when it is long.
std::string quote(std::string_view text);

}  // namespace easewright
