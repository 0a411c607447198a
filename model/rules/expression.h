#pragma once
// Expressions of measures: numbers with units, names, + - * /, min, max, abs, brackets. Checked for dimension when
// read. min, max and abs are smoothed to 0.01 mm so that their slope never jumps.
//
//   name     neckline.depth   armhole.girth   body.bust_girth   cloth.bias_growth
//   number   4   2.5 cm   1 3/4 in   15 deg   30 %   40 years
//
// A bare number is a ratio.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/units.h"

namespace easewright {

enum class NameKind { value, measure, body, cloth };

struct Name {
  NameKind kind = NameKind::value;
  int index = 0;  ///< ValueKey, MeasureKey, BodyKey or the cloth fact's place
  Dimension dimension;
};

/// 'neckline.depth' -> Name; spoken names are not accepted here. Nothing when unknown.
std::optional<Name> find_name(std::string_view id);

/// Every known id; for suggestions and listings.
const std::vector<std::string>& all_names();

/// Nearest known id by edit distance, or empty when none is near.
std::string nearest_name(std::string_view id);

/// Where an expression finds its numbers. Any pointer may be null when the expression has no such name.
template <typename T>
struct Facts {
  const T* values = nullptr;       ///< kValueKeys
  const T* measures = nullptr;     ///< kMeasureKeys
  const double* body = nullptr;    ///< kBodyKeys
  const double* cloth = nullptr;   ///< kClothFacts
};

/// What is wrong with an expression's text: where (0-based column), what, and what would be right.
struct ExpressionError {
  size_t column = 0;
  std::string message;
};

class Expression {
 public:
  struct Node;
  Expression() = default;
  /// A constant.
  Expression(double value, Dimension dimension);

  /// Parses one expression. On error returns nothing and fills error.
  static std::optional<Expression> parse(std::string_view text, ExpressionError* error);

  Dimension dimension() const { return dimension_; }
  const std::string& text() const { return text_; }
  bool empty() const { return code_.empty(); }
  /// True when no draft value and no measure occurs: body, cloth and numbers alone.
  bool is_given() const { return given_; }
  /// Names that occur, once each, in order.
  std::vector<Name> names() const;

  /// T is double or a ceres::Jet; defined in expression_evaluate.h.
  template <typename T>
  T evaluate(const Facts<T>& facts) const;

 private:
  friend class ExpressionParser;
  struct Instruction {
    enum class Op : unsigned char { number, value, measure, body, cloth, add, subtract, multiply, divide, negate, min, max, abs };
    Op op = Op::number;
    int index = 0;
    double number = 0;
  };
  std::vector<Instruction> code_;  // postfix
  std::string text_;
  Dimension dimension_;
  bool given_ = true;
};

}  // namespace easewright
