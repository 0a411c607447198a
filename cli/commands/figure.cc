#include "cli/commands/figure.h"

#include "cli/commands/explore.h"
#include "cli/read/alter_catalogue.h"
#include "cli/read/data_folder.h"
#include "cli/read/in_hand.h"
#include "cli/write/figure.h"
#include "cli/write/report.h"

#include <fmt/format.h>

namespace easewright {
namespace {

bool is_pdf(const std::string& path) { return path.ends_with(".pdf") || path.ends_with(".PDF"); }

int hand_out(const Options& options, const DrawnFigure& figure, const std::string& line, int code) {
  const std::string& path = *options.figure;
  return deliver({{path, is_pdf(path) ? figure_pdf(figure) : figure_svg(figure)}}, line, code);
}

int draw_fit(const Options& options, const Loaded& loaded) {
  Complaints complaints;
  const auto judged = fit_to_explore(loaded, complaints);
  if (!judged) return refuse(complaints);
  return hand_out(options,
                  figure_of(*judged),
                  write_brief(*judged),
                  fits(judged->result) ? kAllHolds : kSomethingMissed);
}

int draw_plan(const Options& options, const Loaded& loaded) {
  Complaints complaints;
  const auto vocabulary = read_alter_catalogue(data_folder(), complaints);
  if (!vocabulary) return refuse(complaints);
  const LoadedJob& job = loaded.jobs.front();
  const auto in_hand = read_in_hand(job, loaded.catalogue, *vocabulary, complaints);
  if (!in_hand) return refuse(complaints);

  Altered altered;
  altered.file = job.file;
  altered.job = &job.job;
  altered.in_hand = &in_hand->in_hand;
  AlterOptions how;
  how.plans = *options.figure_plan;
  if (job.job.unit == LengthUnit::inch) how.round_cm = kCmPerInch / 8;
  altered.result = alter(job.job, in_hand->in_hand, loaded.catalogue, *vocabulary, how);
  complain_of_body(altered.result.taped.notes, job.places, complaints);
  if (in_hand->in_hand.made_for)
    complain_of_body(altered.result.made_for.notes, in_hand->made_for, complaints);
  if (complaints.empty() && altered.result.posed == nullptr)
    complaints.add(job.file, {}, "", "the garment can't be computed on the body it was made for");
  const auto wanted = static_cast<size_t>(*options.figure_plan);
  if (complaints.empty() && altered.result.plans.size() < wanted) {
    complaints.add(job.file,
                   {},
                   "",
                   altered.result.plans.empty()
                       ? "no plan: there is nothing to alter, or nothing that helps"
                       : fmt::format("there is no plan {}: there {} {}",
                                     wanted,
                                     altered.result.plans.size() == 1 ? "is" : "are",
                                     altered.result.plans.size()));
  }
  if (!complaints.empty()) return refuse(complaints);
  return hand_out(options,
                  figure_of(altered, wanted - 1),
                  fmt::format("{}: before and after plan {}\n", job.job.label, wanted),
                  can_be_met(altered) ? kAllHolds : kSomethingMissed);
}

}  // namespace

int run_figure(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  if (!loaded) return refuse(complaints);
  return options.figure_plan ? draw_plan(options, *loaded) : draw_fit(options, *loaded);
}

}  // namespace easewright
