#include "cli/write/cut_words.h"

#include "cli/write/quantity.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

struct Extent {
  Vec2<double> least, most;

  double width() const { return most.x - least.x; }
  double height() const { return most.y - least.y; }
};

Extent extent_of(const std::vector<Vec2<double>>& outline) {
  Extent e{outline.front(), outline.front()};
  for (const auto& p : outline) {
    e.least = {std::min(e.least.x, p.x), std::min(e.least.y, p.y)};
    e.most = {std::max(e.most.x, p.x), std::max(e.most.y, p.y)};
  }
  return e;
}

std::pair<std::string, std::string> split(const std::string& title) {
  const size_t colon = title.find(": ");
  return colon == std::string::npos ? std::pair{title, std::string()}
                                    : std::pair{title.substr(0, colon), title.substr(colon + 2)};
}

std::string read(double cm, LengthUnit unit) { return write_quantity(cm, kLength, {unit}); }

std::string metres(double cm) { return fmt::format("{:.2f} m", cm / 100); }

}  // namespace

std::string count_words(const Piece& piece) {
  std::string text = std::to_string(piece.count);
  if (piece.on_fold) text += " on the fold";
  if (piece.mirrored) text += ", left and right";
  return text;
}

std::string material_words(CutOf cut_of) {
  static constexpr std::array<const char*, 4> kOf = {"cloth", "lining", "elastic", "stay tape"};
  return kOf[static_cast<size_t>(cut_of)];
}

std::string cut_words(const Piece& piece, LengthUnit unit) {
  std::string text = fmt::format("{} {}: {}", piece.number, piece.name, count_words(piece));
  const std::string material = material_words(piece.cut_of);
  if (material != piece.name) text += ", " + material;
  return is_strip(piece) ? text + ", " + strip_words(piece, unit) : text;
}

std::string strip_words(const Piece& strip, LengthUnit unit) {
  const Extent cut = extent_of(strip.cut), sew = extent_of(strip.sew());
  std::string text = fmt::format("{} by {}", read(cut.width(), unit), read(cut.height(), unit));
  if (cut.width() - sew.width() > 0.01)
    text += fmt::format(", between its sew lines {}", read(sew.width(), unit));
  for (const Notch& notch : strip.notches) {
    const PieceEdge& edge = strip.edges[static_cast<size_t>(notch.edge)];
    const double before = edge.line.front().x - cut.least.x;
    text += fmt::format("; mark at {}: {}", read(before + notch.along, unit), notch.mate);
  }
  for (const PieceMark& mark : strip.marks) text += "; " + mark.label;
  return text;
}

bool is_strip(const Piece& piece) {
  if (piece.edges.size() != 4 || piece.cut.size() != 4) return false;
  const Extent box = extent_of(piece.sew());
  const bool straight = std::all_of(piece.edges.begin(), piece.edges.end(), [](const PieceEdge& e) {
    const Vec2<double> run = e.line.back() - e.line.front();
    return e.line.size() == 2 && (std::abs(run.x) < 1e-9 || std::abs(run.y) < 1e-9);
  });
  return straight && box.width() >= 2 * box.height();
}

std::string to_buy_words(const ToBuy& to_buy) {
  const auto eighths = std::lround(8 * to_buy.yards);
  static constexpr std::array<const char*, 8> kParts = {
      "", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"};
  std::string yards = eighths >= 8 || eighths % 8 == 0 ? std::to_string(eighths / 8) : "";
  if (eighths % 8 != 0)
    yards += (yards.empty() ? "" : " ") + std::string(kParts[static_cast<size_t>(eighths % 8)]);
  return fmt::format("{:.1f} m ({} yd)", to_buy.metres, yards);
}

std::string lay_words(const CuttingPlan& plan, LengthUnit unit) {
  std::string text = read(plan.bought_width, unit) + " wide";
  if (plan.bought_width - plan.cloth.width > 0.05)
    text += fmt::format(" ({} once washed)", read(plan.cloth.width, unit));
  text += plan.cloth.layering == Layering::folded ? ", folded right sides together"
                                                  : ", in a single layer";
  if (plan.cloth.nap) text += ", all one way";
  if (plan.cloth.repeat > 0)
    text += fmt::format(", its print matched every {}", read(plan.cloth.repeat, unit));
  return text;
}

std::string buy_words(const CuttingPlan& plan) { return "buy " + to_buy_words(plan.to_buy); }

std::string filled_words(const CuttingPlan& plan) {
  return fmt::format(
      "pieces fill {:.0f} % of {}; by area, width and the longest piece it takes {} at least",
      100 * plan.plan.filled,
      metres(plan.plan.length),
      metres(plan.plan.bound));
}

PairWords pair_words(const SeamPair& pair, LengthUnit unit) {
  const SeamPair rounded = as_read(pair, unit);
  const auto [first, seam] = split(pair.first);
  const auto [second, other_seam] = split(pair.second);
  const Notation notation{unit};
  PairWords words;
  if (seam != other_seam) {
    words.seam = fmt::format("{}: {} to {}", first, seam, other_seam);
  } else {
    words.seam = first == second ? fmt::format("{}: {}", seam, first)
                                 : fmt::format("{}: {} to {}", seam, first, second);
  }
  if (std::abs(rounded.first_length - rounded.second_length) < 1e-9) {
    words.lengths = read(rounded.first_length, unit) + ", equal";
  } else if (std::abs(rounded.eased) < 1e-9) {
    words.lengths = fmt::format("{} to {}",
                                write_number(rounded.first_length, kLength, notation),
                                read(rounded.second_length, unit));
  } else {
    words.lengths = fmt::format("{} to {}, {} eased in",
                                write_number(rounded.first_length, kLength, notation),
                                read(rounded.second_length, unit),
                                write_number(std::abs(rounded.eased), kLength, notation));
  }
  if (std::abs(pair.off) > kTrued)
    words.lengths += fmt::format("; OFF by {}", write_amount(pair.off, kLength, {unit}));
  return words;
}

}  // namespace easewright
