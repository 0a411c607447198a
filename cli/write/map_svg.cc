#include "cli/write/map_svg.h"

#include "cli/write/quantity.h"
#include "cli/write/report.h"
#include "cli/write/words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace easewright {
namespace {

// The page, in its own units.
constexpr double kWidth = 640, kSide = 480, kLeft = 96, kTop = 76, kBelow = 74, kLine = 24,
                 kFoot = 16;
/// Two letters nearer than this would cover each other.
constexpr double kLetterRoom = 21;
/// A region of fewer cells gets no letter: it would not fit.
constexpr size_t kLetteredCells = 6;
/// Legend lines are wrapped at so many characters.
constexpr size_t kLegendColumns = 74;

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else if (static_cast<unsigned char>(c) >= 0x20)
      out += c;
  }
  return out;
}

/// The hatch of the i-th rule: eight kinds, then the same again closer together. A must has heavier
/// lines.
std::string hatch(size_t i, bool must) {
  struct Kind {
    const char* drawing;  ///< of a tile of 10 by 10
    int turn;
  };
  constexpr std::array<Kind, 8> kKinds = {{
      {"<path d=\"M0 5H10\"/>", 45},
      {"<path d=\"M0 5H10\"/>", -45},
      {"<circle cx=\"5\" cy=\"5\" r=\"0.6\"/>", 0},
      {"<path d=\"M0 5H10\"/>", 0},
      {"<path d=\"M0 5H10\"/>", 90},
      {"<path d=\"M0 5H10M5 0V10\"/>", 0},
      {"<path d=\"M0 5H10M5 0V10\"/>", 45},
      {"<path d=\"M0 2.5H5M5 7.5H10\"/>", 0},
  }};
  const Kind& kind = kKinds[i % kKinds.size()];
  return fmt::format(
      "<pattern id=\"hatch{}\" width=\"10\" height=\"10\" patternUnits=\"userSpaceOnUse\" "
      "patternTransform=\"rotate({}) scale({})\" stroke=\"#000\" "
      "stroke-width=\"{}\">{}</pattern>\n",
      i,
      kind.turn,
      i % (2 * kKinds.size()) < kKinds.size() ? 1 : 0.5,
      must ? 1.7 : 0.8,
      kind.drawing);
}

/// The letters of all cells, row 0 at the bottom.
struct Grid {
  int across = 0, up = 0;
  std::vector<char> letters;
  char at(int column, int row) const {
    const bool inside = column >= 0 && row >= 0 && column < across && row < up;
    return inside ? letters[static_cast<size_t>(row) * static_cast<size_t>(across) +
                            static_cast<size_t>(column)]
                  : ' ';
  }
  double cell_width() const { return kSide / across; }
  double cell_height() const { return kSide / up; }
  double x(double column) const { return kLeft + column * cell_width(); }
  double y(double row) const { return kTop + kSide - row * cell_height(); }
};

Grid grid_of(const ValueMap& map, const MapKey& key) {
  Grid grid{map.map.across, map.map.down, {}};
  for (const solver::Cell& cell : map.map.cells) grid.letters.push_back(key.letter_of(map, cell));
  return grid;
}

/// One rectangle for each run of equal cells in a row.
std::string fills(const Grid& grid, const MapKey& key) {
  std::string text;
  for (int row = 0; row < grid.up; ++row) {
    for (int column = 0; column < grid.across;) {
      const char letter = grid.at(column, row);
      int end = column;
      while (grid.at(end, row) == letter) ++end;
      const auto entry = std::find_if(key.entries.begin(),
                                      key.entries.end(),
                                      [letter](const auto& e) { return e.letter == letter; });
      const std::string fill = letter == '?' ? "#bbb"
                               : entry == key.entries.end()
                                   ? ""
                                   : fmt::format("url(#hatch{})", entry - key.entries.begin());
      if (!fill.empty()) {
        text += fmt::format(
            "<rect x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" height=\"{:.2f}\" fill=\"{}\"/>\n",
            grid.x(column),
            grid.y(row + 1),
            (end - column) * grid.cell_width(),
            grid.cell_height(),
            fill);
      }
      column = end;
    }
  }
  return text;
}

/// Lines between cells that differ; heavier around what holds.
std::string borders(const Grid& grid) {
  std::string thin, heavy;
  const auto add = [&](char a, char b, const std::string& line) {
    if (a != b) (a == '.' || b == '.' ? heavy : thin) += line;
  };
  for (int row = 0; row < grid.up; ++row) {
    for (int column = 0; column < grid.across; ++column) {
      const char here = grid.at(column, row);
      if (column + 1 < grid.across) {
        add(here,
            grid.at(column + 1, row),
            fmt::format("M{:.2f} {:.2f}V{:.2f}", grid.x(column + 1), grid.y(row), grid.y(row + 1)));
      }
      if (row + 1 < grid.up) {
        add(here,
            grid.at(column, row + 1),
            fmt::format(
                "M{:.2f} {:.2f}H{:.2f}", grid.x(column), grid.y(row + 1), grid.x(column + 1)));
      }
    }
  }
  std::string text;
  if (!thin.empty())
    text +=
        fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.8\"/>\n", thin);
  if (!heavy.empty())
    text += fmt::format(
        "<path d=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"2.2\" "
        "stroke-linecap=\"square\"/>\n",
        heavy);
  return text;
}

/// How many cells of the same letter lie between a cell and the nearest other one.
int depth_of(const Grid& grid, int column, int row) {
  const char letter = grid.at(column, row);
  for (int depth = 1;; ++depth) {
    for (int k = -depth; k <= depth; ++k) {
      for (const auto& [c, r] : {std::pair(column + k, row - depth),
                                 std::pair(column + k, row + depth),
                                 std::pair(column - depth, row + k),
                                 std::pair(column + depth, row + k)}) {
        if (grid.at(c, r) != letter) return depth;
      }
    }
  }
}

std::string letter_at(double x, double y, char letter) {
  return fmt::format(
      "<circle cx=\"{0:.2f}\" cy=\"{1:.2f}\" r=\"9.5\" fill=\"#fff\"/>"
      "<text x=\"{0:.2f}\" y=\"{2:.2f}\" text-anchor=\"middle\" font-size=\"14\" "
      "font-weight=\"bold\">{3}</text>\n",
      x,
      y,
      y + 5,
      letter);
}

struct Spot {
  int column = 0, row = 0;
};

/// The cell deepest inside a region; of equally deep ones, which a strip has, the one nearest its
/// centre. Cells too near a letter that stands already are taken only where there are no others.
Spot middle_of(const Grid& grid,
               const std::vector<size_t>& region,
               const std::vector<Spot>& taken) {
  const auto spot = [&grid](size_t cell) {
    return Spot{static_cast<int>(cell) % grid.across, static_cast<int>(cell) / grid.across};
  };
  double across = 0, up = 0;
  for (const size_t cell : region) {
    across += spot(cell).column;
    up += spot(cell).row;
  }
  const auto size = static_cast<double>(region.size());
  Spot best;
  int deepest = -1;
  double nearest = 0;
  for (const size_t cell : region) {
    const Spot here = spot(cell);
    const bool free = std::none_of(taken.begin(), taken.end(), [&](const Spot& other) {
      return std::hypot((other.column - here.column) * grid.cell_width(),
                        (other.row - here.row) * grid.cell_height()) < kLetterRoom;
    });
    const int depth = free ? depth_of(grid, here.column, here.row) : 0;
    const double away = std::hypot(here.column - across / size, here.row - up / size);
    if (depth < deepest || (depth == deepest && away >= nearest)) continue;
    best = here;
    deepest = depth;
    nearest = away;
  }
  return best;
}

/// A letter in the middle of every connected region.
std::string letters(const Grid& grid) {
  std::string text;
  std::vector<Spot> taken;
  std::vector<bool> seen(grid.letters.size(), false);
  for (size_t start = 0; start < seen.size(); ++start) {
    if (seen[start]) continue;
    seen[start] = true;
    std::vector<size_t> region = {start};
    for (size_t k = 0; k < region.size(); ++k) {
      const int column = static_cast<int>(region[k]) % grid.across,
                row = static_cast<int>(region[k]) / grid.across;
      for (const auto& [c, r] : {std::pair(column + 1, row),
                                 std::pair(column - 1, row),
                                 std::pair(column, row + 1),
                                 std::pair(column, row - 1)}) {
        if (grid.at(c, r) != grid.letters[start]) continue;
        const size_t next =
            static_cast<size_t>(r) * static_cast<size_t>(grid.across) + static_cast<size_t>(c);
        if (!seen[next]) region.push_back(next);
        seen[next] = true;
      }
    }
    if (grid.letters[start] == '.' || region.size() < kLetteredCells) continue;
    const Spot spot = middle_of(grid, region, taken);
    taken.push_back(spot);
    text += letter_at(grid.x(spot.column + 0.5), grid.y(spot.row + 0.5), grid.letters[start]);
  }
  return text;
}

/// A tape's marks: short ones at every step, long ones with a figure at every fifth, or at every
/// second or tenth step.
struct Marks {
  double step = 1;  ///< in the shown unit
  int labelled = 5;
};

Marks marks_for(double span, bool inches) {
  const auto few = [span](const Marks& marks) { return span / (marks.step * marks.labelled) <= 8; };
  if (inches) {
    for (const Marks marks : {Marks{0.125, 4}, Marks{0.125, 8}, Marks{0.25, 8}, Marks{0.5, 10}}) {
      if (few(marks)) return marks;
    }
  }
  for (double unit = 0.1;; unit *= 10) {
    for (const Marks marks : {Marks{0.1 * unit, 5}, Marks{0.1 * unit, 10}, Marks{0.5 * unit, 4}}) {
      if (few(marks)) return marks;
    }
  }
}

/// The amount in the unit that the axis is written in.
double shown(double value, Dimension d, LengthUnit unit) {
  if (d == kAngle) return degrees(value);
  return d == kLength && unit == LengthUnit::inch ? value / kCmPerInch : value;
}

std::string ruler(const MapAxis& axis, int count, LengthUnit unit, const Grid& grid, bool level) {
  const Dimension d = info(axis.value).dimension;
  const double from = shown(axis.from, d, unit), to = shown(axis.to, d, unit);
  const Marks marks = marks_for(to - from, d == kLength && unit == LengthUnit::inch);
  std::string ticks, figures;
  for (auto k = static_cast<long>(std::ceil(from / marks.step - 1e-9));
       static_cast<double>(k) * marks.step <= to + 1e-9 * marks.step;
       ++k) {
    const double value = static_cast<double>(k) * marks.step;
    const double place = (value - from) / (to - from) * (count - 1) + 0.5;
    const bool told = k % marks.labelled == 0;
    const double length = told ? 12 : 6;
    const std::string figure = fmt::format("{:g}", std::round(value * 1e6) / 1e6);
    if (level) {
      ticks += fmt::format("M{:.2f} {:.2f}v{:g}", grid.x(place), kTop + kSide, length);
      if (told)
        figures += fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" text-anchor=\"middle\">{}</text>\n",
                               grid.x(place),
                               kTop + kSide + 27,
                               figure);
    } else {
      ticks += fmt::format("M{:.2f} {:.2f}h{:g}", kLeft, grid.y(place), -length);
      if (told)
        figures += fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" text-anchor=\"end\">{}</text>\n",
                               kLeft - 16,
                               grid.y(place) + 4.5,
                               figure);
    }
  }
  return fmt::format("<path d=\"{}\" stroke=\"#000\" stroke-width=\"1\"/>\n", ticks) + figures;
}

std::string here_mark(const ValueMap& map, const FitResult& result, const Grid& grid) {
  const double across = along(map.across, result), up = along(map.down, result);
  if (across < 0 || across > 1 || up < 0 || up > 1) return "";
  const double x = grid.x(across * (grid.across - 1) + 0.5), y = grid.y(up * (grid.up - 1) + 0.5);
  return fmt::format(
      "<circle cx=\"{0:.2f}\" cy=\"{1:.2f}\" r=\"7\" fill=\"#fff\" stroke=\"#000\" "
      "stroke-width=\"2\"/>"
      "<circle cx=\"{0:.2f}\" cy=\"{1:.2f}\" r=\"2.2\"/>\n",
      x,
      y);
}

/// `text` in lines of at most kLegendColumns, broken at blanks.
std::vector<std::string> wrapped(const std::string& text) {
  std::vector<std::string> lines = {""};
  for (size_t at = 0; at < text.size();) {
    const size_t end = std::min(text.find(' ', at), text.size());
    const std::string word = text.substr(at, end - at);
    if (!lines.back().empty() && columns(lines.back()) + 1 + columns(word) > kLegendColumns)
      lines.emplace_back();
    lines.back() += (lines.back().empty() ? "" : " ") + word;
    at = end + 1;
  }
  return lines;
}

/// The swatches and what they mean, from `y` down; moves `y` on.
class Legend {
 public:
  explicit Legend(double y) : y_(y) {}

  void add(const std::string& swatch_fill, const std::string& mark, const std::string& text) {
    text_ += fmt::format(
        "<rect x=\"{0:g}\" y=\"{1:.1f}\" width=\"44\" height=\"18\" fill=\"{2}\" stroke=\"#000\" "
        "stroke-width=\"0.8\"/>\n",
        kLeft,
        y_,
        swatch_fill);
    text_ += mark;
    for (const std::string& line : wrapped(text)) {
      text_ += fmt::format(
          "<text x=\"{:g}\" y=\"{:.1f}\">{}</text>\n", kLeft + 56, y_ + 14, escaped(line));
      y_ += kLine;
    }
  }
  double middle() const { return y_ + 9; }
  double bottom() const { return y_; }
  const std::string& text() const { return text_; }

 private:
  double y_;
  std::string text_;
};

Legend legend_of(const Judged& judged, const ValueMap& map, const MapKey& key) {
  Legend legend(kTop + kSide + kBelow);
  const LengthUnit unit = judged.job->unit;
  const FitResult& result = judged.result;
  const auto now = [&](const MapAxis& axis) {
    return spoken(info(axis.value).id) + " " +
           write_quantity(result.values[axis.value], info(axis.value).dimension, {unit});
  };
  const std::string mark = fmt::format(
      "<circle cx=\"{0:g}\" cy=\"{1:.1f}\" r=\"6\" fill=\"#fff\" stroke=\"#000\" "
      "stroke-width=\"2\"/>"
      "<circle cx=\"{0:g}\" cy=\"{1:.1f}\" r=\"2\"/>\n",
      kLeft + 22,
      legend.middle());
  legend.add("#fff", mark, "the fit: " + now(map.across) + ", " + now(map.down));
  legend.add("#fff", "", "white: all holds");
  for (size_t i = 0; i < key.entries.size(); ++i) {
    const MapKey::Entry& entry = key.entries[i];
    const PosedRule* rule =
        entry.rule < 0 ? nullptr : &result.posed->rules[static_cast<size_t>(entry.rule)];
    const std::string text =
        rule == nullptr ? "other rules missed"
                        : fmt::format("{} missed: {}", to_string(rule->strength), rule->name);
    legend.add(fmt::format("url(#hatch{})", i),
               letter_at(kLeft + 22, legend.middle(), entry.letter),
               text);
  }
  if (key.unreached > 0) legend.add("#bbb", "", "can't be computed there");
  return legend;
}

}  // namespace

std::string write_map_svg(const Judged& judged, const ValueMap& map, const MapKey& key) {
  const LengthUnit unit = judged.job->unit;
  const Grid grid = grid_of(map, key);
  const Legend legend = legend_of(judged, map, key);
  const double height = legend.bottom() + kFoot;
  std::string text = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:g} {1:g}\" width=\"{0:g}\" "
      "height=\"{1:g}\" "
      "font-family=\"sans-serif\" font-size=\"13\">\n",
      kWidth,
      height);
  text += fmt::format("<title>{}</title>\n<defs>\n", escaped(title_of(judged)));
  for (size_t i = 0; i < key.entries.size(); ++i)
    text += hatch(i, key.entries[i].letter >= 'A' && key.entries[i].letter <= 'Z');
  text += fmt::format(
      "</defs>\n<rect width=\"{:g}\" height=\"{:g}\" fill=\"#fff\"/>\n", kWidth, height);
  text += fmt::format("<text x=\"{:g}\" y=\"28\" font-size=\"17\" font-weight=\"bold\">{}</text>\n",
                      kLeft,
                      escaped(judged.job->label));
  text += fmt::format("<text x=\"{:g}\" y=\"50\">what goes with what; {}, {}</text>\n",
                      kLeft,
                      escaped(judged.job->style.label),
                      escaped(judged.job->cloth.label));
  text += fills(grid, key) + borders(grid);
  text += fmt::format(
      "<rect x=\"{0:g}\" y=\"{1:g}\" width=\"{2:g}\" height=\"{2:g}\" fill=\"none\" "
      "stroke=\"#000\" stroke-width=\"1.2\"/>\n",
      kLeft,
      kTop,
      kSide);
  text += ruler(map.across, grid.across, unit, grid, true) +
          ruler(map.down, grid.up, unit, grid, false);
  text += fmt::format(
      "<text x=\"{:g}\" y=\"{:g}\" text-anchor=\"middle\" font-weight=\"bold\">{}</text>\n",
      kLeft + kSide / 2,
      kTop + kSide + 50,
      escaped(axis_name(map.across, unit)));
  text += fmt::format(
      "<text transform=\"translate(26 {:g}) rotate(-90)\" text-anchor=\"middle\" "
      "font-weight=\"bold\">{}</text>\n",
      kTop + kSide / 2,
      escaped(axis_name(map.down, unit)));
  text += letters(grid) + here_mark(map, judged.result, grid) + legend.text();
  return text + "</svg>\n";
}

}  // namespace easewright
