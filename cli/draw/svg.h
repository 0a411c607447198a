#pragma once
// A page as SVG, at true scale: its unit is the millimetre.

#include "cli/draw/canvas.h"

#include <string>
#include <string_view>

namespace easewright::draw {

/// A file of its own. Groups become <g> with a title and an id.
std::string svg_of(const Page& page, const About& about);

/// The element alone, to stand in an HTML page; ids begin with `prefix`, so that several drawings
/// of one page keep theirs apart. As large as its place allows, in its own proportions.
std::string svg_element(const Page& page, const About& about, const std::string& prefix);

/// Text with what means something in XML written as entities.
std::string escaped(std::string_view text);

}  // namespace easewright::draw
