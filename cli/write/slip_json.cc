#include "cli/write/json_parts.h"
#include "cli/write/slip.h"

#include <utility>

namespace easewright {
namespace {

std::string_view kind_name(SlipLine::Kind kind) {
  return kind == SlipLine::Kind::work    ? "work"
         : kind == SlipLine::Kind::check ? "check"
                                         : "caution";
}

Json line_of(const SlipLine& line) {
  Json figures = Json::array();
  for (const SlipFigure& f : line.figures)
    figures.push_back({{"of", f.of}, {"value", number(f.cm)}, {"unit", "cm"}});
  return {{"kind", kind_name(line.kind)},
          {"text", write_line(line, LengthUnit::cm)},
          {"figures", std::move(figures)}};
}

}  // namespace

std::string write_slip_json(const Judged& judged, const Slip& slip) {
  Json steps = Json::array();
  for (const SlipStep& step : slip.steps) {
    Json lines = Json::array();
    for (const SlipLine& line : step.lines) lines.push_back(line_of(line));
    steps.push_back({{"step", step.title}, {"lines", std::move(lines)}});
  }
  return document_of("slip", {{"job", heading_of(judged)}, {"steps", std::move(steps)}});
}

}  // namespace easewright
