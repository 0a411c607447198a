#include "cli/read/yaml.h"

#include "cli/read/utf8.h"

#include <sstream>

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

namespace easewright {
namespace {

/// Ends the parse: the complaint has been made.
struct Refused {};

Place place_of(const YAML::Mark& mark) { return {mark.line + 1, mark.column + 1}; }

Place place_of_byte(std::string_view text, size_t at) {
  Place place{1, 1};
  for (size_t i = 0; i < at; ++i) {
    if (text[i] == '\n') {
      ++place.line;
      place.column = 1;
    } else {
      ++place.column;
    }
  }
  return place;
}

/// Where a text's lines begin, so that a mark finds its byte.
class Lines {
 public:
  explicit Lines(std::string_view text) : text_(text), starts_{0} {
    for (size_t at = 0; at < text.size(); ++at) {
      if (text[at] == '\n') starts_.push_back(at + 1);
    }
  }

  /// The line, from 1, on which the quote at this mark is closed: 0 when it never is, the mark's
  /// own when there is no quote.
  int closing_line(const YAML::Mark& mark) const {
    int line = mark.line + 1;
    const auto above = static_cast<size_t>(mark.line);
    size_t at =
        above < starts_.size() ? starts_[above] + static_cast<size_t>(mark.column) : text_.size();
    const char quote = at < text_.size() ? text_[at] : ' ';
    if (quote != '\'' && quote != '"') return line;
    for (++at; at < text_.size(); ++at) {
      if (text_[at] == '\n') ++line;
      if (quote == '"' && text_[at] == '\\') {
        ++at;
      } else if (text_[at] == quote) {
        // A single quote within single quotes is written twice.
        if (quote == '"' || at + 1 == text_.size() || text_[at + 1] != quote) return line;
        ++at;
      }
    }
    return 0;
  }

 private:
  std::string_view text_;
  std::vector<size_t> starts_;
};

class TreeBuilder final : public YAML::EventHandler {
 public:
  TreeBuilder(std::string_view text, const Source& source) : lines_(text), source_(source) {}

  YamlNode take() { return std::move(root_); }

  /// Of the first quoted text over several lines, which most often lacks its own end: '; the quote
  /// on line 2 is closed on line 4'.
  const std::string& long_quote() const { return long_quote_; }

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (++documents_ > 1) refuse(mark, "a second document begins here; a file holds one");
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    refuse_anchor(mark, anchor);
    add(YamlNode::Kind::null, mark);
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    refuse(mark, "an alias ('*name') stands here; write the value out");
  }
  void OnScalar(const YAML::Mark& mark,
                const std::string& tag,
                YAML::anchor_t anchor,
                const std::string& value) override {
    refuse_anchor(mark, anchor);
    if (tag != "?" && tag != "!" && !tag.empty()) refuse_tag(mark, tag);
    if (tag == "!") check_quote(mark);
    if (first_bad_byte(value) != std::string_view::npos)
      refuse(mark, "the text holds a control character");
    YamlNode& node = add(YamlNode::Kind::text, mark, value);
    if (node.kind != YamlNode::Kind::text) return;  // it was a key
    node.style = tag == "!" ? YamlNode::Style::quoted : YamlNode::Style::plain;
  }
  void OnSequenceStart(const YAML::Mark& mark,
                       const std::string& tag,
                       YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(YamlNode::Kind::list, mark, tag, anchor);
  }
  void OnSequenceEnd() override { open_.pop_back(); }
  void OnMapStart(const YAML::Mark& mark,
                  const std::string& tag,
                  YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(YamlNode::Kind::map, mark, tag, anchor);
  }
  void OnMapEnd() override { open_.pop_back(); }

 private:
  [[noreturn]] void refuse(const YAML::Mark& mark, std::string_view text) const {
    source_.complain(place_of(mark), "", text);
    throw Refused{};
  }
  void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) const {
    if (anchor != 0) refuse(mark, "an anchor ('&name') stands here; these files have none");
  }
  [[noreturn]] void refuse_tag(const YAML::Mark& mark, const std::string& tag) const {
    refuse(mark, fmt::format("a tag ('{}') stands here; these files have none", tag));
  }

  /// The parser takes the end of the file for the end of a quoted text.
  void check_quote(const YAML::Mark& mark) {
    const int last = lines_.closing_line(mark);
    if (last == 0) refuse(mark, "the quote that opens here is never closed");
    if (last > mark.line + 1 && long_quote_.empty())
      long_quote_ = fmt::format("; the quote on line {} is closed on line {}", mark.line + 1, last);
  }

  void open(YamlNode::Kind kind,
            const YAML::Mark& mark,
            const std::string& tag,
            YAML::anchor_t anchor) {
    refuse_anchor(mark, anchor);
    if (tag != "?" && tag != "!" && !tag.empty()) refuse_tag(mark, tag);
    if (open_.size() >= kMostDepth)
      refuse(mark, fmt::format("nested more than {} deep", kMostDepth));
    YamlNode* node = &add(kind, mark);
    open_.push_back({node, Waits::for_key});
  }

  /// Adds a value, or, where a map waits for one, a key: then returns the entry, whose kind is
  /// still null.
  YamlNode& add(YamlNode::Kind kind, const YAML::Mark& mark, const std::string& text = {}) {
    if (open_.empty()) return set(root_, kind, mark, text);
    auto& [parent, waits] = open_.back();
    if (parent->kind == YamlNode::Kind::list)
      return set(parent->children.emplace_back(), kind, mark, text);
    if (waits == Waits::for_value) {
      waits = Waits::for_key;
      return set(parent->children.back(), kind, mark, text);
    }
    if (kind != YamlNode::Kind::text) refuse(mark, "a key has to be text");
    waits = Waits::for_value;
    YamlNode& entry = parent->children.emplace_back();
    entry.key = text;
    entry.key_place = entry.place = place_of(mark);
    return entry;
  }

  static YamlNode& set(YamlNode& node,
                       YamlNode::Kind kind,
                       const YAML::Mark& mark,
                       const std::string& text) {
    node.kind = kind;
    node.text = text;
    // An absent value has no place of its own: its key's stays.
    if (kind != YamlNode::Kind::null || node.place.line == 0) node.place = place_of(mark);
    return node;
  }

  enum class Waits { for_key, for_value };
  /// A list or a map that is not closed yet. The pointer stays good: a parent gets no child while
  /// one of its is open.
  struct Open {
    YamlNode* node;
    Waits waits;
  };

  const Lines lines_;
  const Source& source_;
  std::string long_quote_;
  YamlNode root_;
  std::vector<Open> open_;
  int documents_ = 0;
};

}  // namespace

Place YamlNode::inside(size_t offset) const {
  const size_t quote = style == Style::quoted ? 1 : 0;
  return {place.line, place.column + static_cast<int>(offset + quote)};
}

std::string_view to_string(YamlNode::Kind kind) {
  switch (kind) {
    case YamlNode::Kind::null:
      return "empty";
    case YamlNode::Kind::text:
      return "text";
    case YamlNode::Kind::list:
      return "a list";
    case YamlNode::Kind::map:
      return "a map";
  }
  return "";
}

std::optional<YamlNode> parse_yaml(std::string_view text, const Source& source) {
  if (const size_t bad = first_bad_byte(text); bad != std::string_view::npos) {
    source.complain(
        place_of_byte(text, bad), "", "this byte is a control character or no UTF-8 text");
    return std::nullopt;
  }
  std::istringstream in{std::string(text)};
  TreeBuilder builder(text, source);
  try {
    YAML::Parser parser(in);
    while (parser.HandleNextDocument(builder)) continue;
  } catch (const Refused&) {
    return std::nullopt;
  } catch (const YAML::Exception& e) {
    source.complain(place_of(e.mark), "", "this is no valid YAML: " + e.msg + builder.long_quote());
    return std::nullopt;
  }
  return builder.take();
}

}  // namespace easewright
