#pragma once
// A drawing surface in cm, y up: strokes, areas and words, kept in the order in which they are
// drawn, later ones on top. It knows no file format: pdf.h and svg.h write pages of canvases.
//
//   Canvas skirt;
//   skirt.begin("skirt back");
//   skirt.outline(piece.cut, {.width = 0.05});
//   skirt.text({10, 20}, "4 skirt back", {.size = 0.9, .weight = Weight::bold});
//   const std::string svg = svg_of(whole(skirt, 1), {.title = "skirt"});

#include "model/geometry/vec2.h"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace easewright::draw {

using Point = geometry::Vec2<double>;
using Line = std::vector<Point>;

/// Red, green and blue, 0 to 1. Black and greys carry every meaning; a tint is never the only
/// carrier.
struct Tint {
  double red = 0, green = 0, blue = 0;
  friend bool operator==(const Tint&, const Tint&) = default;
};
inline constexpr Tint kBlack{}, kWhite{1, 1, 1};
constexpr Tint grey(double light) { return {light, light, light}; }

enum class Ends { butt, round };

struct Pen {
  double width = 0.03;            ///< cm
  std::vector<double> dash = {};  ///< on, off, on, off, ... in cm; empty: solid
  Tint tint = kBlack;
  Ends ends = Ends::butt;
};

enum class Weight { regular, bold };
enum class Anchor { start, middle, end };
/// White ground keeps words readable across lines.
enum class Ground { clear, white };

struct Lettering {
  double size = 0.42;  ///< em, cm; capitals are 0.73 of it. 0.42 is 12 points: read at arm's length
  Weight weight = Weight::regular;
  Anchor anchor = Anchor::start;
  double turn = 0;  ///< about the anchor, rad, counter-clockwise
  Ground ground = Ground::clear;
  Tint tint = kBlack;
};

struct Box {
  Point least{0, 0}, most{0, 0};

  double width() const { return most.x - least.x; }
  double height() const { return most.y - least.y; }
  /// Whether they share more than an edge.
  bool meets(const Box& other) const;
  Box grown(double by) const;
  Box moved(const Point& by) const;
};
/// The box around both.
Box around(const Box& a, const Box& b);
Box box_of(const Line& line);

/// A polyline; closed: its end joins its beginning.
struct Stroke {
  Line line;
  bool closed = false;
  Pen pen;
};
struct Area {
  Line outline;
  Tint tint;
};
/// One line of text, its baseline through `at`.
struct Words {
  Point at;
  std::string text;
  Lettering lettering;
};

struct Mark {
  std::variant<Stroke, Area, Words> what;
  int group = -1;  ///< place in the canvas's groups; -1: none
  Box bounds;      ///< ink included
};

/// How one canvas comes to lie on another: scaled, turned, then moved. Pens and letters keep their
/// size; words turn along.
struct Lay {
  double scale = 1;
  double turn = 0;  ///< rad, counter-clockwise
  Point at{0, 0};

  Point of(const Point& p) const;
};

class Canvas {
 public:
  /// What follows belongs together under this title, until the next one; empty: to nothing.
  void begin(const std::string& title);

  void line(Line line, const Pen& pen = {});
  void outline(Line line, const Pen& pen = {});
  void fill(Line outline, const Tint& tint);
  void dot(const Point& at, double radius, const Tint& tint = kBlack);
  void ring(const Point& at, double radius, const Pen& pen = {});
  /// Text of no letter draws nothing. Bytes that are not UTF-8 and control characters become '?'.
  void text(const Point& at, std::string_view text, const Lettering& lettering = {});
  /// The other canvas's marks, with its groups.
  void add(const Canvas& other, const Lay& lay = {});

  const std::vector<Mark>& marks() const { return marks_; }
  const std::vector<std::string>& groups() const { return groups_; }
  /// Around all ink; nothing where there is none.
  std::optional<Box> bounds() const;

 private:
  void keep(std::variant<Stroke, Area, Words> what, const Box& bounds);

  std::vector<Mark> marks_;
  std::vector<std::string> groups_;
  int group_ = -1;
};

/// A circle, or the arc from one angle to another, as chords that part from it by 0.0005 at most.
Line circle(const Point& centre, double radius);
Line arc(const Point& centre, double radius, double from, double to);
Line rectangle(const Box& box);

/// What lies on a page, at a place of it; where a window is given, only what shows in it. The
/// canvas must outlive the page.
struct OnPage {
  const Canvas* canvas = nullptr;
  Point at{0, 0};                  ///< added to the canvas's points
  std::optional<Box> window = {};  ///< on the page
};

/// A page, its origin at the lower left corner. Width and height are exact.
struct Page {
  double width = 21, height = 29.7;  ///< cm
  std::vector<OnPage> content;
};

/// A page just as large as the canvas's ink and a margin.
Page whole(const Canvas& canvas, double margin);

/// What a file says of itself.
struct About {
  std::string title;
  std::string description = {};  ///< read out where a drawing can't be seen
};

}  // namespace easewright::draw
