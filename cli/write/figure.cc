#include "cli/write/figure.h"

#include "cli/draw/figure.h"
#include "cli/draw/pdf.h"
#include "cli/draw/svg.h"
#include "cli/write/quantity.h"
#include "cli/write/report.h"
#include "cli/write/verdict.h"
#include "cli/write/words.h"
#include "model/figure/spots.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>

namespace easewright {
namespace {

using V = ValueKey;
using M = MeasureKey;
using figure::Marked;

/// The lengths that the drawing shows.
std::string drawn_lengths(const Values<double>& v,
                          const Measures<double>& m,
                          const Frame& frame,
                          figure::Parts parts,
                          LengthUnit unit) {
  const Notation notation{unit};
  const auto number = [&](double value) { return write_number(value, kLength, notation); };
  std::vector<std::string> said;
  if (parts.bodice) {
    said.push_back(fmt::format("neckline {} deep, back {}",
                               number(v[V::neckline_depth]),
                               number(v[V::neckline_back_depth])));
    said.push_back(fmt::format(
        "strap {} wide, {} from the neck", number(v[V::strap_width]), number(v[V::strap_inset])));
    const double drop = v[V::armhole_drop];
    said.push_back(fmt::format(
        "underarm {} {} the armpit", number(std::abs(drop)), drop < 0 ? "above" : "below"));
  }
  if (parts.skirt) {
    said.push_back(fmt::format("skirt {} long, hem {} off the floor",
                               number(v[V::skirt_length]),
                               number(m[M::skirt_clearance])));
    if (frame.wrapped) {
      said.push_back(fmt::format("fronts overlap {}, {} {} below the waist",
                                 number(v[V::skirt_overlap]),
                                 frame.slit_sewn ? "slit from" : "part",
                                 number(m[M::slit_opening])));
    }
  }
  return fmt::format("{} ({})", fmt::join(said, "; "), unit_word(kLength, notation));
}

/// Felt, and worth an alteration: a must, or a should by more than its tolerance.
bool is_felt(const Finding& f) {
  if (!f.missed || f.strength > solver::Level::should) return false;
  return std::abs(f.miss) > (f.strength == solver::Level::must ? 0.1 : 1.0) * f.tolerance;
}

std::vector<Finding> felt(const std::vector<Finding>& all) {
  std::vector<Finding> some;
  std::copy_if(all.begin(), all.end(), std::back_inserter(some), is_felt);
  return some;
}

const Finding* named(const std::vector<Finding>& all, const std::string& name) {
  const auto it =
      std::find_if(all.begin(), all.end(), [&](const Finding& f) { return f.name == name; });
  return it == all.end() ? nullptr : &*it;
}

}  // namespace

DrawnFigure figure_of(const Judged& judged) {
  const FitResult& result = judged.result;
  const LengthUnit unit = judged.job->unit;
  const figure::Dressed dressed = figure::dress(result);
  const draw::FigureState state{&dressed, figure::marked(result.findings, dressed), ""};
  draw::FigureSheet sheet;
  sheet.title = title_of(judged);
  sheet.unit = unit;
  const Verdict verdict = verdict_of(result);
  sheet.figures = {
      verdict.head + verdict.rest,
      drawn_lengths(result.values, result.measures, result.posed->frame, dressed.parts, unit)};
  std::string description = fmt::format("Front, back and left side. {}.", sheet.figures.back());
  for (const Marked& mark : state.marks) {
    sheet.legend.push_back({mark.number,
                            std::string(to_string(mark.finding->strength)),
                            miss_sentence(*mark.finding, unit)});
    description += fmt::format(" {}: {}.", mark.number, sheet.legend.back().text);
  }
  return {draw::draw_figure(state, sheet), {sheet.title, description}, unit};
}

DrawnFigure figure_of(const Altered& altered, size_t plan_place) {
  const AlterResult& result = altered.result;
  const AlterPlan& plan = result.plans[plan_place];
  const LengthUnit unit = altered.job->unit;
  const Frame& frame = result.posed->frame;
  const MadeKind kind = altered.in_hand->kind;
  const auto dressed = [&](const Worn& worn, double shift) {
    return figure::dress(frame,
                         worn.values,
                         worn.bodice,
                         worn.measures,
                         {kind != MadeKind::skirt, kind != MadeKind::top, shift});
  };
  // A strip along the under front leaves the upper one's edge where it was.
  double strip = 0;
  for (const PlanStep& step : plan.steps)
    if (step.move->change == Change::slit_insert) strip += step.amount;
  const figure::Dressed is = dressed(result.before, 0), becomes = dressed(plan.worn, -0.5 * strip);
  const std::vector<Finding> now = felt(result.findings), then = felt(plan.findings);

  draw::FigureState before{&is, figure::marked(now, is), "before"};
  draw::FigureState after{
      &becomes, figure::marked(then, becomes), fmt::format("after plan {}", plan_place + 1)};
  for (draw::FigureState* state : {&before, &after}) {
    for (Marked& mark : state->marks) {
      for (const SeenFault& fault : altered.in_hand->faults) {
        if (mark.finding->rule != nullptr || mark.finding->name != fault.kind->name) continue;
        if (const auto place = figure::place_of(*fault.kind))
          mark.spot = figure::spot_of(*place, *state->dressed);
      }
      // There is no side view here.
      if (mark.spot.view == figure::View::side)
        mark.spot = figure::spot_of(figure::Place::bodice_side, *state->dressed);
    }
  }
  // A rule has one number on both figures; what only comes up afterwards follows.
  int next = static_cast<int>(now.size());
  for (Marked& mark : after.marks) {
    const auto same = std::find_if(before.marks.begin(), before.marks.end(), [&](const Marked& m) {
      return m.finding->name == mark.finding->name;
    });
    mark.number = same != before.marks.end() ? same->number : ++next;
  }

  draw::FigureSheet sheet;
  std::vector<draw::LegendLine> steps;
  sheet.title = altered.job->label;
  sheet.unit = unit;
  sheet.figures = {
      fmt::format("Plan {}: {}",
                  plan_place + 1,
                  plan.meets_all ? "meets all that was to be met" : "leaves something over")};
  int letter = 0;
  for (const PlanStep& step : plan.steps) {
    after.marks.push_back(
        {nullptr, --letter, figure::spot_of(figure::place_of(step.move->change), becomes)});
    const Dimension dimension = info(step.move->change).dimension;
    steps.push_back({letter,
                     "do",
                     fmt::format("{} {}: {}",
                                 step.move->name,
                                 write_quantity(step.amount, dimension, {unit}),
                                 step.move->place)});
  }
  sheet.all_well = "No must or should is missed by more than its tolerance.";
  for (const Marked& mark : before.marks) {
    const Finding* left = named(plan.findings, mark.finding->name);
    const std::string settled = left == nullptr || !left->missed ? "holds" : miss_of(*left, unit);
    sheet.legend.push_back({mark.number,
                            std::string(to_string(mark.finding->strength)),
                            miss_sentence(*mark.finding, unit) + "; after: " + settled});
  }
  for (const Marked& mark : after.marks) {
    if (mark.finding == nullptr || mark.number <= static_cast<int>(now.size())) continue;
    sheet.legend.push_back({mark.number,
                            std::string(to_string(mark.finding->strength)),
                            miss_sentence(*mark.finding, unit) + ", after only"});
  }
  sheet.legend.insert(sheet.legend.end(), steps.begin(), steps.end());
  std::string description = "Front and back before and after. " + sheet.figures.front() + ".";
  for (const draw::LegendLine& line : sheet.legend) description += fmt::format(" {}.", line.text);
  return {draw::draw_change(before, after, sheet), {sheet.title, description}, unit};
}

std::string figure_svg(const DrawnFigure& figure) {
  return draw::svg_of(draw::figure_page(figure.canvas, figure.unit), figure.about);
}

std::string figure_pdf(const DrawnFigure& figure) {
  return draw::pdf_of({draw::figure_page(figure.canvas, figure.unit)}, figure.about);
}

std::string figure_element(const DrawnFigure& figure, const std::string& prefix) {
  return draw::svg_element(draw::whole(figure.canvas, 0.3), figure.about, prefix);
}

}  // namespace easewright
