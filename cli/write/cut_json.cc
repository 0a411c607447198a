#include "cli/write/cut_json.h"

#include "cli/write/cut_words.h"
#include "cli/write/json_parts.h"
#include "model/pattern/polyline.h"

#include <array>
#include <utility>

namespace easewright {
namespace {

std::string_view work_name(EdgeWork work) {
  static constexpr std::array<std::string_view, 5> kNames = {
      "seam", "faced", "hem", "casing", "fold"};
  return kNames[static_cast<size_t>(work)];
}

Json edge_of(const PieceEdge& edge) {
  return {{"name", edge.name},
          {"length", number(edge.length())},
          {"allowance", number(edge.allowance)},
          {"work", work_name(edge.work)},
          {"sewn to", edge.mate.empty() ? Json(nullptr) : Json(edge.mate)},
          {"eased", number(edge.eased)}};
}

/// Of a piece on the fold the half that is printed: what is cut is twice as wide.
Json piece_of(const Piece& piece) {
  Json edges = Json::array(), notches = Json::array();
  for (const PieceEdge& edge : piece.edges) edges.push_back(edge_of(edge));
  for (const Notch& notch : piece.notches) {
    notches.push_back({{"edge", piece.edges[static_cast<size_t>(notch.edge)].name},
                       {"along", number(notch.along)},
                       {"marks", notch.kind == NotchKind::pair ? 2 : 1},
                       {"for", notch.mate}});
  }
  double left = 0, right = 0, low = 0, high = 0;
  for (size_t i = 0; i < piece.cut.size(); ++i) {
    const auto& p = piece.cut[i];
    left = i == 0 ? p.x : std::min(left, p.x), right = i == 0 ? p.x : std::max(right, p.x);
    low = i == 0 ? p.y : std::min(low, p.y), high = i == 0 ? p.y : std::max(high, p.y);
  }
  return {{"number", piece.number},
          {"name", piece.name},
          {"of", material_words(piece.cut_of)},
          {"count", piece.count},
          {"on the fold", piece.on_fold},
          {"left and right", piece.mirrored},
          {"width", number(right - left)},
          {"height", number(high - low)},
          {"area", number(area_of(piece.cut))},
          {"edges", std::move(edges)},
          {"notches", std::move(notches)}};
}

Json seam_of(const SeamPair& pair) {
  return {{"first", pair.first},
          {"second", pair.second},
          {"first length", number(pair.first_length)},
          {"second length", number(pair.second_length)},
          {"eased", number(pair.eased)},
          {"off", number(pair.off)}};
}

Json files_of(const std::vector<CutFile>& files) {
  Json all = Json::array();
  for (const CutFile& file : files) all.push_back(file.path);
  return all;
}

Json garment_of(const CutGarment& garment) {
  Json pieces = Json::array(), seams = Json::array();
  for (const Piece& piece : garment.pieces) pieces.push_back(piece_of(piece));
  for (const SeamPair& pair : garment.pairs) seams.push_back(seam_of(pair));
  return {{"job", heading_of(garment.judged)},
          {"body", garment.judged.job->body.label},
          {"pieces", std::move(pieces)},
          {"seams", std::move(seams)},
          {"cautions", garment.cautions},
          {"paper", garment.paper},
          {"sheets", garment.sheets},
          {"files", files_of(garment.files)}};
}

Json placed_of(const CuttingPlan& plan, size_t i, const CutOut& cut) {
  const Placed& placed = plan.plan.placed[i];
  const CutSource& source = plan.sources[static_cast<size_t>(placed.shape)];
  double left = placed.outline.front().x, low = placed.outline.front().y;
  double right = left, high = low;
  for (const auto& p : placed.outline) {
    left = std::min(left, p.x), right = std::max(right, p.x);
    low = std::min(low, p.y), high = std::max(high, p.y);
  }
  // Garments without an answer are not laid: the source counts those that are.
  size_t garment = 0;
  for (size_t laid = 0; garment < cut.garments.size(); ++garment) {
    if (cut.garments[garment].pieces.empty()) continue;
    if (laid++ == source.garment) break;
  }
  return {{"name", plan.names[i]},
          {"garment", garment},
          {"piece", cut.garments[garment].pieces[source.piece].number},
          {"cuts", placed.copies},
          {"on the fold", placed.at_fold},
          {"turned", placed.turned},
          {"flipped", placed.mirrored},
          {"across", {number(left), number(right)}},
          {"along", {number(low), number(high)}}};
}

Json plan_of(const CuttingPlan& plan, const CutOut& cut) {
  Json entry = {{"of", material_words(plan.material)},
                {"bought width", number(plan.bought_width)},
                {"width", number(plan.cloth.width)},
                {"lay", plan.cloth.layering == Layering::folded ? "folded" : "single"},
                {"one way", plan.cloth.nap},
                {"repeat", number(plan.cloth.repeat)}};
  if (!plan.plan.error.empty()) {
    entry["error"] = plan.plan.error;
    return entry;
  }
  Json placed = Json::array();
  for (size_t i = 0; i < plan.plan.placed.size(); ++i) placed.push_back(placed_of(plan, i, cut));
  entry["error"] = nullptr;
  entry["length"] = number(plan.plan.length);
  entry["bound"] = number(plan.plan.bound);
  entry["filled"] = number(plan.plan.filled);
  entry["buy"] = {{"m", number(plan.to_buy.metres)}, {"yd", number(plan.to_buy.yards)}};
  entry["placed"] = std::move(placed);
  return entry;
}

}  // namespace

std::string write_cut_json(const CutOut& cut) {
  Json garments = Json::array(), plans = Json::array();
  for (const CutGarment& garment : cut.garments) garments.push_back(garment_of(garment));
  for (const CuttingPlan& plan : cut.plans) plans.push_back(plan_of(plan, cut));
  return document_of("cut",
                     {{"garments", std::move(garments)},
                      {"plans", std::move(plans)},
                      {"files", files_of(cut.files)}});
}

}  // namespace easewright
