#pragma once
// Expressions of measures: numbers with units, names, + - * / (also typed as × ÷ −), min, max, abs,
// brackets. Checked for dimension when read. min, max and abs are smoothed to 0.01 mm so that their
// slope never jumps.
//
//   name     neckline.depth   armhole.girth   body.bust_girth   cloth.bias_growth
//   number   4   2.5 cm   1 3/4 in   1½ in   15 deg   30 %   40 years
//
// Units: cm mm m in deg % years. A bare number is a ratio. A fraction written without spaces is one
// number with the unit that follows it: 3/4 in. * and / bind tighter than + and -, equal ones from
// left to right; a sign binds tightest.

#include "model/units.h"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

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

/// The known id that a mistyped or spoken one means: the same words joined otherwise, without
/// 'body.' or 'cloth.', or left off too soon; else the nearest by edit distance. Empty when none is
/// near.
std::string nearest_name(std::string_view id);

/// Where an expression finds its numbers. Any pointer may be null when the expression has no such
/// name.
template <typename T>
struct Facts {
  const T* values = nullptr;      ///< kValueKeys
  const T* measures = nullptr;    ///< kMeasureKeys
  const double* body = nullptr;   ///< kBodyKeys
  const double* cloth = nullptr;  ///< kClothFacts
};

/// What is wrong with an expression's text: where (0-based column, counted in bytes), what, and
/// what would be right.
struct ExpressionError {
  size_t column = 0;
  std::string message;
};

class Expression {
 public:
  Expression() = default;
  /// A constant. Its text reads back to the same value.
  Expression(double value, Dimension dimension);

  /// Parses one expression. On error returns nothing and fills error (which may be null). Any text
  /// at all is answered, in time that grows with its length; one of more than kMostText bytes is
  /// refused.
  static std::optional<Expression> parse(std::string_view text, ExpressionError* error);

  Dimension dimension() const { return dimension_; }
  /// As it was written, without the space around it.
  const std::string& text() const { return text_; }
  bool empty() const { return code_.empty(); }
  /// True when no draft value and no measure occurs: body, cloth and numbers alone.
  bool is_given() const { return given_; }
  /// Names that occur, once each, in order of first occurrence.
  std::vector<Name> names() const;

  /// T is double or a ceres::Jet; defined in expression_evaluate.h. Not for an empty expression. A
  /// division by what turns out to be zero gives an infinite or undefined number, and the solver
  /// reports it.
  template <typename T>
  T evaluate(const Facts<T>& facts) const;

  static constexpr size_t kMostText = 2000;
  static constexpr int kMostDepth = 16;  ///< of the evaluation stack

 private:
  friend class ExpressionParser;
  struct Instruction {
    enum class Op : unsigned char {
      number,
      value,
      measure,
      body,
      cloth,
      add,
      subtract,
      multiply,
      divide,
      negate,
      min,
      max,
      abs
    };
    Op op = Op::number;
    int index = 0;  ///< of a name
    double number =
        0;  ///< of a number; of min, max and abs the width over which the corner is rounded
  };
  template <int kDepth, typename T>
  T run(const Facts<T>& facts) const;
  void measure_depth();  // from code_

  std::vector<Instruction> code_;  // postfix, numbers folded
  std::vector<Name> names_;
  std::string text_;
  Dimension dimension_;
  bool given_ = true;
  int depth_ = 0;  // of the stack that the code needs
};

}  // namespace easewright
