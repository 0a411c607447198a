#include "cli/commands/alter.h"

#include "cli/commands/load.h"
#include "cli/read/alter_catalogue.h"
#include "cli/read/data_folder.h"
#include "cli/read/in_hand.h"
#include "cli/write/alter.h"
#include "cli/write/figure.h"

#include <unistd.h>

namespace easewright {
namespace {

AlterOptions alter_options(const Options& options, LengthUnit unit) {
  AlterOptions how;
  how.plans = options.plans;
  if (unit == LengthUnit::inch) how.round_cm = kCmPerInch / 8;
  return how;
}

}  // namespace

int run_alter(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  const auto vocabulary = read_alter_catalogue(data_folder(), complaints);
  if (!loaded || !vocabulary) return refuse(complaints);
  const LoadedJob& job = loaded->jobs.front();
  const auto in_hand = read_in_hand(job, loaded->catalogue, *vocabulary, complaints);
  if (!in_hand) return refuse(complaints);

  Altered altered;
  altered.file = job.file;
  altered.job = &job.job;
  altered.in_hand = &in_hand->in_hand;
  altered.tell_all = options.length == Length::all;
  altered.result = alter(job.job,
                         in_hand->in_hand,
                         loaded->catalogue,
                         *vocabulary,
                         alter_options(options, job.job.unit));
  complain_of_body(altered.result.taped.notes, job.places, complaints);
  if (in_hand->in_hand.made_for)
    complain_of_body(altered.result.made_for.notes, in_hand->made_for, complaints);
  if (complaints.empty() && altered.result.posed == nullptr)
    complaints.add(job.file, {}, "", "the garment can't be computed on the body it was made for");
  if (!complaints.empty()) return refuse(complaints);

  const int code = can_be_met(altered) ? kAllHolds : kSomethingMissed;
  std::vector<Wanted> files;
  if (options.json) files.push_back({*options.json, write_alteration_json(altered)});
  if (options.html) {
    // Two drawings say what a plan does; without a plan there is nothing to show beside the first.
    const std::string figure =
        altered.result.plans.empty() ? "" : figure_element(figure_of(altered, 0), "figure-");
    files.push_back({*options.html, write_alteration_html(altered, figure)});
  }
  return deliver(files, write_alteration(altered, colour_of_terminal(STDOUT_FILENO)), code);
}

}  // namespace easewright
