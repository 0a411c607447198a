#include "cli/read/section.h"

#include "cli/read/nearest.h"
#include "cli/read/quantity.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Runs of blanks and line ends become one blank, none at the ends.
std::string on_one_line(std::string_view text) {
  std::string line;
  bool gap = false;
  for (const char c : text) {
    if (c == ' ' || c == '\n' || c == '\r' || c == '\t') {
      gap = !line.empty();
      continue;
    }
    if (gap) line += ' ';
    gap = false;
    line += c;
  }
  return line;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace

std::string join_path(std::string_view path, std::string_view key) {
  return path.empty() ? std::string(key) : fmt::format("{}.{}", path, key);
}

bool expect_kind(const YamlNode& node,
                 YamlNode::Kind kind,
                 std::string_view path,
                 const Source& source) {
  if (node.kind == kind) return true;
  source.complain(
      node.place, path, fmt::format("is {}; {} is wanted", to_string(node.kind), to_string(kind)));
  return false;
}

Section::Section(const YamlNode& map, std::string path, const Source& source)
    : map_(map), path_(std::move(path)), source_(source) {
  if (!expect_kind(map, YamlNode::Kind::map, path_, source_)) return;
  std::set<std::string_view> seen;
  for (const YamlNode& entry : map.children) {
    if (seen.insert(entry.key).second) {
      entries_.push_back(&entry);
    } else {
      source_.complain(entry.key_place, path_to(entry.key), "is given a second time");
    }
  }
}

const YamlNode* Section::find(std::string_view key) {
  if (std::find(known_.begin(), known_.end(), key) == known_.end()) known_.emplace_back(key);
  const auto found = std::find_if(
      entries_.begin(), entries_.end(), [key](const YamlNode* e) { return e->key == key; });
  return found == entries_.end() ? nullptr : *found;
}

const YamlNode* Section::find_filled(std::string_view key) {
  const YamlNode* node = find(key);
  return node != nullptr && node->kind != YamlNode::Kind::null ? node : nullptr;
}

const YamlNode* Section::need(std::string_view key) {
  const YamlNode* node = find(key);
  if (node != nullptr && node->kind != YamlNode::Kind::null) return node;
  if (node != nullptr) {
    source_.complain(node->place, path_to(key), "is empty");
  } else if (map_.kind == YamlNode::Kind::map) {
    source_.complain(map_.place, path_, fmt::format("the key '{}' is missing", key));
  }
  return nullptr;
}

std::optional<std::string> Section::find_text(std::string_view key) {
  const YamlNode* node = find(key);
  return node == nullptr ? std::nullopt : text_of(*node, path_to(key), source_);
}

std::optional<std::string> Section::need_text(std::string_view key) {
  const YamlNode* node = need(key);
  return node == nullptr ? std::nullopt : text_of(*node, path_to(key), source_);
}

std::optional<bool> Section::find_yes_or_no(std::string_view key) {
  const auto at = find_word(key, {"yes", "no", "true", "false"});
  if (!at) return std::nullopt;
  return *at % 2 == 0;
}

std::optional<size_t> Section::find_word(std::string_view key,
                                         const std::vector<std::string>& words) {
  const YamlNode* node = find(key);
  return node == nullptr ? std::nullopt : word_of(*node, path_to(key), source_, words);
}

std::vector<const YamlNode*> Section::entries() {
  for (const YamlNode* entry : entries_) known_.push_back(entry->key);
  return entries_;
}

void Section::finish() {
  for (const YamlNode* entry : entries_) {
    if (std::find(known_.begin(), known_.end(), entry->key) != known_.end()) continue;
    const std::string near = suggestion(entry->key, known_);
    source_.complain(entry->key_place,
                     path_to(entry->key),
                     "is no known key" + (near.empty() ? "; known are " + joined(known_) : near));
  }
}

std::optional<std::string> text_of(const YamlNode& node,
                                   std::string_view path,
                                   const Source& source) {
  if (node.kind == YamlNode::Kind::null) {
    source.complain(node.place, path, "is empty");
    return std::nullopt;
  }
  if (!expect_kind(node, YamlNode::Kind::text, path, source)) return std::nullopt;
  std::string line = on_one_line(node.text);
  if (!line.empty()) return line;
  source.complain(node.place, path, "is empty");
  return std::nullopt;
}

std::vector<const YamlNode*> texts_of(const YamlNode& node,
                                      std::string_view path,
                                      const Source& source) {
  if (node.kind == YamlNode::Kind::text) return {&node};
  std::vector<const YamlNode*> texts;
  if (!expect_kind(node, YamlNode::Kind::list, path, source)) return texts;
  for (const YamlNode& item : node.children) {
    if (expect_kind(item, YamlNode::Kind::text, path, source)) texts.push_back(&item);
  }
  if (node.children.empty()) source.complain(node.place, path, "is an empty list");
  return texts;
}

std::optional<size_t> word_of(const YamlNode& node,
                              std::string_view path,
                              const Source& source,
                              const std::vector<std::string>& words) {
  const auto text = text_of(node, path, source);
  if (!text) return std::nullopt;
  const auto found = std::find(words.begin(), words.end(), *text);
  if (found != words.end()) return static_cast<size_t>(found - words.begin());
  source.complain(node.place,
                  path,
                  fmt::format("'{}' is not {}{}", *text, joined(words), suggestion(*text, words)));
  return std::nullopt;
}

std::optional<double> quantity_of(const YamlNode& node,
                                  std::string_view path,
                                  const Source& source,
                                  Dimension dimension) {
  const auto text = text_of(node, path, source);
  if (!text) return std::nullopt;
  std::string why;
  const auto value = parse_quantity(*text, dimension, why);
  if (!value) source.complain(node.place, path, why);
  return value;
}

}  // namespace easewright
