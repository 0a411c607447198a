#include "model/figure/spots.h"

#include <algorithm>
#include <string>

namespace easewright::figure {
namespace {

struct Known {
  std::string_view begins;
  Place place;
};

// The longest that fits counts, whatever the order.
constexpr Known kKnown[] = {
    {"neckline.", Place::neck_edge},
    {"neckline.depth", Place::front_neckline},
    {"neckline.above_bust", Place::front_neckline},
    {"neckline.back", Place::back_neck_edge},
    {"neckline.back_depth", Place::back_neckline},
    {"neckline.back_above_band", Place::back_neckline},
    {"strap.", Place::strap},
    {"strap.outer", Place::strap_outer},
    {"strap.cut_in", Place::strap_outer},
    {"strap.lean", Place::strap_back},
    {"strap.turns", Place::strap_back},
    {"armhole.", Place::underarm},
    {"armhole.slack", Place::front_armhole},
    {"armhole.taken", Place::front_armhole},
    {"armhole.front", Place::front_armhole},
    {"armhole.front_run", Place::underarm},
    {"armhole.back", Place::back_armhole},
    {"armhole.reach", Place::back_armhole},
    {"bodice.", Place::side_seam},
    {"bodice.bust", Place::bust},
    {"bodice.underarm", Place::underarm},
    {"bodice.underbust", Place::underbust},
    {"bodice.waist", Place::waist},
    {"bodice.front_waist", Place::waist},
    {"bodice.back_waist", Place::waist},
    {"bodice.blouson", Place::waist},
    {"bodice.centre_front", Place::waist_front},
    {"bodice.balance", Place::waist_front},
    {"shaping.", Place::bust},
    {"shaping.neck", Place::neck_edge},
    {"shaping.armhole", Place::front_armhole},
    {"shaping.side", Place::side_seam},
    {"shaping.dart", Place::side_seam},
    {"shaping.waist", Place::waist_front},
    {"blade.", Place::back_armhole},
    {"blade.neck", Place::back_neck_edge},
    {"blade.shoulder", Place::strap_back},
    {"blade.waist", Place::waist_back},
    {"dressing.", Place::bust},
    {"dressing.elastic", Place::waist},
    {"dressing.strain", Place::waist},
    {"elastic.", Place::waist},
    {"gather.", Place::waist},
    {"gather.front", Place::waist_front},
    {"casing.", Place::waist},
    {"skirt.", Place::hip},
    {"skirt.front_across", Place::hip},
    {"skirt.overlap", Place::overlap},
    {"skirt.waist", Place::waist},
    {"skirt.front_rise", Place::waist_front},
    {"skirt.front_tilt", Place::waist_front},
    {"skirt.back_rise", Place::waist_back},
    {"skirt.back_tilt", Place::waist_back},
    {"skirt.length", Place::hem},
    {"skirt.hem", Place::hem},
    {"skirt.flare", Place::hem},
    {"skirt.clearance", Place::hem},
    {"skirt.below_knee", Place::hem},
    {"skirt.seated_drop", Place::hem},
    {"skirt.step_room", Place::hem},
    {"skirt.panel", Place::hem},
    {"slit.", Place::free_edge},
    {"slit.start", Place::slit_start},
    {"slit.catch", Place::tack},
    {"slit.opening", Place::slit_opening},
    {"slit.below", Place::slit_opening},
    {"slit.step_cover", Place::thigh},
    {"slit.seated_cover", Place::lap},
    {"slit.knee_cover", Place::knee},
    {"hem.", Place::hem},
    {"hem.edge", Place::free_edge},
    {"belt.", Place::belt},
    {"belt.hang", Place::belt_end},
    {"belt.length", Place::belt_end},
};

/// Half the outline's width in front view at a height, garment or body, whichever is wider.
Point on_side(const Dressed& d, double height, double share) {
  return {share * d.body.half_width.at(height), height};
}

Spot spot_of_bodice(Place place, const Dressed& d) {
  const Anchors& a = d.anchors;
  const auto front = [&](const Point& at) { return Spot{place, View::front, at}; };
  const auto back = [&](const Point& at) { return Spot{place, View::back, at}; };
  const Point strap = 0.5 * (a.strap_inner + a.strap_outer);
  switch (place) {
    case Place::front_neckline:
      return front(a.neckline);
    case Place::neck_edge:
      return front({-a.neck_edge.x, a.neck_edge.y});
    case Place::back_neckline:
      return back(a.back_neckline);
    case Place::back_neck_edge:
      return back({-a.back_neck_edge.x, a.back_neck_edge.y});
    case Place::strap:
      return front(strap);
    case Place::strap_outer:
      return front(a.strap_outer);
    case Place::strap_back:
      return back(strap);
    case Place::front_armhole:
      return front(a.notch);
    case Place::back_armhole:
      return back(a.back_notch);
    case Place::underarm:
      return front(a.underarm);
    case Place::bust:
      return front({-a.bust.x, a.bust.y});
    case Place::underbust:
      return front(on_side(d, d.body.at.underbust, -0.6));
    case Place::side_seam:
      return {place, View::side, a.side_seam};
    case Place::bodice_side:
      return front(0.5 * (a.underarm + a.side_waist));
    default:
      return {place, View::front, a.side_waist};
  }
}

Spot spot_of_skirt(Place place, const Dressed& d) {
  const Anchors& a = d.anchors;
  const auto front = [&](const Point& at) { return Spot{place, View::front, at}; };
  const double seat = d.body.at.crotch, knee = d.body.at.knee;
  switch (place) {
    case Place::overlap:
      return front({a.start.x, 0.5 * (d.levels.waist + d.levels.hip)});
    case Place::tack:
      return front(a.catch_tack);
    case Place::slit_start:
      return front(a.start);
    case Place::slit_opening:
      return front(a.opening);
    case Place::thigh:
      return front(on_side(d, 0.5 * (seat + knee), -0.5));
    case Place::lap:
      return front(on_side(d, seat - 0.2 * (seat - knee), 0.5));
    case Place::knee:
      return front(on_side(d, knee, -0.6));
    case Place::free_edge:
      return front(a.free_edge);
    case Place::under_edge:
      return front(a.under_edge);
    case Place::hem:
      return front(a.hem);
    default:
      return front(a.hip);
  }
}

}  // namespace

std::optional<Place> place_of(std::string_view id) {
  const Known* found = nullptr;
  for (const Known& known : kKnown) {
    const bool longer = found == nullptr || known.begins.size() > found->begins.size();
    if (id.starts_with(known.begins) && longer) found = &known;
  }
  return found == nullptr ? std::nullopt : std::optional(found->place);
}

namespace {

/// Where the first measure or draft value of an expression lies.
std::optional<Place> place_in(const Expression& expression) {
  for (const Name& name : expression.names()) {
    if (name.kind == NameKind::value) return place_of(info(static_cast<ValueKey>(name.index)).id);
    if (name.kind == NameKind::measure)
      return place_of(info(static_cast<MeasureKey>(name.index)).id);
  }
  return std::nullopt;
}

}  // namespace

std::optional<Place> place_of(const Finding& finding) {
  return finding.rule == nullptr ? place_of(finding.wish_id)
                                 : place_in(finding.rule->range.expression);
}

std::optional<Place> place_of(const FaultKind& fault) {
  return fault.is_of_hem() ? Place::hem : place_in(fault.reads);
}

Place place_of(Change change) {
  using C = Change;
  switch (change) {
    case C::sides_in:
    case C::sides_out:
    case C::sides_in_bodice:
    case C::sides_out_bodice:
    case C::side_dart:
      return Place::bodice_side;
    case C::sides_in_skirt:
    case C::sides_out_skirt:
      return Place::hip;
    case C::straps_up:
    case C::straps_up_front:
    case C::straps_up_neck_end:
    case C::straps_down:
    case C::strap_extended:
    case C::strap_narrower_neck:
      return Place::strap;
    case C::straps_up_back:
      return Place::strap_back;
    case C::straps_up_arm_end:
    case C::straps_down_arm_end:
    case C::strap_narrower_arm:
    case C::strap_wider_arm:
      return Place::strap_outer;
    case C::armhole_lower:
    case C::gusset:
      return Place::underarm;
    case C::armhole_scoop_front:
    case C::armhole_dart:
    case C::armhole_eased:
      return Place::front_armhole;
    case C::armhole_scoop_back:
      return Place::back_armhole;
    case C::neck_dart:
    case C::neck_tape:
      return Place::neck_edge;
    case C::neckline_deeper:
    case C::neckline_filled:
      return Place::front_neckline;
    case C::back_neck_lower:
      return Place::back_neckline;
    case C::back_neck_dart:
      return Place::back_neck_edge;
    case C::waist_front_up:
    case C::waist_front_down:
    case C::skirt_front_lower:
    case C::skirt_front_out:
      return Place::waist_front;
    case C::waist_back_up:
    case C::skirt_back_out:
      return Place::waist_back;
    case C::overlap_wider:
    case C::overlap_narrower:
      return Place::overlap;
    case C::slit_insert:
      return Place::under_edge;
    case C::slit_edge_filled:
      return Place::free_edge;
    case C::slit_caught:
    case C::slit_released:
      return Place::tack;
    case C::hem_up:
    case C::hem_down:
    case C::hem_front_up:
    case C::hem_front_down:
    case C::hem_back_up:
    case C::hem_back_down:
    case C::hem_sides_up:
    case C::hem_sides_down:
    case C::hem_band:
      return Place::hem;
    case C::belt_shorter:
      return Place::belt_end;
    case C::waist_tuck:
    case C::waist_band:
    case C::waist_down:
    case C::elastic_shorter:
    case C::elastic_longer:
    case C::count:
      break;
  }
  return Place::waist;
}

Spot spot_of(Place place, const Dressed& d) {
  const double waist = d.levels.waist;
  switch (place) {
    case Place::waist:
      return {place, View::front, {-d.anchors.side_waist.x, waist}};
    case Place::waist_front:
      return {place, View::front, {0, waist}};
    case Place::waist_back:
      return {place, View::back, {0, waist}};
    case Place::belt:
      return {place, View::back, {0.7 * d.anchors.side_waist.x, waist}};
    case Place::belt_end:
      return {place, View::front, d.levels.belt_end > 0 ? d.anchors.belt_end : Point{0, waist}};
    default:
      break;
  }
  const bool of_skirt = place >= Place::hip;
  if (of_skirt ? !d.parts.skirt : !d.parts.bodice) return {place, View::front, {0, waist}};
  return of_skirt ? spot_of_skirt(place, d) : spot_of_bodice(place, d);
}

std::vector<Marked> marked(const std::vector<Finding>& findings, const Dressed& dressed) {
  std::vector<Marked> marks;
  for (const Finding& f : findings) {
    if (!f.missed || f.strength >= solver::Level::habit) continue;
    const Place place = place_of(f).value_or(Place::waist);
    marks.push_back({&f, static_cast<int>(marks.size()) + 1, spot_of(place, dressed)});
  }
  return marks;
}

}  // namespace easewright::figure
