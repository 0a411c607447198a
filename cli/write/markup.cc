#include "cli/write/markup.h"

#include "cli/draw/lettering.h"
#include "cli/draw/svg.h"

#include <cassert>

namespace easewright {

Markup& Markup::open(std::string_view tag) {
  text_ += '<';
  text_ += tag;
  text_ += '>';
  open_.emplace_back(tag.substr(0, tag.find(' ')));
  return *this;
}

Markup& Markup::close() {
  assert(!open_.empty() && "nothing is open");
  const std::string& name = open_.back();
  // A line break between words and what follows them would show as a blank.
  const bool within_words = name == "b" || name == "span" || name == "code";
  text_ += "</" + name + (within_words ? ">" : ">\n");
  open_.pop_back();
  return *this;
}

Markup& Markup::text(std::string_view words) {
  text_ += draw::escaped(draw::drawable(words));
  return *this;
}

Markup& Markup::raw(std::string_view markup) {
  text_ += markup;
  return *this;
}

Markup& Markup::element(std::string_view tag, std::string_view words) {
  return open(tag).text(words).close();
}

const std::string& Markup::all() const {
  assert(open_.empty() && "an element is open");
  return text_;
}

}  // namespace easewright
