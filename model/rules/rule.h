#pragma once
// A rule: a range that an expression of measures has to lie in, with a tolerance, a strength, a
// reason and a source.

#include "model/rules/expression.h"
#include "model/style.h"
#include "solver/problem.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// lo <= expression <= hi. A side that is absent does not bind. Sides may hold measures too.
struct Range {
  Expression expression;
  std::optional<Expression> lo;
  std::optional<Expression> hi;
  std::string text;  ///< as the file wrote it
};

/// Reads 'a >= b', 'a <= b', 'a = b', 'b <= a <= c', 'a in b to c', 'a = b +- c'. All sides must
/// agree in dimension. The side that holds a draft value or measure is the expression, the left one
/// where both do; in a range of two limits it is the one between them. On error, or where no side
/// can vary, returns nothing and fills error (which may be null).
std::optional<Range> parse_range(std::string_view text, ExpressionError* error);

struct Rule {
  std::string name;   ///< a sentence: 'armhole clears the arm'
  std::string group;  ///< 'armhole'
  Range range;
  solver::Level strength = solver::Level::should;
  solver::Shape shape = solver::Shape::absolute;
  double tolerance = 0.3;  ///< in the dimension of the expression, inside units
  std::string because;
  std::string source;
  std::string
      caution;  ///< said when the rule is missed or tight and somebody could be hurt; often empty
  std::vector<Condition> when;
};

}  // namespace easewright
