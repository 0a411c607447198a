#include "cli/commands/reach.h"

#include "cli/commands/explore.h"
#include "cli/write/reach.h"

#include <algorithm>

#include <unistd.h>

namespace easewright {
namespace {

/// What is asked about most; a garment without one of them leaves it out.
constexpr ValueKey kCommon[] = {
    ValueKey::neckline_depth,
    ValueKey::neckline_back_depth,
    ValueKey::strap_inset,
    ValueKey::strap_width,
    ValueKey::armhole_drop,
    ValueKey::bodice_blouson,
    ValueKey::shaping_side,
    ValueKey::elastic_length,
    ValueKey::skirt_length,
    ValueKey::skirt_overlap,
    ValueKey::skirt_flare,
    ValueKey::slit_start,
};

/// The common values and those that are wished for, in the order in which the draft is told.
std::vector<ValueKey> usual_values(const FitResult& result) {
  std::vector<ValueKey> values;
  for (int i = 0; i < kValueKeys; ++i) {
    const auto key = static_cast<ValueKey>(i);
    const bool common = std::find(std::begin(kCommon), std::end(kCommon), key) != std::end(kCommon);
    const auto& rules = result.posed->rules;
    const bool wished = std::any_of(rules.begin(), rules.end(), [key](const PosedRule& rule) {
      return rule.wish_id == info(key).id;
    });
    if ((common || wished) && is_free(key, result)) values.push_back(key);
  }
  return values;
}

}  // namespace

int run_reach(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  if (!loaded) return refuse(complaints);
  const auto judged = fit_to_explore(*loaded, complaints);
  if (!judged) return refuse(complaints);

  std::vector<ValueKey> values;
  for (const std::string& name : options.values) {
    if (const auto key = free_value(name, *judged, {"reach", complaints})) values.push_back(*key);
  }
  if (!complaints.empty()) return refuse(complaints);
  if (options.values.empty()) values = usual_values(judged->result);

  const std::vector<ValueReach> found = reach(judged->result, values);
  std::vector<Wanted> files;
  if (options.json) files.push_back({*options.json, write_reach_json(*judged, found)});
  const std::string report = write_reach(*judged, found, colour_of_terminal(STDOUT_FILENO));
  return deliver(files, report, kAllHolds);
}

}  // namespace easewright
