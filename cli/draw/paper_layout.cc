#include "cli/draw/paper_layout.h"

#include "cli/draw/free_space.h"
#include "cli/draw/pdf.h"
#include "model/pattern/nest.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

namespace easewright::draw {
namespace {

/// Outlines lie this far apart, so that scissors come between them, cm.
constexpr double kGap = 0.5;
/// Outlines are laid out this much coarser than they are drawn, cm.
constexpr double kCoarse = 0.02;
/// More columns of sheets than this many cm lie on no table.
constexpr double kWidest = 130;
/// Layouts that are tried for each width: what is short is not always on the fewest sheets. (More
/// of them, and moving all by parts of a field, were tried and saved no sheet.)
constexpr long kTries[] = {1, 5, 30};

Lay upright(const Footprint& footprint) {
  const Box box = box_of(footprint.outline);
  const bool turned = footprint.strip && box.width() > box.height();
  return {1, turned ? std::numbers::pi / 2 : 0, {0, 0}};
}

Line laid(const Line& outline, const Lay& lay) {
  Line moved = outline;
  for (Point& p : moved) p = lay.of(p);
  return moved;
}

/// The layout's places and length on paper of this width, or nothing where a piece is wider.
std::optional<PaperLayout> nested(const std::vector<Footprint>& footprints,
                                  double width,
                                  long tries) {
  std::vector<NestShape> shapes;
  PaperLayout layout;
  for (const Footprint& f : footprints) {
    layout.places.push_back(upright(f));
    shapes.push_back({"", simplified(laid(f.outline, layout.places.back()), kCoarse)});
  }
  // Words stand upright: nothing is turned by half a turn, as if the paper had a nap.
  const NestCloth cloth{.width = width - kGap, .nap = true, .gap = kGap + 2 * kCoarse};
  NestOptions options;
  options.layouts = tries;
  options.threads = 1;
  const NestPlan plan = nest(shapes, cloth, options);
  if (!plan.error.empty()) return std::nullopt;
  for (const Placed& placed : plan.placed)
    layout.places[static_cast<size_t>(placed.shape)].at = placed.at + Point{0.5 * kGap, 0.5 * kGap};
  layout.width = width;
  layout.height = plan.length + kGap;
  return layout;
}

double widest_of(const std::vector<Footprint>& footprints) {
  double widest = 0;
  for (const Footprint& f : footprints)
    widest = std::max(widest, box_of(laid(f.outline, upright(f))).width() + kGap);
  return widest;
}

/// One above the other: for outlines that no search can lay, since they enclose nothing.
PaperLayout stacked(const std::vector<Footprint>& footprints, const SheetSize& sheet) {
  PaperLayout layout;
  layout.height = 0.5 * kGap;
  for (const Footprint& f : footprints) {
    Lay lay = upright(f);
    const Box box = box_of(laid(f.outline, lay));
    lay.at = Point{0.5 * kGap, layout.height} - box.least;
    layout.places.push_back(lay);
    layout.width = std::max(layout.width, box.width() + kGap);
    layout.height += box.height() + kGap;
  }
  if (sheet.width <= 0) return layout;
  layout.columns = static_cast<int>(std::ceil(layout.width / sheet.field_width()));
  layout.rows = static_cast<int>(std::ceil(layout.height / sheet.field_height()));
  layout.width = layout.columns * sheet.field_width();
  layout.height = layout.rows * sheet.field_height();
  return layout;
}

/// Sheets that a layout of these outlines needs; their rows and columns as far as some are used.
int count_sheets(const std::vector<Line>& outlines, const SheetSize& sheet, PaperLayout& layout) {
  const int rows = std::max(1, static_cast<int>(std::ceil(layout.height / sheet.field_height())));
  int count = 0, highest = rows, widest = 0;
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < layout.columns; ++column) {
      const Box box = field_of(sheet, rows, row, column);
      const bool used = std::any_of(outlines.begin(), outlines.end(), [&](const Line& outline) {
        return shows_in(outline, box);
      });
      if (!used) continue;
      ++count;
      highest = std::min(highest, row);
      widest = std::max(widest, column + 1);
    }
  }
  layout.rows = std::max(1, rows - highest);
  layout.columns = std::max(1, widest);
  layout.width = layout.columns * sheet.field_width();
  layout.height = layout.rows * sheet.field_height();
  return count;
}

PaperLayout on_sheets(const std::vector<Footprint>& footprints, const SheetSize& sheet) {
  const double widest = widest_of(footprints);
  const int least = std::max(1, static_cast<int>(std::ceil(widest / sheet.field_width())));
  const int most = std::max(least, static_cast<int>(kWidest / sheet.field_width()));
  PaperLayout best;
  int fewest = std::numeric_limits<int>::max();
  const auto longer_side = [](const PaperLayout& l) { return std::max(l.width, l.height); };
  for (int columns = least; columns <= most; ++columns) {
    for (const long tries : kTries) {
      auto layout = nested(footprints, columns * sheet.field_width(), tries);
      if (!layout) continue;
      layout->columns = columns;
      std::vector<Line> outlines;
      for (size_t i = 0; i < footprints.size(); ++i)
        outlines.push_back(laid(footprints[i].outline, layout->places[i]));
      const int count = count_sheets(outlines, sheet, *layout);
      // Of as many sheets the handier one.
      if (count > fewest || (count == fewest && longer_side(*layout) >= longer_side(best)))
        continue;
      fewest = count;
      best = std::move(*layout);
    }
  }
  return fewest < std::numeric_limits<int>::max() ? best : stacked(footprints, sheet);
}

/// Wider than a roll where it would be too long for a page else.
PaperLayout on_one(const std::vector<Footprint>& footprints) {
  double width = std::max(kRoll - 2 * kMargin, widest_of(footprints) + 1e-6);
  for (; width < kMostPage; width *= 1.5) {
    auto layout = nested(footprints, width, kTries[std::size(kTries) - 1]);
    if (!layout) break;
    if (layout->height <= kMostPage - 2 * kMargin) return std::move(*layout);
  }
  return stacked(footprints, {});
}

}  // namespace

PaperLayout lay_out(const std::vector<Footprint>& footprints, Paper paper) {
  return paper == Paper::whole ? on_one(footprints) : on_sheets(footprints, size_of(paper));
}

bool shows_in(const Line& outline, const Box& box) {
  return runs_into(outline, true, box) || is_inside(outline, 0.5 * (box.least + box.most));
}

}  // namespace easewright::draw
