#include "cli/draw/paper_layout.h"

#include "cli/draw/free_space.h"
#include "model/pattern/nest.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace easewright::draw {
namespace {

/// Outlines lie this far apart, so that scissors come between them, cm.
constexpr double kGap = 0.5;
/// More columns of sheets than this many cm lie on no table.
constexpr double kWidest = 130;
/// Layouts that are tried for each width: what is short is not always on the fewest sheets.
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
    shapes.push_back({"", laid(f.outline, layout.places.back())});
  }
  // Words stand upright: nothing is turned by half a turn, as if the paper had a nap.
  const NestCloth cloth{width - kGap, Layering::single, true, 0, kGap};
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

int count_sheets(const std::vector<Footprint>& footprints,
                 const PaperLayout& layout,
                 const SheetSize& sheet) {
  std::vector<Line> outlines;
  for (size_t i = 0; i < footprints.size(); ++i)
    outlines.push_back(laid(footprints[i].outline, layout.places[i]));
  int count = 0;
  for (int row = 0; row < layout.rows; ++row) {
    for (int column = 0; column < layout.columns; ++column) {
      const Box box = field_of(sheet, layout.rows, row, column);
      count += std::any_of(outlines.begin(), outlines.end(), [&](const Line& outline) {
        return shows_in(outline, box);
      });
    }
  }
  return count;
}

PaperLayout on_sheets(const std::vector<Footprint>& footprints, const SheetSize& sheet) {
  const double widest = widest_of(footprints);
  const int least = std::max(1, static_cast<int>(std::ceil(widest / sheet.field_width())));
  const int most = std::max(least, static_cast<int>(kWidest / sheet.field_width()));
  PaperLayout best;
  int fewest = std::numeric_limits<int>::max();
  for (int columns = least; columns <= most; ++columns) {
    for (const long tries : kTries) {
      auto layout = nested(footprints, columns * sheet.field_width(), tries);
      if (!layout) continue;
      layout->columns = columns;
      layout->rows =
          std::max(1, static_cast<int>(std::ceil(layout->height / sheet.field_height())));
      layout->height = layout->rows * sheet.field_height();
      const int count = count_sheets(footprints, *layout, sheet);
      if (count >= fewest) continue;
      fewest = count;
      best = std::move(*layout);
    }
  }
  return best;
}

PaperLayout on_one(const std::vector<Footprint>& footprints) {
  const double width = std::max(kRoll - 2 * kMargin, widest_of(footprints) + 1e-6);
  auto layout = nested(footprints, width, kTries[std::size(kTries) - 1]);
  if (!layout) throw std::runtime_error("a piece can't be laid on paper");
  return std::move(*layout);
}

}  // namespace

PaperLayout lay_out(const std::vector<Footprint>& footprints, Paper paper) {
  return paper == Paper::whole ? on_one(footprints) : on_sheets(footprints, size_of(paper));
}

bool shows_in(const Line& outline, const Box& box) {
  return runs_into(outline, true, box) || is_inside(outline, 0.5 * (box.least + box.most));
}

}  // namespace easewright::draw
