#pragma once
// YAML with the traps taken out. The parser's events build a plain tree in which every key and
// value knows its place; what this program's files have no use for is refused with a complaint
// instead of being guessed at: several documents, anchors and aliases (and with them cycles), tags,
// keys that are not text, control characters, text that is not UTF-8, nesting beyond kMostDepth.

#include "cli/read/complaint.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

inline constexpr int kMostDepth = 16;

struct YamlNode {
  enum class Kind { null, text, list, map };
  enum class Style { plain, quoted };

  Kind kind = Kind::null;
  Style style = Style::plain;
  std::string text;
  Place place;
  std::string key;  ///< in a map: its key
  Place key_place;
  std::vector<YamlNode>
      children;  ///< items of a list, entries of a map in the file's order, repeated keys included

  /// The place of the text's byte `offset`: exact for text on one line.
  Place inside(size_t offset) const;
};

/// 'empty', 'text', 'a list', 'a map'.
std::string_view to_string(YamlNode::Kind kind);

/// The one document in `text`. Nothing after a complaint; a document that is empty is a null node.
std::optional<YamlNode> parse_yaml(std::string_view text, const Source& source);

}  // namespace easewright
