#pragma once
// What dressed.cc and dressed_skirt.cc share.

#include "model/figure/dressed.h"

namespace easewright::figure {

/// Cloth lies so far off the skin at least, so that both lines can be seen.
inline constexpr double kOffSkin = 0.25;
/// Share of gathered cloth that stands off.
inline constexpr double kGatheredOff = 0.5;

struct Dressing {
  const Frame& frame;
  const Values<double>& v;
  const Bodice<double>& bodice;
  const Measures<double>& m;
  Dressed& out;

  const Silhouette& body() const { return out.body; }
  double value(ValueKey key) const { return v[key]; }
  double measure(MeasureKey key) const { return m[key]; }
  void draw(View view, LineKind kind, Path path) const {
    if (!path.empty()) out.view(view).lines.push_back({kind, std::move(path)});
  }
  void draw_both(View view, LineKind kind, const Path& right) const {
    draw(view, kind, mirrored(right));
    draw(view, kind, right);
  }
};

/// How much wider the cloth is than the body under it; 1 where it is stretched.
double stand_off(double cloth_girth, double body_girth);

/// Gathers at the waist, `up` for the bodice's: of this half width there, this long at most.
void draw_gathers(
    const Dressing& d, View view, double left, double right, double height, double length);

void dress_bodice(const Dressing& d);
void dress_skirt(const Dressing& d);
void dress_belt(const Dressing& d);

}  // namespace easewright::figure
