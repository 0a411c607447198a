// The skirt and the belt on the body's outline.

#include "model/figure/dressing.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace easewright::figure {
namespace {

using B = BodyKey;
using V = ValueKey;
using M = MeasureKey;

constexpr int kSteps = 28;

class SkirtOnBody {
 public:
  explicit SkirtOnBody(const Dressing& d)
      : d_(d),
        s_(d.body()),
        side_(side_course()),
        front_(depth_course(1)),
        back_(depth_course(-1)) {}

  void draw() {
    Levels& levels = d_.out.levels;
    for (const Course::Knot& k : side_.knots()) d_.out.widest = std::max(d_.out.widest, k.value);
    Anchors& a = d_.out.anchors;
    a.side_waist = {side_.at(levels.waist), levels.waist};
    a.hip = {side_.at(levels.hip), std::max(levels.hip, levels.hem)};
    a.hem = {side_.at(levels.hem), levels.hem};
    if (d_.frame.wrapped)
      draw_wrapped();
    else
      draw_whole(View::front);
    draw_whole(View::back);
    draw_side();
    draw_gathers_below();
  }

 private:
  double below_waist(double height) const { return s_.at.waist - height; }
  /// Share of the way from the hip to the hem.
  double down(double height) const {
    const double y = below_waist(height), hip = d_.frame.hip_y;
    const double run = std::max(d_.value(V::skirt_length) - hip, 1.0);
    return std::max(0.0, y - hip) / run;
  }
  /// Girth below the hip over that at the hip.
  double spread(double height) const {
    return 1 + 4 * d_.value(V::skirt_flare) * down(height) / d_.measure(M::skirt_hip);
  }
  double hip_off() const {
    return stand_off(d_.measure(M::skirt_hip), d_.frame.body[B::hip_girth]);
  }
  std::vector<double> heights() const {
    const double waist = s_.at.waist, hip = s_.at.hip, hem = d_.out.levels.hem;
    std::vector<double> all{waist};
    for (int i = 1; i <= 5; ++i) all.push_back(waist + (hip - waist) * i / 5);
    for (int i = 1; i <= 4; ++i) all.push_back(hip + (hem - hip) * i / 4);
    std::erase_if(all, [hem](double h) { return h < hem; });
    if (all.back() > hem) all.push_back(hem);
    return all;
  }
  /// Share of its fullness that the skirt has reached on its way from waist to hip.
  double filled(double height) const {
    const double t = std::clamp(below_waist(height) / std::max(d_.frame.hip_y, 1.0), 0.0, 1.0);
    return std::sin(0.5 * kPi * t);
  }

  Course side_course() const {
    std::vector<Course::Knot> knots;
    const double waist = s_.half_width.at(s_.at.waist), hip = s_.half_width.at(s_.at.hip);
    for (const double h : heights()) {
      const double hangs = waist + filled(h) * (hip * hip_off() - waist);
      // The leg below the seat may stand out further than the hip.
      knots.push_back({h, std::max(hangs * spread(h), s_.half_width.at(h)) + kOffSkin});
    }
    return Course(std::move(knots)).outside(s_.half_width, 1, 0.5 * kOffSkin);
  }

  Course depth_course(double sign) const {
    const Course& skin = sign > 0 ? s_.front : s_.back;
    const double waist = skin.at(s_.at.waist), middle = s_.middle(s_.at.hip);
    const double half = 0.5 * (s_.front.at(s_.at.hip) - s_.back.at(s_.at.hip));
    // It hangs from what stands out furthest between waist and hip.
    double furthest = middle + sign * half * hip_off();
    for (int i = 0; i <= 8; ++i) {
      const double h = s_.at.waist + (s_.at.hip - s_.at.waist) * i / 8;
      furthest = sign * std::max(sign * furthest, sign * skin.at(h));
    }
    std::vector<Course::Knot> knots;
    for (const double h : heights()) {
      const double hangs = waist + filled(h) * (furthest - waist);
      const double out = middle + (hangs - middle) * spread(h);
      knots.push_back({h, sign * (std::max(sign * out, sign * skin.at(h)) + kOffSkin)});
    }
    return Course(std::move(knots)).outside(skin, sign, 0.5 * kOffSkin);
  }

  /// Where a width along the front from its centre comes to lie across, at a height.
  double across(double along, double height) const {
    const double half =
        0.5 * d_.measure(M::skirt_front_across) + d_.value(V::skirt_flare) * down(height);
    const Section section = cloth(height);
    const double x = section.across(std::abs(along) / std::max(half, 1.0));
    return along < 0 ? -x : x;
  }
  Section cloth(double height) const {
    return {
        side_.at(height), 0.5 * (front_.at(height) - back_.at(height)), s_.squareness.at(height)};
  }

  double run_in(double height) const {
    const double start = d_.value(V::slit_start);
    const double curve = std::max(1.0, d_.value(V::skirt_length) - start);
    const double u = std::max(0.0, below_waist(height) - start) / curve;
    return d_.value(V::slit_run_in) * u * u;
  }
  /// The free edge of the upper front, which lies to the wearer's left: the viewer's right.
  double upper_edge(double height) const { return across(half_overlap(height) + shift(), height); }
  double under_edge(double height) const { return across(shift() - half_overlap(height), height); }
  /// Half of what still overlaps; negative: half of the gap.
  double half_overlap(double height) const {
    return 0.5 * d_.value(V::skirt_overlap) - run_in(height);
  }
  double shift() const { return d_.out.parts.overlap_shift; }

  std::vector<double> steps(double from, double to) const {
    std::vector<double> all;
    for (int i = 0; i <= kSteps; ++i) all.push_back(from + (to - from) * i / kSteps);
    return all;
  }
  template <typename Edge>
  Path edge_line(const Edge& edge, double from, double to) const {
    std::vector<Point> points;
    for (const double h : steps(from, to)) points.push_back({edge(h), h});
    return through(points);
  }

  void draw_whole(View view) const {
    const Levels& levels = d_.out.levels;
    const Path side = side_.run(levels.waist, levels.hem);
    Path cloth = side;
    join(cloth, reversed(mirrored(side)));
    line_to(cloth, cloth.front().p0);
    d_.out.view(view).cloth.push_back(cloth);
    d_.draw_both(view, LineKind::edge, side);
    const double half = side_.at(levels.hem);
    d_.draw(view,
            LineKind::edge,
            {geometry::straight<double>({-half, levels.hem}, {half, levels.hem})});
    if (!d_.out.parts.bodice) draw_top(view, -side_.at(levels.waist), side_.at(levels.waist));
  }

  void draw_top(View view, double left, double right) const {
    d_.draw(view,
            LineKind::edge,
            {geometry::straight<double>({left, s_.at.waist}, {right, s_.at.waist})});
  }

  /// A front panel with its free edge; the viewer's left one is mirrored by the caller.
  Path panel(const Path& side, const Path& edge) const {
    Path path = side;
    join(path, reversed(edge));
    line_to(path, path.front().p0);
    return path;
  }

  void draw_wrapped() const {
    const Levels& l = d_.out.levels;
    const auto upper = [this](double h) { return upper_edge(h); };
    const auto under = [this](double h) { return under_edge(h); };
    const Path side = side_.run(l.waist, l.hem);
    const Path upper_line = edge_line(upper, l.waist, l.hem),
               under_line = edge_line(under, l.waist, l.hem);
    Elevation& view = d_.out.view(View::front);
    view.cloth.push_back(panel(side, under_line));
    view.cloth.push_back(panel(mirrored(side), upper_line));
    d_.draw_both(View::front, LineKind::edge, side);
    const double half = side_.at(l.hem), left = upper(l.hem), right = std::max(left, under(l.hem));
    const auto level = [&l](double from, double to) {
      return Path{geometry::straight<double>({from, l.hem}, {to, l.hem})};
    };
    d_.draw(View::front, LineKind::edge, level(-half, left));
    if (right < half) d_.draw(View::front, LineKind::edge, level(right, half));

    // Fronts part where the edges meet; above, the under one is out of sight.
    const double parts = parting();
    if (parts < l.waist) d_.draw(View::front, LineKind::hidden, edge_line(under, l.waist, parts));
    if (parts > l.hem) d_.draw(View::front, LineKind::edge, edge_line(under, parts, l.hem));
    const bool sewn = d_.frame.slit_sewn && l.slit_start > l.hem;
    if (sewn) d_.draw(View::front, LineKind::seam, edge_line(upper, l.waist, l.slit_start));
    d_.draw(View::front, LineKind::edge, sewn ? edge_line(upper, l.slit_start, l.hem) : upper_line);
    set_anchors();
    draw_tack();
  }

  /// Height at which the two free edges meet; the hem's where they never do.
  double parting() const {
    const Levels& l = d_.out.levels;
    if (half_overlap(l.hem) >= 0) return l.hem;
    double least = l.hem, most = l.waist;
    for (int i = 0; i < 50; ++i) {
      const double h = 0.5 * (least + most);
      (half_overlap(h) < 0 ? least : most) = h;
    }
    return 0.5 * (least + most);
  }

  void set_anchors() const {
    const Levels& l = d_.out.levels;
    Anchors& a = d_.out.anchors;
    const auto on_edge = [&](double h) {
      const double inside = std::clamp(h, l.hem, l.waist);
      return Point{upper_edge(inside), inside};
    };
    a.opening = on_edge(l.slit_opening);
    a.start = on_edge(l.slit_start);
    a.free_edge = on_edge(0.5 * (l.slit_start + l.hem));
    a.hem_edge = on_edge(l.hem);
    const double shows = 0.5 * (l.waist + parting());
    a.under_edge = {under_edge(shows), shows};
    a.catch_tack = on_edge(l.slit_catch);
  }

  void draw_tack() const {
    const Levels& l = d_.out.levels;
    if (d_.frame.slit_sewn || l.slit_catch >= l.waist - 0.5 || l.slit_catch < l.hem) return;
    const double x = upper_edge(l.slit_catch);
    d_.draw(View::front,
            LineKind::seam,
            {geometry::straight<double>({x - 1.5, l.slit_catch}, {x, l.slit_catch})});
  }

  Path in_side_view(Path path) const {
    for (Curve& c : path)
      for (Point* p : {&c.p0, &c.p1, &c.p2, &c.p3}) p->x = side_x(s_, p->x);
    return path;
  }
  double middle(double height) const { return 0.5 * (front_.at(height) + back_.at(height)); }

  void draw_side() const {
    const Levels& l = d_.out.levels;
    const Path before = in_side_view(front_.run(l.waist, l.hem));
    const Path behind = in_side_view(back_.run(l.hem, l.waist));
    Path cloth = before;
    join(cloth, behind);
    line_to(cloth, cloth.front().p0);
    d_.out.view(View::side).cloth.push_back(cloth);
    d_.draw(View::side, LineKind::edge, before);
    d_.draw(View::side, LineKind::edge, behind);
    d_.draw(View::side, LineKind::edge, {geometry::straight(before.back().p3, behind.front().p0)});
    d_.draw(View::side, LineKind::seam, {geometry::straight<double>({0, l.waist}, {0, l.hem})});
    if (d_.frame.wrapped) {
      draw_edge_from_side([this](double h) { return upper_edge(h); });
      draw_edge_from_side([this](double h) { return under_edge(h); }, parting());
    }
    if (!d_.out.parts.bodice) draw_top(View::side, before.front().p0.x, behind.back().p3.x);
  }

  /// A free edge from the wearer's left, as far as it lies on that side, from `from` down.
  template <typename Edge>
  void draw_edge_from_side(const Edge& edge, double from = 1e9) const {
    const Levels& l = d_.out.levels;
    std::vector<Point> points;
    for (const double h : steps(l.waist, l.hem)) {
      const double x = edge(h);
      if (x < 0 || h > from) continue;
      points.push_back({side_x(s_, middle(h) + cloth(h).depth(x)), h});
    }
    if (points.size() > 1) d_.draw(View::side, LineKind::edge, through(points));
  }

  void draw_gathers_below() const {
    if (!d_.frame.elastic_waist) return;
    const double waist = s_.at.waist, half = side_.at(waist);
    const double length =
        -0.35 * std::min(s_.at.waist - s_.at.hip, s_.at.waist - d_.out.levels.hem);
    draw_gathers(d_, View::front, -half, half, waist, length);
    draw_gathers(d_, View::back, -half, half, waist, length);
    draw_gathers(
        d_, View::side, side_x(s_, front_.at(waist)), side_x(s_, back_.at(waist)), waist, length);
  }

  const Dressing& d_;
  const Silhouette& s_;
  Course side_, front_, back_;
};

Path band(double left, double right, double middle, double width) {
  const Point a{left, middle + 0.5 * width}, b{right, a.y}, c{right, middle - 0.5 * width},
      e{left, c.y};
  Path path{geometry::straight(a, b)};
  line_to(path, b);
  path.pop_back();
  line_to(path, c);
  line_to(path, e);
  line_to(path, a);
  return path;
}

/// A loop of the bow: a drop that hangs a little.
Path loop(const Point& knot, double side, double length, double width) {
  const Point tip{knot.x + side * 0.9 * length, knot.y - 0.35 * length};
  const Point up{0.25 * width, 0.9 * width};
  return {Curve{knot, {knot.x + side * 0.3 * length, knot.y + up.y}, {tip.x, tip.y + up.y}, tip},
          Curve{tip,
                {tip.x, tip.y - 0.6 * width},
                {knot.x + side * 0.35 * length, knot.y - 0.6 * width},
                knot}};
}

/// One end, hanging plumb, cut slanting.
Path tail(const Point& knot, double lean, double length, double width) {
  const Point end{knot.x + lean, knot.y - length};
  Path path{geometry::straight<double>({knot.x - 0.25 * width, knot.y},
                                       {end.x - 0.5 * width, end.y + 0.3 * width})};
  line_to(path, {end.x + 0.5 * width, end.y});
  line_to(path, {knot.x + 0.25 * width, knot.y});
  line_to(path, {knot.x - 0.25 * width, knot.y});
  return path;
}

}  // namespace

void dress_skirt(const Dressing& d) { SkirtOnBody(d).draw(); }

void dress_belt(const Dressing& d) {
  const double width = d.value(V::belt_width);
  if (d.value(V::belt_length) < 1 || width < 0.2) return;
  const Silhouette& s = d.body();
  const double waist = s.at.waist;
  const double half = std::max(d.out.anchors.side_waist.x, s.half_width.at(waist)) + 0.4;
  const double before = side_x(s, s.front.at(waist)) - 0.6,
               behind = side_x(s, s.back.at(waist)) + 0.6;
  const auto add = [&d](View view, const Path& path) {
    d.out.view(view).belt.push_back(path);
    d.draw(view, LineKind::belt, path);
  };
  add(View::front, band(-half, half, waist, width));
  add(View::back, band(-half, half, waist, width));
  add(View::side, band(before, behind, waist, width));
  // A bow takes 57 with loops of 12 (skirt.h); the rest hangs in two ends.
  const double hanging = 0.5 * (d.measure(M::belt_over_waist) - 57);
  if (hanging < 3) return;
  const Point knot{-0.35 * half, waist};
  const double most = waist - 1;
  d.out.levels.belt_end = waist - std::min(hanging, most);
  d.out.anchors.belt_end = {knot.x - 1.2, d.out.levels.belt_end};
  for (const double side : {-1.0, 1.0}) {
    add(View::front, tail(knot, 1.2 * side, std::min(hanging, most), 0.85 * width));
  }
  for (const double side : {-1.0, 1.0}) add(View::front, loop(knot, side, 10, 0.9 * width));
  add(View::front, band(knot.x - 0.45 * width, knot.x + 0.45 * width, waist, 1.1 * width));
}

}  // namespace easewright::figure
