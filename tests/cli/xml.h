#pragma once
// A strict reader of the XML that we write: one root, tags that nest, quoted attributes each named
// once, no '<' and no bare '&' in text, entities of XML alone, UTF-8. After XML 1.0 (W3C, fifth
// edition), sections 2.2 to 3.1 and 4.6, without DTDs, comments and CDATA, none of which we write.

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace easewright::tests {

struct XmlElement {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;  ///< all within it, its elements' included, entities resolved
  int parent = -1;   ///< place of the element around it
};

struct Xml {
  std::vector<XmlElement> elements;  ///< in the order in which they open; the first is the root
  std::string wrong;                 ///< empty when it is well-formed

  /// Texts of all elements of that name.
  std::vector<std::string> texts_of(const std::string& name) const;
};

Xml read_xml(std::string_view text);

}  // namespace easewright::tests
