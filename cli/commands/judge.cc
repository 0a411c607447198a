#include "cli/commands/judge.h"

#include "cli/commands/leaf.h"
#include "cli/write/html.h"
#include "cli/write/json.h"
#include "cli/write/report.h"

#include <algorithm>

#include <unistd.h>

namespace easewright {
namespace {

std::vector<Judged> judge_all(const Loaded& loaded,
                              const Judgement& judgement,
                              Complaints& complaints) {
  std::vector<Judged> all;
  for (const LoadedJob& job : loaded.jobs) {
    Judged judged;
    judged.file = job.file;
    judged.job = &job.job;
    judgement(loaded.catalogue, judged);
    complain_of_body(judged.result.completed.notes, job.places, complaints);
    all.push_back(std::move(judged));
  }
  return all;
}

std::string report_of(const std::vector<Judged>& all, Length length) {
  const Colour colour = colour_of_terminal(STDOUT_FILENO);
  std::string text;
  for (const Judged& judged : all) {
    if (length == Length::brief) {
      text += write_brief(judged);
    } else {
      text += (text.empty() ? "" : "\n") + write_report(judged, colour);
    }
  }
  return text;
}

std::string html_of(const std::vector<Judged>& all, const std::vector<Allowances>& allowances) {
  std::vector<Leaf> leaves;
  for (size_t i = 0; i < all.size(); ++i) leaves.push_back(leaf_of(all[i], allowances[i], i));
  return write_html(leaves);
}

}  // namespace

int judge(const Options& options, Draft draft, const Judgement& judgement) {
  Complaints complaints;
  const auto loaded = load(options, draft, complaints);
  if (!loaded) return refuse(complaints);
  std::vector<Allowances> allowances;  // drawn by the page alone
  if (options.html) {
    for (const LoadedJob& job : loaded->jobs) allowances.push_back(allowances_of(job, complaints));
  }
  const std::vector<Judged> all = judge_all(*loaded, judgement, complaints);
  if (!complaints.empty()) return refuse(complaints);

  const bool holds =
      std::all_of(all.begin(), all.end(), [](const Judged& j) { return fits(j.result); });
  const int code = holds ? kAllHolds : kSomethingMissed;
  std::vector<Wanted> files;
  if (options.json) {
    const char* command = options.command == Command::fit ? "fit" : "check";
    files.push_back({*options.json, write_json(all, command)});
  }
  if (options.html) files.push_back({*options.html, html_of(all, allowances)});
  return deliver(files, report_of(all, options.length), code);
}

}  // namespace easewright
