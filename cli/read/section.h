#pragma once
// A checked view of one map: every key is known, given once, of the right type; what is not is
// complained of.

#include "cli/read/complaint.h"
#include "cli/read/yaml.h"
#include "model/units.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// 'measures' and 'waist girth' -> 'measures.waist girth'.
std::string join_path(std::string_view path, std::string_view key);

/// True for the kind; else complains: "is a list; a map is wanted".
bool expect_kind(const YamlNode& node,
                 YamlNode::Kind kind,
                 std::string_view path,
                 const Source& source);

class Section {
 public:
  /// A section of a node that is no map is empty and complains once. Repeated keys are complained
  /// of; the first counts. `map` must outlive the section.
  Section(const YamlNode& map, std::string path, const Source& source);

  const Source& source() const { return source_; }
  Place place() const { return map_.place; }
  std::string path_to(std::string_view key) const { return join_path(path_, key); }

  /// The key's node; null when absent. Asking makes the key a known one.
  const YamlNode* find(std::string_view key);
  /// The same, but null where nothing follows the key: a list of wishes may be empty.
  const YamlNode* find_filled(std::string_view key);
  /// The same; complains at the section's place when absent or empty.
  const YamlNode* need(std::string_view key);

  /// The key's text on one line, blanks at the ends taken off; nothing when absent or after a
  /// complaint.
  std::optional<std::string> find_text(std::string_view key);
  std::optional<std::string> need_text(std::string_view key);
  /// yes, no, true or false.
  std::optional<bool> find_yes_or_no(std::string_view key);
  /// The place in `words` of the key's text.
  std::optional<size_t> find_word(std::string_view key, const std::vector<std::string>& words);

  /// All entries, each key once, all of them known: for maps whose keys are the user's or a
  /// catalogue's.
  std::vector<const YamlNode*> entries();

  /// Complains of the keys that nobody asked for.
  void finish();

 private:
  const YamlNode& map_;
  std::string path_;
  Source source_;
  std::vector<const YamlNode*> entries_;
  std::vector<std::string> known_;
};

/// A node's text on one line; nothing after a complaint.
std::optional<std::string> text_of(const YamlNode& node,
                                   std::string_view path,
                                   const Source& source);

/// The node as a list of texts: a list, or one text standing for a list of one.
std::vector<const YamlNode*> texts_of(const YamlNode& node,
                                      std::string_view path,
                                      const Source& source);

/// The place in `words` of the node's text; nothing after a complaint that lists them.
std::optional<size_t> word_of(const YamlNode& node,
                              std::string_view path,
                              const Source& source,
                              const std::vector<std::string>& words);

/// A length, angle, ratio or time in inside units; nothing after a complaint.
std::optional<double> quantity_of(const YamlNode& node,
                                  std::string_view path,
                                  const Source& source,
                                  Dimension dimension);

}  // namespace easewright
