#include "model/pattern/pieces.h"

#include "model/pattern/cut_line.h"
#include "model/pattern/drafting.h"
#include "model/pattern/reading.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace drafting {

double Draft::waist_allowance() const {
  return frame.elastic_waist ? v[ValueKey::casing_allowance] : allowances.waist;
}
double Draft::hem_allowance() const {
  const double turn = v[ValueKey::hem_turn];
  return turn + folded_in(turn);
}
double Draft::free_edge_allowance() const {
  return allowances.front_edge > 0 ? allowances.front_edge : hem_allowance();
}
EdgeWork Draft::waist_work() const {
  return frame.elastic_waist ? EdgeWork::casing : EdgeWork::seam;
}
std::string Draft::read(double cm) const { return length_as_read(cm, unit); }
bool Draft::is_felt(double cm) const { return cm > 0 && read(cm) != read(0); }

PieceEdge edge(
    std::string name, Polyline line, double allowance, EdgeWork work, std::string mate, int order) {
  PieceEdge e;
  e.name = std::move(name);
  e.line = std::move(line);
  e.allowance = allowance;
  e.work = work;
  e.mate = std::move(mate);
  e.order = order;
  return e;
}

void add_notch(
    Piece& piece, const std::string& edge, double along, NotchKind kind, const std::string& mate) {
  for (size_t i = 0; i < piece.edges.size(); ++i) {
    if (piece.edges[i].name != edge) continue;
    if (along < -1e-9 || along > piece.edges[i].length() + 1e-9) return;
    piece.notches.push_back({static_cast<int>(i), along, kind, mate});
  }
}

void mark_waist_fullness(const Draft& d, Piece& piece, double from, double to) {
  constexpr double kWorthAMark = 0.3, kRoom = 3;
  const double eased = piece.edge("waist")->eased;
  if (eased <= kWorthAMark || to - from < kRoom) return;
  mark_along(piece,
             "waist",
             from,
             to,
             PieceMark::Kind::gather,
             (d.frame.elastic_waist ? "ease " : "gather ") + d.read(eased));
}

void mark_along(Piece& piece,
                const std::string& edge,
                double from,
                double to,
                PieceMark::Kind kind,
                const std::string& label) {
  const PieceEdge& e = *piece.edge(edge);
  const double length = e.length();
  piece.marks.push_back(
      {kind, part_of(e.line, std::clamp(from, 0.0, length), std::clamp(to, 0.0, length)), label});
}

namespace {

std::string cut_line_of_label(const Piece& piece) {
  static constexpr const char* kMaterial[] = {"cloth", "lining", "elastic", "tape"};
  std::string text = fmt::format("cut {}", piece.count);
  if (piece.on_fold) text += " on the fold";
  if (piece.mirrored) text += ", left and right";
  return text + ", " + kMaterial[static_cast<int>(piece.cut_of)];
}

/// 'allowances: waist 2.9 cm; side seam 1.5 cm; ...', each width once with the edges that have it.
std::string allowances_of_label(const Draft& d, const Piece& piece) {
  std::vector<std::pair<std::string, std::string>> widths;  // as read, edges
  for (const PieceEdge& e : piece.edges) {
    if (e.work == EdgeWork::fold || e.name == "dart") continue;
    const std::string width = e.allowance > 0 ? d.read(e.allowance) : "none";
    const auto same =
        std::find_if(widths.begin(), widths.end(), [&](const auto& w) { return w.first == width; });
    if (same == widths.end()) {
      widths.emplace_back(width, e.seam());
    } else if (same->second.find(e.seam()) == std::string::npos) {
      same->second += ", " + e.seam();
    }
  }
  std::string text = "allowances:";
  for (const auto& [width, edges] : widths)
    text += fmt::format("{} {} {}", text.back() == ':' ? "" : ";", edges, width);
  return text;
}

void finish(const Draft& d, const PieceLabels& labels, Piece& piece, int number) {
  piece.number = number;
  piece.cut = cut_line_of(piece.edges);
  piece.label = {fmt::format("{} {}", number, piece.name)};
  if (!labels.body.empty()) piece.label.push_back("for " + labels.body);
  if (!labels.job.empty()) piece.label.push_back(labels.job);
  piece.label.push_back(cut_line_of_label(piece));
  piece.label.push_back(allowances_of_label(d, piece));
  if (!labels.date.empty()) piece.label.push_back(labels.date);
}

}  // namespace
}  // namespace drafting

double folded_in(double hem_turn) { return std::min(hem_turn * 2 / 3, 1.0); }

std::vector<Piece> pieces_of(const FitResult& result,
                             const Allowances& allowances,
                             const PieceLabels& labels) {
  using namespace drafting;
  const Frame& frame = result.posed->frame;
  const Draft d{result,
                frame,
                result.values,
                draft_bodice<double>(frame, BodiceValues<double>{result.values.at.data()}),
                allowances,
                labels.unit};
  std::vector<Piece> pieces{bodice_front(d), bodice_back(d)};
  if (frame.skirt) {
    pieces.push_back(skirt_back(d));
    pieces.push_back(skirt_front(d));
  }
  if (frame.belt && d[ValueKey::belt_length] > 0) pieces.push_back(belt(d));
  if (frame.lined) {
    pieces.push_back(lining_of(pieces[0], kLiningFront));
    pieces.push_back(lining_of(pieces[1], kLiningBack));
    // The cloth says by how much it is eased to its lining.
    for (size_t i = 0; i < 2; ++i) {
      for (PieceEdge& e : pieces[i].edges)
        if (e.work == EdgeWork::faced) e.eased = -pieces[pieces.size() - 2 + i].edge(e.name)->eased;
    }
  }
  if (frame.elastic_waist) pieces.push_back(elastic(d));
  if (frame.taped) pieces.push_back(stay_tape(d));
  for (size_t i = 0; i < pieces.size(); ++i) finish(d, labels, pieces[i], static_cast<int>(i) + 1);
  return pieces;
}

}  // namespace easewright
