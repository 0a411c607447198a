#include "cli/read/expression.h"

#include "cli/read/quantity.h"

#include <fmt/format.h>

namespace easewright {

std::string dimension_word(Dimension dimension) {
  if (dimension == kLength) return "a length";
  if (dimension == kAngle) return "an angle";
  if (dimension == kTime) return "an age";
  if (dimension == kRatio) return "a ratio";
  return to_string(dimension);
}

std::optional<Expression> expression_of(std::string_view text,
                                        Dimension dimension,
                                        Names names,
                                        const YamlNode& node,
                                        size_t offset,
                                        std::string_view path,
                                        const Source& source) {
  const bool bare = dimension != kRatio && is_bare_number(text);
  std::string why;
  if (bare) {
    // The quantity reader has the better words for a number without its unit.
    parse_quantity(text, dimension, why);
    source.complain(node.inside(offset), path, why);
    return std::nullopt;
  }
  ExpressionError error;
  auto expression = Expression::parse(text, &error);
  if (!expression) {
    source.complain(node.inside(offset + error.column), path, error.message);
    return std::nullopt;
  }
  if (expression->dimension() != dimension) {
    source.complain(node.inside(offset),
                    path,
                    fmt::format("'{}' is {}; {} is wanted",
                                text,
                                dimension_word(expression->dimension()),
                                dimension_word(dimension)));
    return std::nullopt;
  }
  if (names == Names::given && !expression->is_given()) {
    source.complain(
        node.inside(offset),
        path,
        fmt::format("'{}' may name body and cloth alone, no draft value and no measure", text));
    return std::nullopt;
  }
  return expression;
}

std::optional<Expression> expression_of(const YamlNode& node,
                                        Dimension dimension,
                                        Names names,
                                        std::string_view path,
                                        const Source& source) {
  const auto text = text_of(node, path, source);
  if (!text) return std::nullopt;
  return expression_of(*text, dimension, names, node, 0, path, source);
}

}  // namespace easewright
