#include "model/pattern/nesting/clip.h"

#include <clipper.hpp>

namespace easewright::nesting {
namespace {

ClipperLib::Path path_of(const GridPolygon& polygon) {
  ClipperLib::Path path;
  path.reserve(polygon.size());
  for (const GridPoint& p : polygon) path.emplace_back(p.x, p.y);
  return path;
}

GridPolygon polygon_of(const ClipperLib::Path& path) {
  GridPolygon polygon;
  polygon.reserve(path.size());
  for (const ClipperLib::IntPoint& p : path) polygon.push_back({p.X, p.Y});
  return polygon;
}

std::vector<GridPolygon> polygons_of(const ClipperLib::Paths& paths) {
  std::vector<GridPolygon> polygons;
  polygons.reserve(paths.size());
  for (const auto& path : paths) polygons.push_back(polygon_of(path));
  return polygons;
}

std::vector<GridPolygon> outer_of(const ClipperLib::Paths& paths) {
  std::vector<GridPolygon> polygons;
  for (const auto& path : paths) {
    if (ClipperLib::Orientation(path)) polygons.push_back(polygon_of(path));
  }
  return polygons;
}

ClipperLib::Paths union_of(const std::vector<GridPolygon>& polygons,
                           ClipperLib::PolyFillType fill) {
  ClipperLib::Clipper clipper;
  for (const auto& polygon : polygons) {
    clipper.AddPath(path_of(polygon), ClipperLib::ptSubject, true);
  }
  ClipperLib::Paths out;
  clipper.Execute(ClipperLib::ctUnion, out, fill, fill);
  return out;
}

}  // namespace

std::vector<GridPolygon> wound_round(const std::vector<GridPolygon>& curves) {
  return polygons_of(union_of(curves, ClipperLib::pftPositive));
}

std::vector<GridPolygon> outer_boundaries(const std::vector<GridPolygon>& polygons) {
  return outer_of(union_of(polygons, ClipperLib::pftNonZero));
}

std::vector<GridPolygon> offset_boundaries(const GridPolygon& polygon, double units) {
  // A mitre of twice the offset keeps every corner down to 60 degrees whole; sharper ones are
  // squared off outside the round offset.
  ClipperLib::ClipperOffset offset(2.0);
  offset.AddPath(path_of(polygon), ClipperLib::jtMiter, ClipperLib::etClosedPolygon);
  ClipperLib::Paths out;
  offset.Execute(out, units);
  return outer_of(out);
}

std::vector<GridPolygon> intersection_boundaries(const GridPolygon& a, const GridPolygon& b) {
  ClipperLib::Clipper clipper;
  clipper.AddPath(path_of(a), ClipperLib::ptSubject, true);
  clipper.AddPath(path_of(b), ClipperLib::ptClip, true);
  ClipperLib::Paths out;
  clipper.Execute(ClipperLib::ctIntersection, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  return polygons_of(out);
}

}  // namespace easewright::nesting
