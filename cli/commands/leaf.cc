#include "cli/commands/leaf.h"

#include "cli/draw/piece_drawing.h"
#include "cli/draw/svg.h"
#include "cli/write/figure.h"
#include "model/pattern/cut_line.h"

#include <algorithm>
#include <string>
#include <variant>

#include <fmt/format.h>

namespace easewright {
namespace {

/// White round a piece, cm at its own scale.
constexpr double kMargin = 1;
/// At a tenth of its size a piece keeps its lines, so much heavier; its words would be specks.
constexpr double kHeavier = 5;
/// The number that stands for them, cm at the piece's scale.
constexpr double kNumber = 4;

/// The piece's lines, and its number in its middle.
draw::Canvas lines_of(const Piece& piece, const Cloth& cloth) {
  draw::PieceLook look;
  look.nap = cloth.nap;
  const draw::Canvas full = draw::draw_piece(piece, look);
  draw::Canvas lines;
  for (const draw::Mark& mark : full.marks()) {
    if (const auto* stroke = std::get_if<draw::Stroke>(&mark.what)) {
      draw::Pen pen = stroke->pen;
      pen.width *= kHeavier;
      for (double& length : pen.dash) length *= kHeavier;
      stroke->closed ? lines.outline(stroke->line, pen) : lines.line(stroke->line, pen);
    } else if (const auto* area = std::get_if<draw::Area>(&mark.what)) {
      lines.fill(area->outline, area->tint);
    }
  }
  const draw::Box box = draw::box_of(piece.cut);
  const double size = std::min(kNumber, 0.7 * box.height());
  lines.text({0.5 * (box.least.x + box.most.x), 0.5 * (box.least.y + box.most.y - 0.7 * size)},
             std::to_string(piece.number),
             {.size = size,
              .weight = draw::Weight::bold,
              .anchor = draw::Anchor::middle,
              .ground = draw::Ground::white});
  return lines;
}

Drawing drawing_of(const Piece& piece, const Cloth& cloth, const std::string& prefix) {
  const draw::Canvas canvas = lines_of(piece, cloth);
  const draw::Page page = draw::whole(canvas, kMargin);
  const std::string title = fmt::format("{} {}", piece.number, piece.name);
  // Allowances stand on the slip.
  std::string caption = title;
  for (const std::string& line : piece.label)
    if (line.starts_with("cut ")) caption += ": " + line;
  return {caption, draw::svg_element(page, {.title = title}, prefix), page.width};
}

}  // namespace

Leaf leaf_of(const Judged& judged, const Allowances& allowances, size_t place) {
  Leaf leaf;
  leaf.judged = &judged;
  if (!has_answer(judged.result)) return leaf;
  PieceLabels labels;
  labels.unit = judged.job->unit;
  const std::vector<Piece> pieces = pieces_of(judged.result, allowances, labels);
  leaf.slip = slip_of(judged.result, pieces, labels.unit);
  leaf.figure.push_back(
      {"", figure_element(figure_of(judged), fmt::format("job{}-figure-", place))});
  for (const Piece& piece : pieces) {
    for (const std::string& fault : faults_of(piece)) leaf.cautions.push_back(fault);
    // Elastic and tape are lengths: the slip tells them.
    if (piece.cut_of == CutOf::elastic || piece.cut_of == CutOf::tape) continue;
    leaf.pieces.push_back(
        drawing_of(piece, judged.job->cloth, fmt::format("job{}-piece{}-", place, piece.number)));
  }
  return leaf;
}

}  // namespace easewright
