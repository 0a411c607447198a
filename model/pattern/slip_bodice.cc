// Steps of the slip from cutting to the side seams.

#include "model/pattern/drafting.h"
#include "model/pattern/polyline.h"
#include "model/pattern/slip_steps.h"
#include "model/rounding.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

namespace easewright::slips {
namespace {

using drafting::kBodiceBack;
using drafting::kBodiceFront;
using drafting::kLiningBack;
using drafting::kLiningFront;
using drafting::kSkirtBack;
using drafting::kSkirtFront;

/// Less than this is not worth easing, cm.
constexpr double kFelt = 0.05;
/// Cloth that stretches by this much in the hand is a knit.
constexpr double kKnit = 0.15;
/// Bias tape that faces or binds an edge which no lining finishes, cm wide as cut: 0.8 sewn in, 0.6
/// turned under and 1.6 to show inside; or four times the 0.75 of a binding (common practice).
constexpr double kBiasTape = 3;
/// A ring of tape is joined with this at each end, cm (common practice).
constexpr double kTapeJoin = 1;
/// An armhole's front draws in less than this by itself, cm.
constexpr double kTold = 0.15;

std::string title(const char* piece, const char* seam) { return std::string(piece) + ": " + seam; }

std::string counted(int count, const char* what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

/// Names of the pieces of this cloth that are cut on the fold, or as a left and a right.
std::vector<std::string> names_of(const Sheet& s, CutOf cloth, bool on_fold) {
  std::vector<std::string> names;
  for (const Piece& p : s.pieces) {
    // 'lining front' is the front of the lining.
    if (p.cut_of == cloth && (on_fold ? p.on_fold : p.mirrored))
      names.push_back(p.name.starts_with("lining ") ? p.name.substr(7) : p.name);
  }
  return names;
}

/// A rectangle as it is cut, its allowances included.
double cut_length(const Piece& p) { return p.edges[0].length() + 2 * p.edges[1].allowance; }
double cut_width(const Piece& p) { return p.edges[1].length() + 2 * p.edges[0].allowance; }

void cut_pieces(StepWriter& step, const Sheet& s, CutOf cloth) {
  const bool lining = cloth == CutOf::lining;
  const auto folded = names_of(s, cloth, true), mirrored = names_of(s, cloth, false);
  std::string text = lining ? "lining, same grain" : "cloth";
  std::vector<SlipFigure> figures;
  if (!folded.empty()) text += ", on the fold: " + listed(folded);
  if (!mirrored.empty()) text += "; left and right: " + listed(mirrored);
  if (lining && mirrored.empty()) text += " (the bodice is cut 4 times on the fold)";
  if (const Piece* belt = s.piece("belt"); belt && !lining) {
    text += fmt::format("; belt: {} of {{}} by {{}}", counted(belt->count, "strip"));
    figures = {{"belt strip, cut width", cut_width(*belt)},
               {"belt strip, cut length", cut_length(*belt)}};
  }
  if (lining) {
    text += "; neck and armholes {} smaller, waist {} longer";
    figures = {{"lining, inside", drafting::kLiningInside},
               {"lining, longer at the waist", drafting::kLiningLonger}};
  }
  step.work(text, figures);
}

/// 'allowances: side seam, shoulder 1.5; neckline 0.8', each width once.
void allowances_of(StepWriter& step, const Sheet& s) {
  std::vector<std::pair<double, std::vector<std::string>>> widths;
  for (const Piece& p : s.pieces) {
    if (p.cut_of != CutOf::cloth || p.name == "belt") continue;
    for (const PieceEdge& e : p.edges) {
      if (e.work == EdgeWork::fold || e.name == "dart" || e.name == "overlap") continue;
      auto at = std::find_if(widths.begin(), widths.end(), [&](const auto& w) {
        return std::abs(w.first - e.allowance) < 1e-9;
      });
      if (at == widths.end()) at = widths.insert(widths.end(), {e.allowance, {}});
      if (std::find(at->second.begin(), at->second.end(), e.seam()) == at->second.end())
        at->second.push_back(e.seam());
    }
  }
  std::string text = "allowances: ";
  std::vector<SlipFigure> figures;
  for (const auto& [width, seams] : widths) {
    text += (figures.empty() ? "" : "; ") + listed(seams) + " {}";
    figures.push_back({"allowance: " + seams.front(), width});
  }
  step.work(text, figures);
}

void cut_lengths(StepWriter& step, const Sheet& s) {
  std::string text;
  std::vector<SlipFigure> figures;
  if (const Piece* elastic = s.piece("elastic")) {
    text = "elastic {} by {}";
    figures = {{"elastic, width", cut_width(*elastic)}, {"elastic, cut", cut_length(*elastic)}};
  }
  if (const Piece* tape = s.piece("stay tape")) {
    text += std::string(text.empty() ? "" : "; ") + "stay tape {} by {}";
    figures.push_back({"stay tape, width", cut_width(*tape)});
    figures.push_back({"stay tape, cut", cut_length(*tape)});
  }
  if (!text.empty()) step.work(text + " (ends counted)", figures);
}

bool is_knit(const Sheet& s) { return s.frame.cloth.stretch >= kKnit; }

/// Both front and back of an edge.
double whole_edge(const Sheet& s, const char* seam) {
  return s.piece(kBodiceFront)->seam_length(seam) + s.piece(kBodiceBack)->seam_length(seam);
}

/// What finishes the edges where no lining does. A knit's bindings are cut by its own recovery.
void cut_tape(StepWriter& step, const Sheet& s) {
  if (s.frame.lined || is_knit(s)) return;
  const double ends =
      s.centre_back_seam() ? s.piece(kBodiceBack)->edge("centre back")->allowance : kTapeJoin;
  const double side = s.piece(kBodiceBack)->edge("side seam")->allowance;
  step.work("bias tape {} wide, bought or cut on the bias: neck {}, each armhole {} (ends counted)",
            {{"bias tape, width", kBiasTape},
             {"bias tape, neck", 2 * whole_edge(s, "neckline") + 2 * ends},
             {"bias tape, armhole", whole_edge(s, "armhole") + 2 * side}});
}

/// How an edge that no lining finishes is finished, and how long each half of it is.
void finish_edge(StepWriter& step,
                 const Sheet& s,
                 const char* seam,
                 const std::string& which,
                 const std::string& corners) {
  const double allowance = s.piece(kBodiceFront)->edge(seam)->allowance;
  std::string text;
  std::vector<SlipFigure> figures;
  if (is_knit(s)) {
    text = "bind " + which + " in its own cloth, 5 to 12 % short";
  } else if (allowance > 0) {
    text =
        "face " + which + " with bias tape, sewn {} in" + corners + "; clip, turn in, stitch down";
    figures.push_back({std::string("allowance: ") + seam, allowance});
  } else {
    text = "bind " + which + " with bias tape, folded over the raw edge" + corners +
           "; stitch through all";
  }
  figures.push_back({title(kBodiceFront, seam), s.piece(kBodiceFront)->seam_length(seam)});
  figures.push_back({title(kBodiceBack, seam), s.piece(kBodiceBack)->seam_length(seam)});
  step.work(text + "; each half: front {}, back {}", figures);
}

/// Seams of a draft that can't be sewn as it stands.
void untrue_seams(StepWriter& step, const Sheet& s) {
  for (const SeamPair& pair : s.pairs) {
    if (std::abs(pair.off) <= kTrued) continue;
    const Mates m = s.mates(pair.first, pair.second);
    step.caution(pair.first + " {} and " + pair.second + " {} don't meet: true them first",
                 {{pair.first, m.first}, {pair.second, m.second}});
  }
}

/// 'front 20.1 to 20.3, back 22 to 22.2': cloth to lining.
void faced_edge(StepWriter& step,
                const Sheet& s,
                const char* seam,
                const std::string& before,
                const std::string& after) {
  const Mates front = s.mates(title(kBodiceFront, seam), title(kLiningFront, seam));
  const Mates back = s.mates(title(kBodiceBack, seam), title(kLiningBack, seam));
  step.work(before + "front {} to {}, back {} to {}" + after,
            {{title(kBodiceFront, seam), front.first},
             {title(kLiningFront, seam), front.second},
             {title(kBodiceBack, seam), back.first},
             {title(kLiningBack, seam), back.second}});
}

/// 'back 5.3 eased to front 5.1'.
void sew_straps(StepWriter& step, const Sheet& s, const std::string& before) {
  const Mates m = s.mates(title(kBodiceFront, "shoulder"), title(kBodiceBack, "shoulder"));
  const bool eased = std::abs(m.eased) > kFelt;
  step.work(
      before + (eased ? "back {} eased to front {}" : "back {} to front {}"),
      {{title(kBodiceBack, "shoulder"), m.second}, {title(kBodiceFront, "shoulder"), m.first}});
}

}  // namespace

SlipStep cut(const Sheet& s) {
  StepWriter step("Cut");
  const Cloth& cloth = s.frame.cloth;
  if (cloth.shrinkage_length > 0 || cloth.shrinkage_width > 0)
    step.work(fmt::format("wash and dry the cloth first, as the garment will be: it loses {:.3g} %",
                          100 * std::max(cloth.shrinkage_length, cloth.shrinkage_width)));
  cut_pieces(step, s, CutOf::cloth);
  if (cloth.nap) step.work("one way: all pieces lie the same way up");
  if (cloth.leaves_holes)
    step.work("needle marks stay: pin within the allowances, sew each seam once");
  if (s.frame.lined) cut_pieces(step, s, CutOf::lining);
  cut_lengths(step, s);
  cut_tape(step, s);
  allowances_of(step, s);
  untrue_seams(step, s);
  return std::move(step).step();
}

namespace {

void notches(StepWriter& step, const Sheet& s) {
  std::string text = "notches: ";
  std::vector<SlipFigure> figures;
  const auto place = [&](const std::string& words, const std::vector<SlipFigure>& of) {
    text += (figures.empty() ? "" : "; ") + words;
    figures.insert(figures.end(), of.begin(), of.end());
  };
  const auto front = s.notch(kBodiceFront, "armhole notch");
  const auto back = s.notch(kBodiceBack, "armhole notch");
  if (front && back)
    place("armhole, from the underarm, {} in front (one), {} behind (two)",
          {{"notch: armhole front", *front}, {"notch: armhole back", *back}});
  if (const auto side = s.notch(kBodiceFront, "side balance"))
    place("side {} above the waist", {{"notch: side seam", *side}});
  if (const auto hip = s.notch(kSkirtBack, "hip"))
    place("skirt side {} below it",
          {{"notch: hip", s.piece(kSkirtBack)->seam_length("side seam") - *hip}});
  const auto front_balance = s.notch(kBodiceFront, "waist balance");
  const auto back_balance = s.notch(kBodiceBack, "waist balance");
  if (front_balance && back_balance)
    place("waist, from the centre, {} in front, {} behind",
          {{"notch: waist front", *front_balance}, {"notch: waist back", *back_balance}});
  if (!figures.empty()) step.work(text, figures);
}

}  // namespace

SlipStep stay(const Sheet& s) {
  StepWriter step("Stay");
  step.work("first of all staystitch neck and armholes, strap to centre");
  if (const Piece* tape = s.piece("stay tape")) {
    const Mates neck = s.mates(title(kBodiceFront, "neckline"), title(kLiningFront, "neckline"));
    const double edge = s.frame.lined ? neck.first : s[MeasureKey::neckline_front];
    step.work("tape the front neck edge: {} of tape to {} of edge",
              {{"stay tape, strap to strap", tape->edges[0].length()},
               {"front neck edge, whole", 2 * edge}});
  }
  notches(step, s);
  return std::move(step).step();
}

SlipStep dart(const Sheet& s) {
  StepWriter step("Dart");
  const Piece* front = s.piece(kBodiceFront);
  if (!front || !front->edge("dart")) return std::move(step).step();
  const Mates legs = s.mates("bodice front: dart, lower leg", "bodice front: dart, upper leg");
  Vec2<double> tip{0, 0}, point{0, 0};
  for (const PieceMark& m : front->marks) {
    if (m.kind == PieceMark::Kind::dart_leg) tip = m.line.back();
    if (m.label == "bust point") point = m.line.front();
  }
  const Polyline& mouth = front->edge("dart")->line;
  step.work(
      std::string("{} below the armhole, {} wide at the seam, legs {}, point {} short of the bust "
                  "point; press it down") +
          (s.frame.lined ? ", the lining's up" : ""),
      {{"dart, below the armhole", front->edge("side seam, above dart")->length()},
       {"dart, width", geometry::distance(mouth.front(), mouth.back())},
       {"bodice front: dart, lower leg", legs.first},
       {"dart, short of the bust point", geometry::distance(tip, point)}});
  const Mates side = s.mates(title(kBodiceFront, "side seam"), title(kBodiceBack, "side seam"));
  step.check("front side seam {}, dart closed", {{title(kBodiceFront, "side seam"), side.first}});
  return std::move(step).step();
}

SlipStep straps(const Sheet& s) {
  StepWriter step("Straps");
  if (s.turning() == Turning::straps_closed_last) {
    step.work("leave them open until the bodice is turned");
  } else {
    sew_straps(step, s, s.frame.lined ? "cloth to cloth, lining to lining: " : "");
  }
  return std::move(step).step();
}

SlipStep neck(const Sheet& s) {
  StepWriter step("Neck");
  const bool open = s.turning() == Turning::straps_closed_last;
  if (s.frame.lined) {
    const char* clip = s.is(Switch::neckline, "round") ? "the curve"
                       : s.is(Switch::neckline, "V")   ? "the point of the V"
                                                       : "the corners";
    faced_edge(
        step,
        s,
        "neckline",
        "cloth to lining, eased, each half: ",
        std::string(open ? ", to the strap seams" : "") + "; trim, clip " + clip + ", understitch");
  } else {
    finish_edge(step,
                s,
                "neckline",
                "it",
                s.is(Switch::neckline, "V")        ? ", mitred at the V's point"
                : s.is(Switch::neckline, "square") ? ", mitred at the corners"
                                                   : "");
  }
  const double least = least_asked(s.result, MeasureKey::neckline_edge);
  std::vector<SlipFigure> figures{{"neck edge", s[MeasureKey::neckline_edge]}};
  if (least > 0) figures.push_back({"neck edge, at least", least});
  step.check(std::string("neck edge {} all round") + (open ? " once the straps are closed" : "") +
                 (least > 0 ? ", at least {}" : ""),
             figures);
  return std::move(step).step();
}

SlipStep armholes(const Sheet& s) {
  StepWriter step("Armholes");
  const double taken = s[ValueKey::armhole_taken];
  if (!s.frame.lined) {
    finish_edge(step, s, "armhole", "each", ", the sides still open");
  } else {
    const Turning turning = s.turning();
    const char* how = turning == Turning::straps_closed_last ? ", to the strap seams"
                      : turning == Turning::whole_back
                          ? "; neck turned, one at a time: roll the bodice up from the other side, "
                            "fold cloth and lining round the roll"
                          : "; both flat";
    faced_edge(step, s, "armhole", "cloth to lining, eased: ", how);
  }
  if (taken > std::max(kTold, 0.5 * reading_step(s.unit, kLength)))
    step.work("ease {} of the front cloth in between its marks", {{"armhole, eased", taken}});
  return std::move(step).step();
}

SlipStep turn(const Sheet& s) {
  StepWriter step("Turn");
  const Turning turning = s.turning();
  if (turning == Turning::none) return std::move(step).step();
  const bool halves = s.centre_back_seam();
  const double width = s[ValueKey::strap_width];
  const double need = width - s[halves ? MeasureKey::strap_turns_half : MeasureKey::strap_turns];
  const std::vector<SlipFigure> figures{{"strap, as sewn", width}, {"strap, to turn", need}};
  const std::string room =
      halves ? "strap {} wide, half a back needs {}: " : "strap {} wide, the back needs {}: ";
  if (turning == Turning::straps_closed_last) {
    step.work(room + "too narrow, turn it by its open straps", figures);
    sew_straps(step, s, "close the cloth's straps, about 20 min more: ");
    step.work("turn in the lining's strap edges and slip them together by hand");
  } else if (turning == Turning::half_backs) {
    step.work(room + "pull each half back through its strap, the centre back open", figures);
  } else {
    step.work(room + "pull it through the strap beside the armhole just sewn", figures);
  }
  return std::move(step).step();
}

SlipStep centre_back(const Sheet& s) {
  StepWriter step("Centre");
  if (!s.centre_back_seam()) return std::move(step).step();
  const auto length = [&s](const char* name) { return s.piece(name)->seam_length("centre back"); };
  std::string text = "centre back seam: bodice {}";
  std::vector<SlipFigure> figures{{title(kBodiceBack, "centre back"), length(kBodiceBack)}};
  if (s.frame.lined) {
    text += ", lining {} in the same run";
    figures.push_back({title(kLiningBack, "centre back"), length(kLiningBack)});
  }
  if (s.frame.skirt) {
    text += "; skirt {}";
    figures.push_back({title(kSkirtBack, "centre back"), length(kSkirtBack)});
  }
  step.work(text, figures);
  return std::move(step).step();
}

SlipStep sides(const Sheet& s) {
  StepWriter step("Sides");
  std::string text;
  std::vector<SlipFigure> figures;
  const auto sew = [&](const std::string& words, const char* front, const char* back) {
    const Mates m = s.mates(title(front, "side seam"), title(back, "side seam"));
    text += words;
    figures.push_back({title(front, "side seam"), m.first});
    figures.push_back({title(back, "side seam"), m.second});
  };
  sew("bodice front {} to back {}", kBodiceFront, kBodiceBack);
  if (s.frame.lined) sew(", and on into the lining, {} to {}", kLiningFront, kLiningBack);
  if (s.frame.skirt) sew("; skirt front {} to back {}", kSkirtFront, kSkirtBack);
  if (!s.frame.lined) {
    text += "; neaten all allowances";
  } else if (s.frame.skirt) {
    text += ", neatened";
  }
  step.work(text, figures);
  if (s.side_opening()) {
    std::vector<SlipFigure> open{{"opening, below the armhole", drafting::kOpeningBelowArmhole}};
    if (s.frame.skirt) open.push_back({"opening, below the waist", drafting::kOpeningBelowWaist});
    step.work(s.frame.skirt ? "left side open from {} below the armhole to {} below the waist"
                            : "left side open from {} below the armhole down",
              open);
  }
  const double least = least_asked(s.result, MeasureKey::bodice_underarm);
  std::vector<SlipFigure> measured{{"armhole, all round", s[MeasureKey::armhole_girth]},
                                   {"round the underarm", s[MeasureKey::bodice_underarm]}};
  if (least > 0) measured.push_back({"round the underarm, at least", least});
  step.check(std::string("round each armhole {}, round the underarm {}") +
                 (least > 0 ? ", at least {}" : ""),
             measured);
  return std::move(step).step();
}

}  // namespace easewright::slips
