#include "cli/commands/judge.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>

#include "cli/read/catalogue.h"
#include "cli/read/data_folder.h"
#include "cli/write/file.h"
#include "cli/write/json.h"
#include "cli/write/report.h"

namespace easewright {
namespace {

/// A file of garbage can earn a complaint a line; past this many nobody reads on.
constexpr size_t kMostComplaints = 100;

std::vector<Judged> judge_all(const std::vector<LoadedJob>& jobs,
                              const Catalogue& catalogue,
                              const Judgement& judgement,
                              Complaints& complaints) {
  std::vector<Judged> all;
  for (const LoadedJob& loaded : jobs) {
    all.push_back({loaded.file, &loaded.job, judgement(loaded.job, catalogue)});
    complain_of_body(all.back().result.completed.notes, loaded.places, complaints);
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

}  // namespace

int refuse(const Complaints& complaints) {
  const auto all = complaints.in_order();
  for (size_t i = 0; i < std::min(all.size(), kMostComplaints); ++i) fmt::print(stderr, "{}\n", to_string(all[i]));
  if (all.size() > kMostComplaints) fmt::print(stderr, "... and {} more\n", all.size() - kMostComplaints);
  return kBadInput;
}

int judge(const Options& options, Draft draft, const Judgement& judgement) {
  Complaints complaints;
  const std::string data = data_folder();
  std::vector<LoadedJob> jobs;
  for (const std::string& file : options.jobs) {
    auto loaded = read_job(file, data, options.overrides, draft, complaints);
    if (loaded) jobs.push_back(std::move(*loaded));
  }
  const auto catalogue = read_catalogue(data, complaints);
  if (!complaints.empty()) return refuse(complaints);

  const std::vector<Judged> all = judge_all(jobs, *catalogue, judgement, complaints);
  if (!complaints.empty()) return refuse(complaints);

  const bool json_alone = options.json == "-";
  if (options.json) {
    const std::string json = write_json(all, options.command == Command::fit ? "fit" : "check");
    if (json_alone) {
      fmt::print("{}", json);
    } else if (const std::string why = write_file(*options.json, json); !why.empty()) {
      complaints.add(*options.json, {}, "", why);
      return refuse(complaints);
    }
  }
  if (!json_alone) fmt::print("{}", report_of(all, options.length));
  const bool holds = std::all_of(all.begin(), all.end(), [](const Judged& j) { return fits(j.result); });
  if (std::fflush(stdout) != 0) {
    fmt::print(stderr, "easewright: standard output can't be written\n");
    return kBadInput;
  }
  return holds ? kAllHolds : kSomethingMissed;
}

}  // namespace easewright
