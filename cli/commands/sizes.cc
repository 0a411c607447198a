#include "cli/commands/sizes.h"

#include "cli/commands/load.h"
#include "cli/commands/many.h"
#include "cli/read/alter_catalogue.h"
#include "cli/read/bodies.h"
#include "cli/read/data_folder.h"
#include "cli/read/in_hand.h"
#include "cli/write/progress.h"
#include "cli/write/sizes.h"

#include <atomic>
#include <chrono>
#include <cstdio>
#include <thread>

#include <fmt/format.h>
#include <unistd.h>

namespace easewright {
namespace {

/// More would take hours: the drafts are tried on pair by pair.
constexpr std::uint32_t kMostBodies = 10000;
constexpr size_t kMostTold = 100;

/// How the job's garments are made. What is read on one garment says nothing of a run of sizes.
std::optional<MadeHow> made_how(const LoadedJob& job,
                                const Catalogue& catalogue,
                                const AlterCatalogue& vocabulary,
                                Complaints& complaints) {
  auto read = read_in_hand(job, catalogue, vocabulary, complaints);
  if (!read) return std::nullopt;
  const InHand& in_hand = read->in_hand;
  const std::pair<bool, const char*> single[] = {{in_hand.made_for.has_value(), "made for"},
                                                 {!in_hand.made_wishes.empty(), "wishes"},
                                                 {!in_hand.flat.empty(), "flat"},
                                                 {!in_hand.faults.empty(), "faults"}};
  for (const auto& [given, key] : single) {
    if (given)
      complaints.add(job.file,
                     {},
                     std::string(key) == "faults" ? key : std::string("made.") + key,
                     "is of one garment in hand; a run of sizes has none (seams, edges and 'holes "
                     "show' count)");
  }
  if (!complaints.empty()) return std::nullopt;
  return MadeHow{in_hand.seams, in_hand.finishes, in_hand.holes_show};
}

/// Reads the rows that are wanted; bad ones are told and left out.
void read_rows(const RowRange& range, Bodies& bodies, Sized& sized) {
  bodies.rewind();
  BodyRow row;
  size_t told = 0;
  for (std::uint32_t at = 1; at <= range.last; ++at) {
    if (at < range.first) {
      if (!bodies.skip()) return;
      continue;
    }
    if (!bodies.next(row)) return;
    std::vector<Complaint> wrong = row.wrong;
    if (wrong.empty()) {
      sized.bodies.push_back(row.body);
      sized.rows.push_back(row.row);
      continue;
    }
    sized.left_out.push_back({row.row, row.body.label});
    for (const Complaint& complaint : wrong)
      if (++told <= kMostTold) std::fputs((to_string(complaint) + "\n").c_str(), stderr);
  }
  if (told > kMostTold)
    std::fputs(fmt::format("... and {} more\n", told - kMostTold).c_str(), stderr);
}

/// Tells the progress of another thread's work until it ends.
class Watching {
 public:
  Watching(const std::atomic<std::size_t>& done, std::size_t all) : done_(done) {
    if (isatty(STDERR_FILENO) == 0) return;
    thread_ = std::thread([this, all] {
      Progress progress(0, all);
      while (!ended_) {
        progress.tell(done_);
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
      }
    });
  }
  ~Watching() {
    ended_ = true;
    if (thread_.joinable()) thread_.join();
  }
  Watching(const Watching&) = delete;
  Watching& operator=(const Watching&) = delete;

 private:
  const std::atomic<std::size_t>& done_;
  std::atomic<bool> ended_{false};
  std::thread thread_;
};

void weigh(const Options& options,
           const Loaded& loaded,
           const MadeHow& how,
           const AlterCatalogue& vocabulary,
           Sized& sized) {
  const ThreadLimit limit(options.threads);
  std::atomic<std::size_t> done{0};
  sized.options.done = &done;
  {
    const Watching watching(done, sized.bodies.size());
    sized.sizes = sizes(*sized.job, sized.bodies, how, loaded.catalogue, vocabulary, sized.options);
  }
  sized.options.done = nullptr;
}

}  // namespace

int run_sizes(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints, Wearer::optional);
  const auto bodies = open_bodies(options.bodies, options.same, complaints);
  const auto vocabulary = read_alter_catalogue(data_folder(), complaints);
  if (!loaded || !bodies || !vocabulary) return refuse(complaints);
  const LoadedJob& job = loaded->jobs.front();
  const auto how = made_how(job, loaded->catalogue, *vocabulary, complaints);
  const auto range = rows_asked(options, *bodies, complaints);
  if (!how || !range || !complaints.empty()) return refuse(complaints);
  if (!bodies->left_out().empty())
    std::fputs((options.bodies + ": " + bodies->left_out() + "\n").c_str(), stderr);

  Sized sized;
  sized.file = job.file;
  sized.bodies_file = options.bodies;
  sized.job = &job.job;
  sized.tell_all = options.length == Length::all;
  read_rows(*range, *bodies, sized);
  if (sized.bodies.size() > kMostBodies)
    complaints.add(options.bodies,
                   {},
                   "",
                   fmt::format("{} bodies are more than drafts can be chosen for, {}; take some of "
                               "them with --rows",
                               sized.bodies.size(),
                               kMostBodies));
  if (sized.bodies.empty()) complaints.add(options.bodies, {}, "", "there is no body to draft for");
  if (!complaints.empty()) return refuse(complaints);

  sized.options.count = options.count;
  sized.options.own_minutes = options.own_minutes;
  sized.options.minutes_per_miss = options.worth_minutes;
  if (job.job.unit == LengthUnit::inch) sized.options.round_cm = kCmPerInch / 8;
  weigh(options, *loaded, *how, *vocabulary, sized);
  for (const int i : sized.sizes.refused)
    std::fputs(
        fmt::format("{}: row {}: {}: a body with these measures is impossible, or the garment "
                    "can't be computed on it (`group` says why)\n",
                    options.bodies,
                    sized.rows[static_cast<size_t>(i)],
                    sized.bodies[static_cast<size_t>(i)].label)
            .c_str(),
        stderr);
  const bool lost = !sized.left_out.empty() || !sized.sizes.refused.empty();
  const int code = lost ? kBadInput : serves_all(sized) ? kAllHolds : kSomethingMissed;
  std::vector<Wanted> files;
  if (options.json) files.push_back({*options.json, write_sizes_json(sized)});
  return deliver(files, write_sizes(sized, colour_of_terminal(STDOUT_FILENO)), code);
}

}  // namespace easewright
