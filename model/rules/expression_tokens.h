#pragma once
// The words of an expression: numbers with their unit, names, signs.

#include "model/rules/expression.h"

#include <optional>
#include <string_view>
#include <vector>

namespace easewright {

struct Token {
  enum class Kind {
    number,
    name,
    plus,
    minus,
    times,
    divide,
    open,
    close,
    comma,
    at_least,
    at_most,
    equals,
    plus_minus,
    in,
    to,
    end
  };
  Kind kind = Kind::end;
  size_t column = 0;      ///< of its first byte
  std::string_view text;  ///< as written
  double number = 0;      ///< inside units
  Dimension dimension;    ///< of a number
  bool bare = false;      ///< a number without a unit
};

/// The tokens of `text`, an end token last. On a byte or number that has no place in an expression
/// returns nothing and fills error.
std::optional<std::vector<Token>> split_expression(std::string_view text, ExpressionError& error);

}  // namespace easewright
