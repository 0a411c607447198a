#include "model/figure/dressed.h"

#include "model/figure/dressing.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace easewright::figure {
namespace {

using B = BodyKey;
using V = ValueKey;
using M = MeasureKey;

/// `from` to `to` shared out over the height between two landmarks; past the lower one it goes on.
double shared(double below, double length, double upper, double lower) {
  return upper - (upper - lower) * below / std::max(length, 0.1);
}

/// The curves of an edge, moved so that they run from `from` to `to`: stretched across and along.
Path laid(const std::vector<Curve>& edge, const Point& from, const Point& to) {
  const Point a = edge.front().p0, b = edge.back().p3;
  const auto scale = [](double was, double is) { return std::abs(was) < 1e-6 ? 0 : is / was; };
  const double kx = scale(b.x - a.x, to.x - from.x), ky = scale(b.y - a.y, to.y - from.y);
  Path path = edge;
  for (Curve& c : path)
    for (Point* p : {&c.p0, &c.p1, &c.p2, &c.p3})
      *p = {from.x + kx * (p->x - a.x), from.y + ky * (p->y - a.y)};
  path.front().p0 = from;
  path.back().p3 = to;
  return path;
}

/// The right half of a bodice as the view from the front, or from the back, has it.
struct Half {
  Path neck, strap, armhole, side;
  Point centre_neck, strap_inner, strap_outer, notch, underarm;

  Path outline() const {
    Path path = neck;
    join(path, strap);
    join(path, armhole);
    join(path, side);
    Path whole = path;
    join(whole, reversed(mirrored(path)));
    line_to(whole, whole.front().p0);
    return whole;
  }
};

class BodiceOnBody {
 public:
  explicit BodiceOnBody(const Dressing& d) : d_(d), s_(d.body()), side_(side_course()) {}

  void draw() {
    const Half front = half(d_.bodice.front, true), back = half(d_.bodice.back, false);
    set_anchors(front, back);
    draw_half(View::front, front);
    draw_half(View::back, back);
    draw_side(front, back);
    draw_waist();
    draw_dart();
  }

 private:
  double waist_half() const { return s_.half_width.at(s_.at.waist) * waist_off() + kOffSkin; }
  double waist_off() const {
    if (d_.frame.elastic_waist) return 1;
    return stand_off(d_.measure(M::bodice_waist), d_.frame.body[B::waist_girth]);
  }
  /// How much the bodice stands off at bust, underbust and just above its waist.
  double bust_off() const {
    return stand_off(d_.measure(M::bodice_bust), d_.frame.body[B::bust_girth]);
  }
  double underarm_off() const {
    return stand_off(d_.measure(M::bodice_underarm), d_.frame.body[B::bust_girth]);
  }
  double gathered(double off) const { return 1 + kGatheredOff * (off - 1); }
  double underbust_off() const {
    return gathered(stand_off(d_.measure(M::bodice_underbust), d_.frame.body[B::underbust_girth]));
  }
  /// Length ease above an elastic hangs over it in a fold: so much ease, its height, and how far it
  /// stands out.
  double ease() const { return std::clamp(d_.value(V::bodice_blouson), 0.0, 6.0); }
  double fold_height() const { return s_.at.waist + 1.5 + 0.4 * ease(); }
  double fold_out() const { return 0.3 * ease(); }

  /// Half width from the underarm to the waist: between bust and waist, or the fold above it, the
  /// cloth hangs straight where the body does not stand out.
  Course side_course() const {
    const auto knot = [this](double height, double off) {
      return Course::Knot{height, s_.half_width.at(height) * off + kOffSkin};
    };
    const bool elastic = d_.frame.elastic_waist;
    const double underarm = d_.out.levels.underarm;
    const Course::Knot top = knot(underarm, underarm_off()), waist = knot(s_.at.waist, waist_off());
    const Course::Knot bust = s_.at.bust < underarm - 1 ? knot(s_.at.bust, bust_off()) : top;
    std::vector<Course::Knot> knots{top, bust, waist};
    Course::Knot low = waist;
    if (elastic && fold_height() < bust.height - 2) {
      // Gathers draw the cloth in.
      low = {fold_height(), waist.value + kGatheredOff * (bust.value - waist.value) + fold_out()};
      knots.push_back(low);
    }
    if (s_.at.underbust < bust.height - 1 && s_.at.underbust > low.height + 1) {
      const double t = (s_.at.underbust - low.height) / (bust.height - low.height);
      const Course::Knot lies = knot(s_.at.underbust, elastic ? 1 : underbust_off());
      const double hangs = (1 - t) * low.value + t * bust.value;
      knots.push_back({lies.height, elastic ? std::max(hangs, lies.value) : lies.value});
    }
    return Course(std::move(knots)).outside(s_.half_width, 1, 0.5 * kOffSkin);
  }

  /// The profile in side view, from the edge at `top` down. It lies on the skin as far as bust or
  /// blades, rests on them and hangs from there.
  Course depth_course(double sign, double top) const {
    const Course& skin = sign > 0 ? s_.front : s_.back;
    const double rest = std::min(top, sign > 0 ? s_.at.bust : std::max(s_.at.armpit, s_.at.bust));
    const auto off = [&](double h, double share) {
      const double half = 0.5 * (s_.front.at(h) - s_.back.at(h));
      return skin.at(h) + sign * (kOffSkin + share * half);
    };
    std::vector<Course::Knot> knots;
    for (double h = rest + 2; h < top - 0.5; h += 2) knots.push_back({h, off(h, 0)});
    if (top > rest) knots.push_back({top, off(top, 0)});
    const Course::Knot resting{rest, off(rest, 0.3 * (bust_off() - 1))};
    const Course::Knot waist{s_.at.waist, off(s_.at.waist, waist_off() - 1)};
    Course::Knot low = waist;
    if (d_.frame.elastic_waist && fold_height() < rest - 2) {
      low = {fold_height(), waist.value + 0.7 * (resting.value - waist.value)};
      low.value = sign * std::max(sign * low.value, sign * waist.value) + sign * fold_out();
      knots.push_back(low);
    }
    for (double h = low.height + 3; h < rest - 1; h += 3) {
      const double t = (h - low.height) / (rest - low.height);
      const double hangs = (1 - t) * low.value + t * resting.value;
      knots.push_back({h, sign * std::max(sign * hangs, sign * off(h, 0))});
    }
    knots.push_back(resting);
    knots.push_back(waist);
    return Course(std::move(knots)).outside(skin, sign, 0.5 * kOffSkin);
  }

  /// Where a width along the cloth from the centre comes to lie across the chest.
  double across_chest(double width) const {
    return s_.chest.across(4 * width / d_.frame.body[B::bust_girth]);
  }

  /// As the draft has it (bodice_draft.h): off the strap square to its seam, upright past the
  /// notch. Under the arm it turns away from the viewer.
  static Path armhole(const Half& h, const Point& seam, double hollow) {
    const double upper = geometry::distance(h.strap_outer, h.notch) / 3;
    const Point off = (1 / geometry::length(seam)) * Point{seam.y, -seam.x};
    const Point down{0.0, -1.0}, under{0.8, -0.6};
    const Point chord = h.underarm - h.notch;
    return {geometry::curve_between(h.strap_outer, off, upper, down, upper, h.notch),
            geometry::curve_between(
                h.notch, down, -hollow * chord.y, under, 0.5 * hollow * chord.x, h.underarm)};
  }

  Half half(const HalfBodice<double>& piece, bool front) const {
    const Levels& levels = d_.out.levels;
    Half h;
    const double length = d_.frame.body[B::shoulder_length];
    const double inner = d_.value(V::strap_inset) / length;
    const double outer =
        std::min((d_.value(V::strap_inset) + d_.value(V::strap_width)) / length, 1.3);
    h.strap_inner = s_.on_shoulder(inner);
    h.strap_outer = s_.on_shoulder(outer);
    h.centre_neck = {0, front ? levels.neckline : levels.back_neckline};
    h.underarm = {side_.at(levels.underarm), levels.underarm};
    const double edge = d_.value(front ? V::armhole_front_edge : V::armhole_back_edge);
    h.notch = {std::min(across_chest(edge), 0.97 * h.underarm.x), levels.notch};
    std::vector<Curve> neck(piece.neck.begin(), piece.neck.begin() + piece.neck_curves);
    h.neck = laid(neck, h.centre_neck, h.strap_inner);
    std::vector<Point> along;
    for (int i = 0; i <= 4; ++i) along.push_back(s_.on_shoulder(inner + (outer - inner) * i / 4));
    h.strap = through(along);
    h.armhole = armhole(h, along[4] - along[3], front ? 0.64 : 0.60);
    h.side = side_.run(levels.underarm, s_.at.waist);
    return h;
  }

  void set_anchors(const Half& front, const Half& back) const {
    Anchors& a = d_.out.anchors;
    a.neckline = front.centre_neck;
    a.back_neckline = back.centre_neck;
    a.neck_edge = front.neck.front().at(front.neck.size() > 1 ? 0.7 : 0.5);
    a.back_neck_edge = back.neck.front().at(0.6);
    a.strap_inner = front.strap_inner;
    a.strap_outer = front.strap_outer;
    a.notch = front.notch;
    a.back_notch = back.notch;
    a.underarm = front.underarm;
    a.bust = {s_.bust_x, s_.at.bust};
    a.side_waist = {waist_half(), s_.at.waist};
    const Point under = side_underarm();
    a.side_seam = {0.5 * under.x, 0.5 * (under.y + s_.at.waist)};
    double& widest = d_.out.widest;
    for (const Course::Knot& k : side_.knots()) widest = std::max(widest, k.value);
  }

  void draw_half(View view, const Half& h) const {
    d_.out.view(view).cloth.push_back(h.outline());
    Path neck = reversed(mirrored(h.neck));
    join(neck, h.neck);
    d_.draw(view, LineKind::edge, neck);
    d_.draw_both(view, LineKind::edge, h.armhole);
    d_.draw_both(view, LineKind::edge, h.side);
    d_.draw_both(view, LineKind::seam, h.strap);
  }

  /// A line of the front (or back) view as the side view has it, on the body's surface, down to
  /// where the profile begins.
  Path from_side(const Path& path, double sign, const Point& end) const {
    std::vector<Point> points;
    for (const Point& p : flat(path, 14)) points.push_back(from_side(p, sign));
    points.back() = end;
    return through(points);
  }

  Path in_side_view(Path path) const {
    for (Curve& c : path)
      for (Point* p : {&c.p0, &c.p1, &c.p2, &c.p3}) p->x = side_x(s_, p->x);
    return path;
  }

  Point from_side(const Point& p, double sign) const {
    const Section section = s_.section(p.y);
    const double depth = s_.middle(p.y) + sign * section.depth(std::min(p.x, section.half_breadth));
    return {side_x(s_, depth), p.y};
  }

  /// The side seam hangs plumb, as near under the shoulder as body and belly let it.
  Point side_underarm() const {
    const double shoulder = s_.middle(s_.at.shoulder);
    return {side_x(s_, std::clamp(s_.plumb(), shoulder - 2, shoulder + 2.5)),
            d_.out.levels.underarm};
  }

  /// Closed, over the strap seam's outer end, both notches and the underarm, level under the arm.
  /// A notch lies before (or behind) the side seam by as much of the run between them as the front
  /// view does not show across, but clear of the profile.
  Path armhole_from_side(const Half& front, const Half& back) const {
    const Point under = side_underarm();
    const Point top{side_x(s_, s_.middle(front.strap_outer.y)), front.strap_outer.y};
    const auto half = [&](const Half& h, double run, double forward, double hollow) {
      const double across = h.underarm.x - h.notch.x;
      const double away = std::sqrt(std::max(run * run - across * across, 0.1 * run * run));
      const double skin = side_x(s_, (forward < 0 ? s_.front : s_.back).at(h.notch.y));
      const double room = 0.7 * std::max(forward * (skin - under.x), 1.0);
      const Point notch{under.x + forward * std::clamp(away, 1.0, std::max(room, 1.0)), h.notch.y};
      const double upper = geometry::distance(top, notch) / 3;
      return Path{
          geometry::curve_between(top, {0.75 * forward, -0.66}, upper, {0.0, -1.0}, upper, notch),
          geometry::curve_between(notch,
                                  {0.0, -1.0},
                                  hollow * (notch.y - under.y),
                                  {-forward, 0.0},
                                  hollow * std::abs(notch.x - under.x),
                                  under)};
    };
    Path path = half(front, d_.measure(M::armhole_front_run), -1, 0.64);
    join(path, reversed(half(back, d_.measure(M::armhole_back_run), 1, 0.6)));
    return path;
  }

  void draw_side(const Half& front, const Half& back) const {
    const Levels& levels = d_.out.levels;
    const double waist = s_.at.waist;
    const Course before = depth_course(1, levels.neckline),
                 behind = depth_course(-1, levels.back_neckline);
    const Path front_line = in_side_view(before.run(levels.neckline, waist));
    const Path back_line = in_side_view(behind.run(waist, levels.back_neckline));
    const Path front_neck = from_side(reversed(divided(front.neck)), 1, front_line.front().p0);
    const Path back_neck =
        reversed(from_side(reversed(divided(back.neck)), -1, back_line.back().p3));
    Path outline = front_neck;
    join(outline, front_line);
    join(outline, back_line);
    join(outline, back_neck);
    line_to(outline, outline.front().p0);
    const Path armhole = armhole_from_side(front, back);
    Elevation& view = d_.out.view(View::side);
    view.cloth.push_back(outline);
    view.bare.push_back(armhole);
    for (const Path& line : {front_neck, front_line, back_line, back_neck})
      d_.draw(View::side, LineKind::edge, line);
    d_.draw(View::side, LineKind::edge, armhole);
    const double top = side_x(s_, s_.middle(front.strap_inner.y));
    Path seam{geometry::straight<double>(
        {top, front.strap_inner.y},
        {side_x(s_, s_.middle(front.strap_outer.y)), front.strap_outer.y})};
    d_.draw(View::side, LineKind::seam, seam);
    const Point foot{side_x(s_, s_.plumb()), waist};
    d_.draw(View::side, LineKind::seam, {geometry::straight(side_underarm(), foot)});
    ends_ = {side_x(s_, before.at(waist)), side_x(s_, behind.at(waist))};
  }

  /// Straight lines cut into short ones: seen from the side they bend.
  static Path divided(const Path& path) {
    Path fine;
    for (const Curve& c : path) {
      Point from = c.p0;
      for (int i = 1; i <= 8; ++i) {
        // Steps shorten towards both ends, where the surface turns away.
        const double t = 0.5 * (1 - std::cos(kPi * i / 8.0));
        const Point to = i == 8 ? c.p3 : c.at(t);
        fine.push_back(geometry::straight(from, to));
        from = to;
      }
    }
    return fine;
  }

  void draw_waist() const {
    const double waist = s_.at.waist, half = waist_half();
    const std::pair<View, std::pair<double, double>> ends[] = {
        {View::front, {-half, half}}, {View::back, {-half, half}}, {View::side, ends_}};
    for (const auto& [view, x] : ends) {
      d_.draw(
          view, LineKind::seam, {geometry::straight<double>({x.first, waist}, {x.second, waist})});
      if (!d_.frame.elastic_waist) continue;
      const double top = waist + d_.value(V::casing_width);
      if (!d_.frame.belt)
        d_.draw(
            view, LineKind::seam, {geometry::straight<double>({x.first, top}, {x.second, top})});
      draw_gathers(d_, view, x.first, x.second, top, 0.35 * (s_.at.underbust - waist));
    }
  }

  /// The side dart, from the side seam towards the bust point.
  void draw_dart() const {
    if (!d_.frame.switches.is(Switch::side_dart, "sewn") || d_.value(V::shaping_side) < radians(1))
      return;
    const double side = std::max(d_.measure(M::bodice_side), 1.0);
    const double share = std::clamp(d_.value(V::shaping_dart_drop) / side, 0.0, 1.0);
    const double h = d_.out.levels.underarm + share * (s_.at.waist - d_.out.levels.underarm);
    const Point from{side_.at(h), h}, bust{s_.bust_x, s_.at.bust};
    const Point way = bust - from;
    const double length = geometry::length(way);
    const double stop = std::max(length - 2.5, 0.3 * length);  // stitched to 2.5 short of the point
    const Point to = from + (stop / length) * way;
    d_.draw_both(View::front, LineKind::seam, {geometry::straight(from, to)});
  }

  const Dressing& d_;
  const Silhouette& s_;
  Course side_;
  mutable std::pair<double, double> ends_{0, 0};
};

/// Levels that need no drawing.
Levels levels_of(const Dressing& d) {
  const Silhouette& s = d.body();
  Levels l;
  l.waist = s.at.waist;
  if (d.out.parts.bodice) {
    l.neckline = front_height(s, d.frame, d.value(V::neckline_depth));
    l.back_neckline = back_height(s, d.frame, d.value(V::neckline_back_depth));
    l.underarm = back_height(
        s, d.frame, d.frame.body[B::scye_depth] + d.frame.armpit_shift + d.value(V::armhole_drop));
    l.underarm = std::max(l.underarm, s.at.waist + 2);
    // Where across front and across back are taken (bodice_draft.h).
    l.notch = std::max(s.at.armpit + 0.37 * (s.at.side_neck - s.at.armpit), l.underarm + 0.5);
  }
  if (d.out.parts.skirt) {
    l.hip = s.at.hip;
    l.hem = l.waist - d.value(V::skirt_length);
    if (d.frame.wrapped) {
      l.slit_catch = l.waist - d.value(V::slit_catch);
      l.slit_start = l.waist - d.value(V::slit_start);
      l.slit_opening = l.waist - d.measure(M::slit_opening);
    }
  }
  return l;
}

}  // namespace

double front_height(const Silhouette& body, const Frame& frame, double below) {
  const double to_bust = frame.front_neck_y - frame.neck_depth - frame.bust_y;
  if (below <= to_bust) return shared(below, to_bust, body.at.front_neck, body.at.bust);
  return shared(below - to_bust, frame.bust_y, body.at.bust, body.at.waist);
}

double back_height(const Silhouette& body, const Frame& frame, double below) {
  const double to_armpit = frame.body[B::scye_depth];
  if (below <= to_armpit) return shared(below, to_armpit, body.at.back_neck, body.at.armpit);
  return shared(below - to_armpit, frame.back_neck_y - to_armpit, body.at.armpit, body.at.waist);
}

double stand_off(double cloth_girth, double body_girth) {
  return std::max(cloth_girth / body_girth, 1.0);
}

void draw_gathers(
    const Dressing& d, View view, double left, double right, double height, double length) {
  if (d.measure(M::gather_ratio) < 1.05) return;
  constexpr int kFolds = 9;
  for (int i = 0; i < kFolds; ++i) {
    const double t = (i + 0.5) / kFolds;
    const double x = left + (right - left) * t;
    const double spread = 0.1 * (t - 0.5) * std::abs(length) * (right > left ? 1 : -1);
    const double reach = length * (i % 2 == 0 ? 1 : 0.6);
    d.draw(view,
           LineKind::gather,
           {geometry::straight<double>({x, height}, {x + spread, height + reach})});
  }
}

void dress_bodice(const Dressing& d) { BodiceOnBody(d).draw(); }

Dressed dress(const Frame& frame,
              const Values<double>& values,
              const Bodice<double>& bodice,
              const Measures<double>& measures,
              Parts parts) {
  parts.skirt = parts.skirt && frame.skirt;
  Dressed dressed{.body = silhouette_of(frame.body),
                  .parts = parts,
                  .levels = {},
                  .anchors = {},
                  .widest = 0,
                  .views = {}};
  for (const Course::Knot& k : dressed.body.half_width.knots())
    dressed.widest = std::max(dressed.widest, k.value);
  const Dressing d{frame, values, bodice, measures, dressed};
  dressed.levels = levels_of(d);
  if (parts.skirt) dress_skirt(d);
  if (parts.bodice) dress_bodice(d);
  if (frame.belt) dress_belt(d);
  return dressed;
}

Dressed dress(const FitResult& result) {
  const Frame& frame = result.posed->frame;
  return dress(frame,
               result.values,
               draft_bodice<double>(frame, BodiceValues<double>{result.values.at.data()}),
               result.measures,
               {.bodice = true, .skirt = frame.skirt});
}

}  // namespace easewright::figure
