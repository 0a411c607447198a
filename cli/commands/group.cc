#include "cli/commands/group.h"

#include "cli/commands/group_key.h"
#include "cli/commands/group_run.h"
#include "cli/commands/group_sewing.h"
#include "cli/commands/group_summary.h"
#include "cli/commands/load.h"
#include "cli/commands/many.h"
#include "cli/read/member_row.h"
#include "cli/write/file.h"
#include "cli/write/member_row.h"
#include "cli/write/progress.h"

#include <algorithm>
#include <csignal>
#include <cstdio>
#include <optional>
#include <set>

#include <fmt/format.h>
#include <unistd.h>

namespace easewright {
namespace {

/// Rows with something wrong that are told one by one; the rest is counted.
constexpr size_t kMostTold = 100;

/// A line on standard error beside the progress, which makes room for it.
void say(Progress& progress, const std::string& line) {
  progress.clear();
  std::fputs((line + "\n").c_str(), stderr);
}

/// What is wrong with bodies, up to a point.
class Telling {
 public:
  explicit Telling(Progress& progress) : progress_(progress) {}
  ~Telling() {
    if (count_ > kMostTold) say(progress_, fmt::format("... and {} more", count_ - kMostTold));
  }
  Telling(const Telling&) = delete;
  Telling& operator=(const Telling&) = delete;

  void tell(const std::vector<Complaint>& wrong) {
    for (const Complaint& complaint : wrong)
      if (++count_ <= kMostTold) say(progress_, to_string(complaint));
  }

 private:
  Progress& progress_;
  size_t count_ = 0;
};

void take(RowRead read, GroupRun& run) {
  if (read.member) {
    run.members.push_back(std::move(*read.member));
  } else {
    run.refused.push_back({read.row, std::move(read.label), std::move(read.refused)});
  }
}

/// Reads finished rows back. Empty on success, else why not.
std::string read_rows(const std::string& path, GroupRun& run) {
  CsvReader reader;
  if (std::string why = reader.open(path); !why.empty()) return why;
  std::vector<CsvCell> cells;
  reader.next(cells);  // the first row names the columns
  run.members.reserve(run.range.size());
  while (reader.next(cells)) {
    auto read = read_member(cells, run.terms);
    if (!read)
      return fmt::format("line {} can't be read; remove the file to begin again",
                         cells.front().place.line);
    take(std::move(*read), run);
  }
  return {};
}

int refuse_one(const std::string& line) {
  std::fputs((line + "\n").c_str(), stderr);
  return kBadInput;
}

/// Whoever started the program sees that a signal has ended it.
[[noreturn]] void end_as_stopped(const Options& options, std::uint32_t done, const GroupRun& run) {
  std::fputs(fmt::format("easewright: stopped after {} of {} bodies; {}\n",
                         done,
                         run.range.size(),
                         options.out.empty() ? "nothing is kept (--out DIR keeps what is done)"
                                             : "the same command goes on from there")
                 .c_str(),
             stderr);
  std::signal(SIGINT, SIG_DFL);
  std::raise(SIGINT);
  std::_Exit(128 + SIGINT);
}

class GroupCommand {
 public:
  GroupCommand(const Options& options, const Loaded& loaded, Bodies& bodies, const RowRange& range)
      : options_(options), bodies_(bodies) {
    run_.job = &loaded.jobs.front();
    run_.catalogue = &loaded.catalogue;
    run_.terms = terms_of(run_.job->job, loaded.catalogue);
    run_.range = range;
    run_.count = bodies.count();
    run_.explained = options.why == Why::told;
  }

  int run() { return options_.out.empty() ? run_here() : run_into_folder(); }

 private:
  bool is_part() const { return run_.range.first > 1 || run_.range.last < run_.count; }

  /// Members are kept as they come.
  int run_here() {
    run_.members.reserve(run_.range.size());
    const auto sink = [this](std::uint32_t, const std::string& line) -> std::string {
      auto read = read_member(line, run_.terms);
      if (!read) throw std::logic_error("a row that was just written can't be read");
      take(std::move(*read), run_);
      return {};
    };
    if (const std::string why = draft(run_.range.first, nullptr, sink); !why.empty())
      return refuse_one(options_.bodies + ": " + why);
    return finish_group(options_, run_, bodies_);
  }

  /// Rows go into the folder and are read back from there.
  int run_into_folder() {
    StagedFolder folder;
    if (const std::string why = folder.make(options_.out); !why.empty())
      return refuse_one(options_.out + ": " + why);
    RowsFile rows;
    const RowsKey key = rows_key(options_, run_.job->job, bodies_);
    if (const std::string why =
            rows.open(options_.out, run_.range, is_part(), key, member_header());
        !why.empty())
      return refuse_one(why);
    folder.keep();
    if (rows.done() < run_.range.size()) {
      DoneParts parts(options_.out, key);
      const auto sink = [&rows](std::uint32_t, const std::string& line) {
        return rows.append(line);
      };
      if (const std::string why =
              draft(run_.range.first + rows.done(), is_part() ? nullptr : &parts, sink);
          !why.empty())
        return refuse_one(rows.path() + ": " + why);
    }
    if (const std::string why = read_rows(rows.path(), run_); !why.empty())
      return refuse_one(rows.path() + ": " + why);
    tell_again();
    return finish_group(options_, run_, bodies_);
  }

  /// Returns why it failed, if it did; does not return when it was stopped.
  template <typename Sink>
  std::string draft(std::uint32_t from, DoneParts* parts, const Sink& sink) {
    const std::uint32_t before = from - run_.range.first;
    std::uint32_t done = before;
    std::string why;
    Ended ended = Ended::whole;
    {
      Progress progress(before, run_.range.size());
      Telling telling(progress);
      const auto counted = [&](std::uint32_t row, const std::string& line) {
        std::string problem = sink(row, line);
        if (problem.empty()) progress.tell(++done);
        return problem;
      };
      MemberOptions how;
      how.explain = options_.why == Why::told;
      if (run_.job->job.unit == LengthUnit::inch) how.round_cm = kCmPerInch / 8;
      ended = draft_group({*run_.job,
                           *run_.catalogue,
                           run_.terms,
                           how,
                           options_.threads,
                           bodies_,
                           run_.range,
                           from,
                           parts,
                           counted,
                           [&](std::uint32_t row, const std::vector<Complaint>& wrong) {
                             told_.insert(row);
                             telling.tell(wrong);
                           }},
                          why);
    }
    if (ended == Ended::stopped) end_as_stopped(options_, done, run_);
    if (ended == Ended::whole && done < run_.range.size())
      return "has fewer rows than bodies were counted: was " + options_.bodies +
             " changed meanwhile?";
    return why;
  }

  /// What was wrong with bodies of an earlier run or another part, which this one passed over.
  void tell_again() const {
    size_t count = 0;
    for (const RefusedBody& body : run_.refused) {
      if (told_.count(body.row) == 0 && ++count <= kMostTold)
        std::fputs((body.why + "\n").c_str(), stderr);
    }
    if (count > kMostTold)
      std::fputs(fmt::format("... and {} more\n", count - kMostTold).c_str(), stderr);
  }

  const Options& options_;
  Bodies& bodies_;
  GroupRun run_;
  std::set<std::uint32_t> told_;  ///< rows with something wrong that this run has told of
};

}  // namespace

int run_group(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints, Wearer::optional);
  const auto bodies = open_bodies(options.bodies, options.same, complaints);
  const auto range = bodies ? rows_asked(options, *bodies, complaints) : std::nullopt;
  if (range) check_sewing(options, *range, complaints);
  if (!loaded || !bodies || !range || !complaints.empty()) return refuse(complaints);
  if (!bodies->left_out().empty())
    std::fputs((options.bodies + ": " + bodies->left_out() + "\n").c_str(), stderr);
  return GroupCommand(options, *loaded, *bodies, *range).run();
}

}  // namespace easewright
