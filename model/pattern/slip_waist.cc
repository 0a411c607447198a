// Steps of the slip from the skirt to the belt, and what to heed.

#include "model/pattern/drafting.h"
#include "model/pattern/slip_steps.h"
#include "model/rules/expression.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include <fmt/format.h>

namespace easewright::slips {
namespace {

using drafting::kBodiceBack;
using drafting::kBodiceFront;
using drafting::kSkirtBack;
using drafting::kSkirtFront;
using K = ValueKey;
using M = MeasureKey;

/// A turned edge loses its depth over its radius: up to the first it presses flat, up to the second
/// an ease thread draws it in, beyond that it has to be bound or faced (geometry; limits common
/// practice).
constexpr double kPressesFlat = 0.02, kEasesIn = 0.05;
/// Less of it needs no word.
constexpr double kUnfelt = 0.005;
/// A gap in the belt's seam to turn it through, cm (common practice).
constexpr double kGapLeast = 6, kGapMost = 8;
/// A turned casing edge folds in this much, cm (common practice).
constexpr double kCasingTurn = 0.6;
/// So much of the allowance lies beyond the casing's stitching, cm (common practice).
constexpr double kCasingStitch = 0.3;
/// Differences below this go unsaid, cm.
constexpr double kSaid = 0.05;
/// A hem that clears the floor by no more than this is trodden on by some, cm.
constexpr double kLongHem = 15;

std::string title(const char* piece, const char* seam) { return std::string(piece) + ": " + seam; }

/// 'loses 1.6 %: presses flat'.
std::string worked(double fullness) {
  const std::string share = fmt::format("loses {:.1f} %", 100 * fullness);
  if (fullness <= kPressesFlat) return share + ": presses flat";
  if (fullness <= kEasesIn) return share + ": draw it in with an ease thread";
  return share + ": too much to turn, bind or face it";
}

/// All of one edge in pieces of a name: a half on the fold counts twice.
double whole_edge(const Piece& piece, const char* seam) {
  return piece.seam_length(seam) * (piece.on_fold ? 2 : piece.count);
}

}  // namespace

SlipStep hang(const Sheet& s) {
  StepWriter step("Hang");
  if (!s.frame.skirt) return std::move(step).step();
  step.work("hang the skirt by its waist 24 to 48 h, then level the hem, shoes on");
  step.check(
      "side {} from waist to hem; hem {} off the floor, barefoot",
      {{"skirt, waist to hem", s[K::skirt_length]}, {"hem, off the floor", s[M::skirt_clearance]}});
  return std::move(step).step();
}

SlipStep hem(const Sheet& s) {
  StepWriter step("Hem");
  if (!s.frame.skirt) return std::move(step).step();
  const double turn = s[K::hem_turn];
  const Piece& front = *s.piece(kSkirtFront);
  const Piece& back = *s.piece(kSkirtBack);
  const bool wrapped = s.frame.wrapped;
  step.work((wrapped ? "turn {}, {} folded in; back {}, each front {}; "
                     : "turn {}, {} folded in; back {}, front {}; ") +
                (s[M::hem_fullness] <= kUnfelt ? "presses flat"
                                               : "its curve " + worked(s[M::hem_fullness])),
            {{"hem, turned", turn},
             {"hem, folded in", folded_in(turn)},
             {"hem, back", whole_edge(back, "hem")},
             {"hem, front", wrapped ? front.seam_length("hem") : whole_edge(front, "hem")}});
  if (!wrapped) return std::move(step).step();
  const double start = s[K::slit_start];
  std::string text = "free edges, each {}, in the same run: ";
  std::vector<SlipFigure> figures{
      {title(kSkirtFront, "free edge"), front.seam_length("free edge")}};
  if (start < s[K::skirt_length] - 1e-6 && s[K::slit_run_in] > kSaid) {
    text += "straight to {} below the waist, then curved (radius {}), which " +
            worked(s[M::hem_edge_fullness]);
    figures.push_back({"slit start, below the waist", start});
    figures.push_back({"free edge, radius", s[M::slit_edge_radius]});
  } else {
    text += "straight";
  }
  step.work(text, figures);
  return std::move(step).step();
}

SlipStep overlap(const Sheet& s) {
  StepWriter step("Overlap");
  if (!s.frame.wrapped) return std::move(step).step();
  std::string text =
      "baste the hemmed fronts {} over each other, centre on centre (nap or print decides which "
      "lies on top)";
  std::vector<SlipFigure> figures{{"overlap", s[K::skirt_overlap]}};
  if (s.frame.slit_sewn) {
    text += "; sew them down to {} below the waist, bar tack there";
    figures.push_back({"slit, sewn down to", s[K::slit_start]});
  } else if (s[K::slit_catch] > 0.5) {
    text += "; bar tack {} below the waist";
    figures.push_back({"bar tack, below the waist", s[K::slit_catch]});
  }
  step.work(text, figures);
  step.check(
      "fronts {} across at the hip; edges part {} below the waist",
      {{"across the fronts", s[M::skirt_front_across]}, {"slit, opens at", s[M::slit_opening]}});
  return std::move(step).step();
}

SlipStep waist(const Sheet& s) {
  StepWriter step("Waist");
  if (s.frame.lined)
    step.work("baste the lining on; its {} more stays as ease above",
              {{"lining, longer at the waist", drafting::kLiningLonger}});
  if (s.frame.skirt) {
    const Mates front = s.mates(title(kBodiceFront, "waist"), title(kSkirtFront, "waist"));
    const Mates back = s.mates(title(kBodiceBack, "waist"), title(kSkirtBack, "waist"));
    const bool eased = std::abs(front.eased) > kSaid || std::abs(back.eased) > kSaid;
    std::string text = "bodice to skirt, side to centre: front {} to {}, back {} to {}";
    if (eased) text += s.frame.elastic_waist ? "; ease the longer in" : "; gather the longer in";
    step.work(text,
              {{title(kBodiceFront, "waist"), front.first},
               {title(kSkirtFront, "waist"), front.second},
               {title(kBodiceBack, "waist"), back.first},
               {title(kSkirtBack, "waist"), back.second}});
  }
  if (!s.frame.skirt && !s.frame.elastic_waist) {
    const double turned = s.piece(kBodiceBack)->edge("waist")->allowance;
    if (s.frame.lined) {
      step.work("turn the cloth's allowance ({}) in, slip the lining to it by hand",
                {{"waist edge, turned", turned}});
    } else {
      step.work("turn the edge up: {} in all, {} of it folded in",
                {{"waist edge, turned", turned}, {"waist edge, folded in", turned / 3}});
    }
  }
  const double least = least_asked(s.result, M::bodice_waist);
  std::vector<SlipFigure> figures{{"waist seam", s[M::bodice_waist]}};
  if (least > 0) figures.push_back({"waist seam, at least", least});
  step.check(std::string(s.frame.skirt ? "waist seam now measures {}, flat"
                                       : "waist edge now measures {}, flat") +
                 (least > 0 ? ", at least {}" : ""),
             figures);
  return std::move(step).step();
}

SlipStep casing(const Sheet& s) {
  StepWriter step("Casing");
  if (!s.frame.elastic_waist) return std::move(step).step();
  const bool turned = s.is(Switch::waist_edge, "turned");
  std::vector<SlipFigure> figures{{"casing, allowance", s[K::casing_allowance]}};
  std::string text = s.frame.skirt ? "press both allowances ({}) up" : "turn the allowance ({}) in";
  if (turned) {
    text += ", their edge turned under {}";
    figures.push_back({"casing, edge turned in", kCasingTurn});
  } else {
    text += ", overlocked";
  }
  text += s.frame.skirt ? "; stitch them down through all layers {} above the seam"
                        : "; stitch it down through all layers {} above the fold";
  figures.push_back({"casing, width", s[K::casing_width]});
  if (s.side_opening()) {
    text += "; it ends open at the side opening";
  } else {
    text += "; leave {} open at the back beside the left seam";
    figures.push_back({"casing, opening", s[M::casing_opening]});
  }
  step.work(text, figures);
  const double clear = s[K::casing_allowance] - kCasingStitch - (turned ? kCasingTurn : 0);
  step.check("elastic {} wide, {} to spare; the allowance makes a casing of {}",
             {{"elastic, width", s.frame.cloth.elastic_width},
              {"casing, play", s[M::casing_play]},
              {"casing, clear at most", clear}});
  return std::move(step).step();
}

SlipStep elastic(const Sheet& s) {
  StepWriter step("Elastic");
  const Piece* piece = s.piece("elastic");
  if (!piece) return std::move(step).step();
  const double end = piece->edges[1].allowance;
  std::vector<SlipFigure> figures{{"elastic, front", s[M::elastic_front]},
                                  {"elastic, back", s[M::elastic_back]},
                                  {"elastic, each end", end}};
  std::string text = "mark {} for front, {} for back, {} at each end; thread it; ";
  if (s.side_opening()) {
    text += "catch its ends in the opening, on the body";
  } else {
    text += "pin, try on, lap {} at the left side, stitch a box, close the opening";
    figures.push_back({"elastic, lapped", 2 * end});
  }
  step.work(text + "; tack it at the side seams", figures);
  const double fullness = s[M::shaping_waist_width];
  if (fullness > 0.1)
    step.work(
        "push the front's gathers to within {} of under each bust point ({} a side is the bust's) "
        "and stitch through the elastic there",
        {{"gathers, from the bust line", drafting::kGatherReach},
         {"gathers, bust's share", fullness}});
  const double least = least_asked(s.result, M::dressing_elastic);
  if (least > 0)
    step.check("it draws out to {} with ease (worked to {} at most)",
               {{"elastic, has to pass", least}, {"elastic, worked to", s[M::dressing_elastic]}});
  step.caution(
      "marks, numbness or reflux: too tight, lengthen it; pregnant, or after surgery, ask a "
      "clinician");
  return std::move(step).step();
}

SlipStep opening(const Sheet& s) {
  StepWriter step("Opening");
  const auto begins = s.notch(kBodiceFront, "left side opening begins");
  if (!s.side_opening() || !begins) return std::move(step).step();
  // The notch lies above the dart, where there is one: what lies below the dart counts as well.
  const PieceEdge* below_dart = s.piece(kBodiceFront)->edge("side seam, below dart");
  double length = *begins + (below_dart ? below_dart->length() : 0);
  if (const auto ends = s.notch(kSkirtFront, "left side opening ends"))
    length += s.piece(kSkirtFront)->seam_length("side seam") - *ends;
  step.work(s.frame.lined ? "fastening in the left side, {} long; slip the lining to it by hand"
                          : "fastening in the left side, {} long",
            {{"opening, length", length}});
  return std::move(step).step();
}

SlipStep belt(const Sheet& s) {
  StepWriter step("Belt");
  const Piece* piece = s.piece("belt");
  if (!piece) return std::move(step).step();
  const double seam = piece->edges[0].allowance, ends = piece->edges[1].allowance;
  std::string text;
  std::vector<SlipFigure> figures;
  if (piece->count > 1) {
    text = fmt::format("{} of {{}} joins the strips to {{}}; ",
                       piece->count == 2 ? "1 seam" : fmt::format("{} seams", piece->count - 1));
    figures = {{"belt, joins", ends}, {"belt, joined", s[K::belt_length] + 2 * ends}};
  }
  figures.insert(
      figures.end(),
      {{"belt, seam", seam}, {"belt, gap at least", kGapLeast}, {"belt, gap at most", kGapMost}});
  step.work(
      text + "fold lengthwise, sew {} from the edges, leaving {} to {} in the middle; turn, close",
      figures);
  step.check(
      "finished {} wide, {} long",
      {{"belt, finished width", s[K::belt_width]}, {"belt, finished length", s[K::belt_length]}});
  return std::move(step).step();
}

namespace {

bool is_about(const Rule& rule, NameKind kind, int index) {
  const std::vector<Name> names = rule.range.expression.names();
  return std::any_of(names.begin(), names.end(), [&](const Name& n) {
    return n.kind == kind && n.index == index;
  });
}
bool is_about(const Rule& rule, M measure) {
  return is_about(rule, NameKind::measure, static_cast<int>(measure));
}

}  // namespace

SlipStep care(const Sheet& s) {
  StepWriter step("Care");
  // What a rule warns of at its limit, in its own words; the elastic's stands with the elastic.
  std::set<std::string> said;
  bool hem_said = false, belt_said = false, flame_said = false;
  for (const Finding& f : s.result.findings) {
    if (!f.rule || f.rule->caution.empty() || !(f.missed || f.tight)) continue;
    if (is_about(*f.rule, M::elastic_pressure)) continue;
    hem_said |= is_about(*f.rule, M::skirt_clearance);
    flame_said |= is_about(*f.rule, M::skirt_hem);
    belt_said |= is_about(*f.rule, NameKind::value, static_cast<int>(K::belt_length));
    if (said.insert(f.rule->caution).second) step.caution(f.rule->caution);
  }
  if (s.frame.body.build == Build::child && !belt_said)
    step.caution(
        "no cord, tie or sash on a child's size; local rules bind: have a qualified person check "
        "the garment against them");
  if (s.frame.skirt && !hem_said && s[M::skirt_clearance] < kLongHem)
    step.caution("a long hem is trodden on, on stairs above all: try it on in the shoes worn");
  const bool tied = s.piece("belt") != nullptr;
  if ((s.frame.skirt || tied) && !flame_said)
    step.caution(std::string("keep loose cloth") + (tied ? " and belt ends" : "") +
                 " from flames and heaters; where rules on burning apply, have a qualified person "
                 "check");
  return std::move(step).step();
}

}  // namespace easewright::slips
