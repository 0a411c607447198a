#pragma once
// Expressions in files, with their dimension checked against what they are for.

#include "cli/read/section.h"
#include "model/rules/expression.h"

#include <optional>
#include <string_view>

namespace easewright {

/// What an expression may name.
enum class Names {
  given,  ///< body and cloth alone
  any,    ///< draft values and measures as well
};

/// "a length", "an angle", "a ratio", "an age", or the dimension in symbols.
std::string dimension_word(Dimension dimension);

/// `text`, which begins at byte `offset` of the node, as an expression of this dimension. Nothing
/// after a complaint.
std::optional<Expression> expression_of(std::string_view text,
                                        Dimension dimension,
                                        Names names,
                                        const YamlNode& node,
                                        size_t offset,
                                        std::string_view path,
                                        const Source& source);

/// The whole node as an expression.
std::optional<Expression> expression_of(const YamlNode& node,
                                        Dimension dimension,
                                        Names names,
                                        std::string_view path,
                                        const Source& source);

}  // namespace easewright
