#include "model/alter/moves.h"
#include "model/alter/outline.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

using K = ValueKey;
using geometry::arc_length;
using geometry::distance;
using outline::has_dart;
using outline::neck_reach;

bool of_bodice(Change c) {
  return c <= Change::waist_front_down && c != Change::sides_in_skirt &&
         c != Change::sides_out_skirt;
}
bool of_skirt(Change c) {
  return (c >= Change::overlap_wider && c <= Change::hem_band) || c == Change::sides_in_skirt ||
         c == Change::sides_out_skirt ||
         (c >= Change::waist_back_up && c <= Change::skirt_back_out);
}

bool is_tapered(Change c) {
  return c == Change::straps_up_neck_end || c == Change::straps_up_arm_end ||
         c == Change::straps_down_arm_end;
}

/// The reason why a garment has no place for the change; empty where it has.
std::string no_such_part(Change c, const Made& made) {
  const bool skirt = !made.switches.is(Switch::skirt, "none") && made.kind != MadeKind::top;
  if (made.kind == MadeKind::skirt && of_bodice(c)) return "it has no bodice";
  if (!skirt && of_skirt(c)) return "it has no skirt";
  const bool wrapped = made.switches.is(Switch::skirt, "wrapped");
  if (!wrapped && c >= Change::overlap_wider && c <= Change::slit_edge_filled)
    return "its skirt is not wrapped";
  if ((c == Change::elastic_shorter || c == Change::elastic_longer) &&
      !made.switches.is(Switch::waist, "elastic"))
    return "it has no elastic";
  if (c == Change::belt_shorter && !made.switches.is(Switch::belt, "tied")) return "it has no belt";
  if (is_tapered(c)) {
    if (made.values[K::strap_width] < 2) return "the strap is too narrow to turn";
  }
  return {};
}

/// Tapering turns the strap, which then stands on its outer edge: 5 degrees of its width at most
/// (cutter's notes, point 6).
double most_by_sense(Change c, const Made& made) {
  constexpr double kTurn = 0.087;
  if (is_tapered(c)) return kTurn * made.values[K::strap_width];
  // A lined edge takes 2 % eased in without puckers, an unlined one 3 % (cutter's notes, table E);
  // the edge of a knit is drawn in by 5 to 12 % (point 28), of which 8 are counted on.
  const double knit = 0.2 * std::min(made.cloth.stretch, 0.25);
  const double eases = made.switches.is(Switch::lining, "lined") ? 0.02 : 0.03 + knit;
  const outline::Half& front = made.bodice.front;
  if (c == Change::armhole_eased) {
    const double edge = arc_length(front.armhole_upper) + arc_length(front.armhole_lower);
    return std::max(0.0, eases * edge - made.values[K::armhole_taken]);
  }
  if (c == Change::neck_tape) {
    double neck_edge = 0;
    for (int i = 0; i < front.neck_curves; ++i)
      neck_edge += arc_length(front.neck[static_cast<size_t>(i)]);
    return std::max(0.0, eases * neck_edge - made.values[K::neckline_taken]);
  }
  return 1e6;
}

std::optional<MoveLimits> find_limits(const Move& move, const Made& made, std::string& why) {
  why = no_such_part(move.change, made);
  if (!why.empty()) return std::nullopt;
  for (const Condition& c : move.when) {
    if (c.holds(made.switches)) continue;
    why = "it is not that kind of garment";
    return std::nullopt;
  }
  const bool knit = made.cloth.stretch >= 0.15;
  const bool lined = made.switches.is(Switch::lining, "lined") && of_bodice(move.change);
  if (move.structure == ClothStructure::knit && !knit)
    why = "only a knit allows it";
  else if (move.structure == ClothStructure::woven && knit)
    why = "not on a knit";
  else if (move.leaves_holes && made.holes_show)
    why = "the line would leave holes in this cloth";
  else if (lined && move.lined == WhenLined::blocked)
    why = "not through a lining";
  if (!why.empty()) return std::nullopt;

  MoveLimits limits{move.least, move.most, move.minutes_fixed, move.minutes_per_unit, move.opens};
  if (lined && move.lined == WhenLined::dearer) {
    limits.minutes_fixed *= move.lined_factor;
    limits.minutes_per_unit *= move.lined_factor;
  }
  const OpeningMinutes of_edges = minutes_of_edges(move.change, made);
  for (size_t i = 0; i < limits.opens.size(); ++i) {
    if (lined && move.lined == WhenLined::dearer) limits.opens[i] *= move.lined_factor;
    limits.opens[i] += of_edges[i];
    limits.minutes_fixed += of_edges[i];
  }
  limits.most =
      std::min({limits.most, most_of(made, move.change), most_by_sense(move.change, made)});
  if (move.let_out_of) {
    const Seam& seam = made.seam(*move.let_out_of);
    limits.most = std::min(limits.most, seam.allowance - seam.keep);
    if (limits.most < limits.least) {
      why = fmt::format("the {} holds {:.1f} cm and {:.1f} must stay",
                        *move.let_out_of == SeamKey::hem
                            ? std::string("hem")
                            : std::string(to_string(*move.let_out_of)) + " seam",
                        seam.allowance,
                        seam.keep);
      return std::nullopt;
    }
  }
  if (limits.most < limits.least) {
    why = "there is no room for it";
    return std::nullopt;
  }
  return limits;
}

}  // namespace

double most_of(const Made& made, Change change) {
  const Values<double>& v = made.values;
  const outline::Half& front = made.bodice.front;
  const outline::Half& back = made.bodice.back;
  const double room = std::min(front.underarm.x - front.notch.x, back.underarm.x - back.notch.x);
  const double strap =
      std::min(front.strap_inner.y - front.notch.y, back.strap_inner.y - back.notch.y);
  switch (change) {
    case Change::sides_in:
    case Change::sides_in_bodice:
      return std::max(0.0, 0.8 * room);
    case Change::sides_in_skirt:
    case Change::sides_out_skirt:
      return std::max(0.0, 0.3 * v[K::skirt_back_width]);
    case Change::sides_out:
    case Change::sides_out_bodice:
    case Change::gusset:
      return 6;  // further out the armhole's curve is nobody's
    case Change::straps_down:
    case Change::strap_extended:
      return 20;
    case Change::straps_down_arm_end:
      return v[K::strap_width];
    case Change::straps_up:
    case Change::straps_up_front:
    case Change::straps_up_back:
    case Change::straps_up_neck_end:
    case Change::straps_up_arm_end:
      return std::max(0.0, 0.5 * strap);
    case Change::strap_narrower_arm:
    case Change::strap_narrower_neck:
      return std::max(0.0, v[K::strap_width] - 1.5);
    case Change::armhole_lower: {
      const double seam = distance(front.underarm, front.side_waist) - 4;
      return std::max(0.0, has_dart(front) ? std::min(seam, v[K::shaping_dart_drop] - 0.5) : seam);
    }
    case Change::armhole_scoop_front:
      return 0.3 * front.notch.x;
    case Change::armhole_scoop_back:
      return 0.3 * back.notch.x;
    case Change::neckline_deeper:
      return std::max(0.0, front.centre_neck.y - 4);
    case Change::neckline_filled:
      return std::max(0.0, v[K::neckline_depth]);
    case Change::back_neck_lower:
      return std::max(0.0, back.centre_neck.y - 4);
    case Change::side_dart:
      return std::max(0.0, made.bodice.figures.waist_share);
    case Change::armhole_dart:
      return 0.5 * distance(front.pivot, front.notch);
    case Change::neck_dart:
      return 0.5 * neck_reach(front);
    case Change::back_neck_dart:
      return 0.5 * neck_reach(back);
    case Change::armhole_eased:
      return 0.2 * (arc_length(front.armhole_upper) + arc_length(front.armhole_lower));
    case Change::neck_tape:
      return 0.2 * arc_length(front.neck[0]);
    case Change::strap_wider_arm:
      return std::max(0.0, 0.5 * room);
    case Change::waist_front_up:
    case Change::waist_front_down:
    case Change::waist_back_up:
    case Change::skirt_front_lower:
    case Change::skirt_front_out:
    case Change::skirt_back_out:
      return 6;
    case Change::hem_front_up:
    case Change::hem_front_down:
    case Change::hem_back_up:
    case Change::hem_back_down:
    case Change::hem_sides_up:
    case Change::hem_sides_down:
      // A panel's hem bends no further and still hangs.
      return std::clamp(v[K::skirt_length] - made.cut_for.hip_y - 5, 0.0, 6.0);
    case Change::elastic_longer:
      return v[K::elastic_length];
    case Change::slit_insert:
      return std::max(0.0, v[K::skirt_front_width]);
    case Change::hem_down:
    case Change::hem_band:
      return std::max(0.0, v[K::skirt_length]);
    case Change::waist_tuck:
    case Change::waist_down:
    case Change::waist_band:
      return std::max(0.0, 0.5 * back.underarm.y);
    case Change::elastic_shorter:
      return 0.4 * v[K::elastic_length];
    case Change::overlap_narrower:
      return std::max(0.0, v[K::skirt_overlap]);
    case Change::overlap_wider:
      return 0.5 * v[K::skirt_front_width];
    case Change::slit_caught:
      return std::max(0.0, v[K::skirt_length] - v[K::slit_catch]);
    case Change::slit_released:
      return std::max(0.0, v[K::slit_catch]);
    case Change::slit_edge_filled:
      return std::max(0.0, v[K::slit_run_in]);
    case Change::hem_up:
      return std::max(0.0, v[K::skirt_length] - std::max(v[K::slit_start], made.cut_for.hip_y) - 5);
    case Change::belt_shorter:
      return 0.5 * v[K::belt_length];
    case Change::count:
      break;
  }
  return 0;
}

std::optional<MoveLimits> limits_of(const Move& move, const Made& made) {
  std::string why;
  return find_limits(move, made, why);
}

std::string why_impossible(const Move& move, const Made& made) {
  std::string why;
  find_limits(move, made, why);
  return why;
}

}  // namespace easewright
