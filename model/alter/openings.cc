#include "model/alter/openings.h"

#include <algorithm>

namespace easewright {
namespace {

constexpr std::string_view kWords[] = {
#define EASEWRIGHT_X(name, words) words,
    EASEWRIGHT_OPENINGS(EASEWRIGHT_X)
#undef EASEWRIGHT_X
};

/// A seam that runs into an edge opens a hand's breadth of it, of a good half metre.
constexpr double kCrossed = 0.25;
/// A closure taken out of a side seam and set in again.
constexpr double kClosureMinutes = 30;

}  // namespace

std::string_view to_string(Opening opening) { return kWords[static_cast<size_t>(opening)]; }

std::vector<OpenedEdge> edges_opened(Change change) {
  using O = Opening;
  const OpenedEdge armhole{SeamKey::armhole, true, O::armholes};
  const OpenedEdge neck{SeamKey::neck, true, O::neck};
  const OpenedEdge hem{SeamKey::hem, true, O::hem};
  const OpenedEdge front_edge{SeamKey::front_edge, true, O::front_edges};
  const OpenedEdge bodice_side{SeamKey::side, true, O::bodice_sides};
  const OpenedEdge skirt_side{SeamKey::side, true, O::skirt_sides};
  const OpenedEdge underarm{SeamKey::armhole, false, O::bodice_sides};
  const OpenedEdge side_hem{SeamKey::hem, false, O::skirt_sides};
  const OpenedEdge strap_neck{SeamKey::neck, false, O::strap_seams};
  const OpenedEdge strap_arm{SeamKey::armhole, false, O::strap_seams};
  switch (change) {
    case Change::sides_in:
    case Change::sides_out:
      return {bodice_side, underarm, side_hem};
    case Change::sides_in_bodice:
    case Change::sides_out_bodice:
    case Change::gusset:
      return {bodice_side, underarm};
    case Change::sides_in_skirt:
    case Change::sides_out_skirt:
      return {skirt_side, side_hem};
    case Change::side_dart:
      return {bodice_side};
    case Change::straps_up:
    case Change::straps_up_front:
    case Change::straps_up_back:
    case Change::straps_up_neck_end:
    case Change::straps_up_arm_end:
    case Change::straps_down:
    case Change::straps_down_arm_end:
    case Change::strap_extended:
      return {strap_neck, strap_arm};
    case Change::strap_narrower_arm:
    case Change::strap_wider_arm:
    case Change::armhole_lower:
    case Change::armhole_scoop_front:
    case Change::armhole_scoop_back:
    case Change::armhole_dart:
    case Change::armhole_eased:
      return {armhole};
    case Change::strap_narrower_neck:
    case Change::neck_dart:
    case Change::neck_tape:
    case Change::neckline_deeper:
    case Change::back_neck_lower:
    case Change::back_neck_dart:
      return {neck};
    case Change::slit_insert:
    case Change::slit_edge_filled:
      return {front_edge, {SeamKey::hem, false, O::front_edges}};
    case Change::hem_up:
    case Change::hem_down:
    case Change::hem_front_up:
    case Change::hem_front_down:
    case Change::hem_back_up:
    case Change::hem_back_down:
    case Change::hem_sides_up:
    case Change::hem_sides_down:
    case Change::hem_band:
      return {hem};
    default:
      return {};
  }
}

OpeningMinutes minutes_of_edges(Change change, const Made& made) {
  const bool lined = made.switches.is(Switch::lining, "lined");
  OpeningMinutes minutes{};
  bool through_sides = false;
  for (const OpenedEdge& opened : edges_opened(change)) {
    through_sides = through_sides || opened.edge == SeamKey::side;
    const Finish finish = made.finish(opened.edge);
    // A lining is what faces a lined edge: a move's own labour through a lining has that in it.
    const bool bodice_edge = opened.edge == SeamKey::neck || opened.edge == SeamKey::armhole;
    if (lined && bodice_edge && finish == Finish::faced) continue;
    minutes[static_cast<size_t>(opened.with)] +=
        (opened.whole ? 1 : kCrossed) * minutes_to_open(finish);
  }
  if (through_sides && made.switches.is(Switch::put_on, "side opening"))
    minutes[static_cast<size_t>(Opening::side_closure)] = kClosureMinutes;
  return minutes;
}

OpeningMinutes shared_minutes(const std::vector<Possible>& moves) {
  OpeningMinutes shared{};
  for (size_t i = 0; i < shared.size(); ++i) {
    int sharing = 0;
    for (const Possible& p : moves) {
      const double minutes = p.limits.opens[i];
      if (!(minutes > 0)) continue;
      shared[i] = sharing == 0 ? minutes : std::min(shared[i], minutes);
      ++sharing;
    }
    if (sharing < 2) shared[i] = 0;
  }
  return shared;
}

bool opens(const Possible& possible, Opening opening) {
  return possible.limits.opens[static_cast<size_t>(opening)] > 0;
}

}  // namespace easewright
