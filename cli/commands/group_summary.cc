#include "cli/commands/group_summary.h"

#include "cli/commands/group_sewing.h"
#include "cli/commands/load.h"
#include "cli/commands/many.h"
#include "cli/write/group_line.h"
#include "cli/write/group_summary.h"
#include "cli/write/page.h"

#include <algorithm>

#include <fmt/format.h>
#include <unistd.h>

namespace easewright {
namespace {

/// The bodies that advice is tried on, read again from where they came.
std::vector<Body> read_sample(const GroupRun& run, Bodies& bodies, const AdviceOptions& how) {
  std::vector<Body> sample;
  bodies.rewind();
  BodyRow row;
  std::uint32_t at = 0;  ///< rows read or passed over
  for (const size_t i : sample_of(run.members, run.terms, how)) {
    const std::uint32_t wanted = run.members[i].row;
    while (at + 1 < wanted && bodies.skip()) ++at;
    if (!bodies.next(row)) break;
    ++at;
    if (row.wrong.empty()) sample.push_back(row.body);
  }
  return sample;
}

std::optional<Advice> advice_of(const Options& options, const GroupRun& run, Bodies& bodies) {
  if (options.why == Why::skipped || options.length == Length::brief || run.members.empty())
    return std::nullopt;
  const ThreadLimit limit(options.threads);
  AdviceOptions how;
  if (run.job->job.unit == LengthUnit::inch) how.round_cm = kCmPerInch / 8;
  return advise(
      run.job->job, *run.catalogue, run.terms, read_sample(run, bodies, how), run.members, how);
}

/// As the rows' own file: parts don't write over each other's.
std::string page_name(const GroupRun& run) {
  const bool part = run.range.first > 1 || run.range.last < run.count;
  return part ? fmt::format("summary-{}-{}.html", run.range.first, run.range.last) : "summary.html";
}

}  // namespace

int finish_group(const Options& options, const GroupRun& run, Bodies& bodies) {
  const bool holds = std::all_of(run.members.begin(), run.members.end(), [&](const Member& m) {
    return all_hold(m, run.terms, solver::Level::should);
  });
  const int code = !run.refused.empty() ? kBadInput : holds ? kAllHolds : kSomethingMissed;
  if (options.length == Length::brief && !options.json)
    return deliver({}, write_group_line(run), code);

  GroupSummary group;
  group.run = &run;
  group.bodies_file = options.bodies;
  group.summary = summarise(run.members, run.terms);
  group.advice = advice_of(options, run, bodies);
  std::vector<Wanted> files;
  if (options.sewing) {
    Complaints complaints;
    const Allowances allowances = allowances_of(*run.job, complaints);
    if (!complaints.empty()) return refuse(complaints);
    group.sewing = sew_group(options, run, allowances, bodies, files);
  }
  if (options.json) files.push_back({*options.json, write_group_json(group)});
  if (!options.out.empty())
    files.push_back({options.out + "/" + page_name(run), write_group_html(group)});
  const std::string report = options.length == Length::brief
                                 ? write_group_line(run)
                                 : write_group_summary(group, colour_of_terminal(STDOUT_FILENO));
  return deliver(files, report, code);
}

}  // namespace easewright
