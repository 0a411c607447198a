#include "xml.h"

#include <cctype>

namespace easewright::tests {
namespace {

bool is_name(std::string_view name) {
  if (name.empty() || !(std::isalpha(static_cast<unsigned char>(name[0])) || name[0] == '_'))
    return false;
  for (const char c : name)
    if (!(std::isalnum(static_cast<unsigned char>(c)) || c == '-' || c == '_' || c == ':' ||
          c == '.'))
      return false;
  return true;
}

class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  Xml read() {
    if (!is_utf8()) return fail("no UTF-8, or a control character");
    if (text_.substr(0, 5) == "<?xml") at_ = text_.find("?>") + 2;
    blanks();
    if (text_.substr(at_, 9) == "<!DOCTYPE") at_ = text_.find('>', at_) + 1;
    while (xml_.wrong.empty() && at_ < text_.size()) {
      if (text_[at_] == '<') {
        text_.substr(at_, 2) == "</" ? closing() : opening();
      } else {
        words();
      }
    }
    if (!xml_.wrong.empty()) return std::move(xml_);
    if (!open_.empty()) return fail("not closed: " + here().name);
    if (xml_.elements.empty()) return fail("no root");
    return std::move(xml_);
  }

 private:
  XmlElement& here() { return xml_.elements[static_cast<size_t>(open_.back())]; }

  Xml fail(const std::string& what) {
    if (xml_.wrong.empty()) xml_.wrong = what + " at byte " + std::to_string(at_);
    return xml_;
  }

  void blanks() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_]))) ++at_;
  }

  /// Of printable characters: no control but tab, line feed and return (XML 1.0, 2.2).
  bool is_utf8() const {
    for (size_t i = 0; i < text_.size();) {
      const auto byte = static_cast<unsigned char>(text_[i]);
      if (byte < 0x20 && byte != '\n' && byte != '\t' && byte != '\r') return false;
      const size_t more = byte < 0x80 ? 0 : byte >= 0xF0 ? 3 : byte >= 0xE0 ? 2 : 1;
      if (byte >= 0x80 && (byte < 0xC2 || byte > 0xF4)) return false;
      for (size_t j = 1; j <= more; ++j)
        if (i + j >= text_.size() || (static_cast<unsigned char>(text_[i + j]) & 0xC0) != 0x80)
          return false;
      i += more + 1;
    }
    return true;
  }

  std::string resolved(std::string_view raw) {
    std::string out;
    for (size_t i = 0; i < raw.size(); ++i) {
      if (raw[i] == '<') fail("'<' in text");
      if (raw[i] != '&') {
        out += raw[i];
        continue;
      }
      const size_t end = raw.find(';', i);
      const std::string_view name =
          end == std::string_view::npos ? raw.substr(i) : raw.substr(i, end - i + 1);
      const std::pair<const char*, char> known[] = {{"&amp;", '&'},
                                                    {"&lt;", '<'},
                                                    {"&gt;", '>'},
                                                    {"&quot;", '"'},
                                                    {"&apos;", '\''},
                                                    {"&#39;", '\''}};
      bool found = false;
      for (const auto& [entity, c] : known)
        if (name == entity) out += c, found = true;
      if (!found) {
        fail("entity " + std::string(name.substr(0, 12)));
        return out;
      }
      i = end;
    }
    return out;
  }

  void words() {
    const size_t end = std::min(text_.find('<', at_), text_.size());
    const std::string text = resolved(text_.substr(at_, end - at_));
    if (open_.empty() && text.find_first_not_of(" \t\r\n") != std::string::npos)
      fail("text outside the root");
    for (const int i : open_) xml_.elements[static_cast<size_t>(i)].text += text;
    at_ = end;
  }

  void closing() {
    const size_t end = text_.find('>', at_);
    const std::string_view name = text_.substr(at_ + 2, end - at_ - 2);
    if (end == std::string_view::npos || open_.empty() || here().name != name) {
      fail("closing " + std::string(name.substr(0, 20)));
      return;
    }
    open_.pop_back();
    at_ = end + 1;
  }

  void opening() {
    ++at_;
    const size_t name_end = text_.find_first_of(" \n\t/>", at_);
    if (name_end == std::string_view::npos) return void(fail("an open tag at the end"));
    XmlElement element;
    element.name = text_.substr(at_, name_end - at_);
    element.parent = open_.empty() ? -1 : open_.back();
    if (!is_name(element.name)) fail("element '" + element.name.substr(0, 20) + "'");
    if (open_.empty() && !xml_.elements.empty()) fail("two roots");
    at_ = name_end;
    while (xml_.wrong.empty()) {
      const size_t before = at_;
      blanks();
      const bool parted = at_ > before;
      if (at_ >= text_.size()) return void(fail("an open tag at the end"));
      if (text_[at_] == '>' || text_.substr(at_, 2) == "/>") break;
      if (!parted) return void(fail("attributes not parted"));
      attribute(element);
    }
    if (!xml_.wrong.empty()) return;
    const bool empty = text_[at_] == '/';
    at_ += empty ? 2 : 1;
    xml_.elements.push_back(std::move(element));
    if (!empty) open_.push_back(static_cast<int>(xml_.elements.size()) - 1);
  }

  void attribute(XmlElement& element) {
    const size_t equals = text_.find('=', at_);
    if (equals == std::string_view::npos || equals + 1 >= text_.size())
      return void(fail("attribute without value"));
    const std::string name(text_.substr(at_, equals - at_));
    const char quote = text_[equals + 1];
    const size_t end = text_.find(quote, equals + 2);
    if (!is_name(name) || (quote != '"' && quote != '\'') || end == std::string_view::npos)
      return void(fail("attribute '" + name.substr(0, 20) + "'"));
    const auto [at, fresh] =
        element.attributes.emplace(name, resolved(text_.substr(equals + 2, end - equals - 2)));
    if (!fresh) fail("attribute twice: " + name);
    at_ = end + 1;
  }

  std::string_view text_;
  size_t at_ = 0;
  Xml xml_;
  std::vector<int> open_;
};

}  // namespace

std::vector<std::string> Xml::texts_of(const std::string& name) const {
  std::vector<std::string> texts;
  for (const XmlElement& e : elements)
    if (e.name == name) texts.push_back(e.text);
  return texts;
}

Xml read_xml(std::string_view text) { return Reader(text).read(); }

}  // namespace easewright::tests
