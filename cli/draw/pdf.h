#pragma once
// Pages as a PDF of vectors and text, at true scale.

#include "cli/draw/canvas.h"

#include <string>
#include <vector>

namespace easewright::draw {

/// The PDF's bytes: the same pages give the same bytes. Throws std::runtime_error where the library
/// can't make it. No page may be larger than kMostPage either way.
std::string pdf_of(const std::vector<Page>& pages, const About& about);

/// PDF's own limit, 14400 points, cm.
inline constexpr double kMostPage = 508;

}  // namespace easewright::draw
