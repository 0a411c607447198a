#include "cli/commands/map.h"

#include "cli/commands/explore.h"
#include "cli/read/axis.h"
#include "cli/write/map.h"
#include "cli/write/map_svg.h"
#include "cli/write/quantity.h"

#include <algorithm>

#include <unistd.h>

namespace easewright {
namespace {

/// The axis with its own limits where the words leave them open. A range that leaves the limits
/// could not be answered.
std::optional<MapAxis> axis_of(const std::string& text,
                               const Judged& judged,
                               const Source& source) {
  const auto words = read_axis(text, source);
  const auto key = words ? free_value(words->name, judged, source) : std::nullopt;
  if (!key) return std::nullopt;
  const Posed& posed = *judged.result.posed;
  const auto at = std::find(posed.keys.begin(), posed.keys.end(), *key) - posed.keys.begin();
  const solver::Variable& variable = posed.problem.variables[static_cast<size_t>(at)];
  const MapAxis axis{
      *key, words->from.value_or(variable.lower), words->to.value_or(variable.upper)};
  const double hair = 1e-9 * variable.scale;
  if (axis.from >= variable.lower - hair && axis.to <= variable.upper + hair &&
      axis.to - axis.from > hair)
    return axis;
  const std::string limits =
      write_range(variable.lower, variable.upper, info(*key).dimension, {judged.job->unit});
  source.complain({},
                  words->name,
                  "a range within its limits is wanted, " + limits + " (--limit changes them)");
  return std::nullopt;
}

}  // namespace

int run_map(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  if (!loaded) return refuse(complaints);
  const auto judged = fit_to_explore(*loaded, complaints);
  if (!judged) return refuse(complaints);
  const Source source{"map", complaints};
  const auto across = axis_of(options.values[0], *judged, source);
  const auto up = axis_of(options.values[1], *judged, source);
  if (across && up && across->value == up->value)
    source.complain({}, options.values[1], "two different values are wanted");
  if (!complaints.empty()) return refuse(complaints);

  const ValueMap map =
      map_values(judged->result, *across, *up, options.columns, options.rows, options.threads);
  const MapKey key = key_of(map, judged->result);
  std::vector<Wanted> files;
  if (options.csv) files.push_back({*options.csv, write_map_csv(*judged, map)});
  if (options.svg) files.push_back({*options.svg, write_map_svg(*judged, map, key)});
  if (options.json) files.push_back({*options.json, write_map_json(*judged, map)});
  const auto width = width_of_terminal(STDOUT_FILENO);
  return deliver(
      files, write_map(*judged, map, key, colour_of_terminal(STDOUT_FILENO), width), kAllHolds);
}

}  // namespace easewright
