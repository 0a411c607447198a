#include "model/pattern/slip.h"

#include "model/pattern/slip_steps.h"
#include "solver/problem.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace easewright {
namespace slips {
namespace {

/// 'bodice front: side seam' is the seam of a piece.
double seam_length(const std::vector<Piece>& pieces, const std::string& title) {
  const size_t colon = title.find(": ");
  for (const Piece& p : pieces)
    if (p.name == title.substr(0, colon)) return p.seam_length(title.substr(colon + 2));
  return 0;
}

}  // namespace

const Piece* Sheet::piece(const std::string& name) const {
  const auto at =
      std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) { return p.name == name; });
  return at == pieces.end() ? nullptr : &*at;
}

Turning Sheet::turning() const {
  if (!frame.lined) return Turning::none;
  const bool halves = centre_back_seam();
  if ((*this)[halves ? MeasureKey::strap_turns_half : MeasureKey::strap_turns] < 0)
    return Turning::straps_closed_last;
  return halves ? Turning::half_backs : Turning::whole_back;
}

Mates Sheet::mates(const std::string& first, const std::string& second) const {
  for (const SeamPair& pair : pairs) {
    const SeamPair read = as_read(pair, unit);
    if (pair.first == first && pair.second == second)
      return {read.first_length, read.second_length, read.eased};
    if (pair.first == second && pair.second == first)
      return {read.second_length, read.first_length, -read.eased};
  }
  const double a = seam_length(pieces, first), b = seam_length(pieces, second);
  return {a, b, a - b};
}

std::optional<double> Sheet::notch(const std::string& name, const std::string& mate) const {
  const Piece* on = piece(name);
  if (!on) return std::nullopt;
  for (const Notch& n : on->notches)
    if (n.mate == mate) return n.along;
  return std::nullopt;
}

double least_asked(const FitResult& result, MeasureKey key) {
  double least = 0;
  for (const Finding& f : result.findings) {
    if (!f.rule || f.strength != solver::Level::must || !std::isfinite(f.lo)) continue;
    const std::vector<Name> names = f.rule->range.expression.names();
    const auto is_it = [key](const Name& n) {
      return n.kind == NameKind::measure && n.index == static_cast<int>(key);
    };
    if (names.empty() || !is_it(names.front()) || !(f.value > 0)) continue;
    // Of a knit the rule counts a share of its stretch: what is asked of the cloth as it lies is
    // less.
    least = std::max(least, f.lo * result.measures[key] / f.value);
  }
  return least;
}

}  // namespace slips

const SlipStep* Slip::step(const std::string& title) const {
  const auto at =
      std::find_if(steps.begin(), steps.end(), [&](const SlipStep& s) { return s.title == title; });
  return at == steps.end() ? nullptr : &*at;
}

const SlipFigure* Slip::figure(const std::string& figure) const {
  for (const SlipStep& step : steps)
    for (const SlipLine& line : step.lines)
      for (const SlipFigure& f : line.figures)
        if (f.of == figure) return &f;
  return nullptr;
}

Slip slip_of(const FitResult& result, const std::vector<Piece>& pieces, LengthUnit unit) {
  using namespace slips;
  const Sheet s{result, result.posed->frame, pieces, seam_pairs(pieces), unit};
  Slip slip;
  for (const auto step : {cut,
                          stay,
                          dart,
                          straps,
                          neck,
                          armholes,
                          turn,
                          centre_back,
                          sides,
                          hang,
                          hem,
                          overlap,
                          waist,
                          casing,
                          elastic,
                          opening,
                          belt,
                          care}) {
    SlipStep made = step(s);
    if (!made.lines.empty()) slip.steps.push_back(std::move(made));
  }
  return slip;
}

}  // namespace easewright
