#include "cli/commands/group_run.h"

#include "cli/commands/load.h"
#include "cli/commands/many.h"
#include "cli/write/member_row.h"

#include <array>
#include <atomic>
#include <csignal>
#include <memory>
#include <utility>

#include <tbb/parallel_pipeline.h>
#include <tbb/task_arena.h>

namespace easewright {
namespace {

std::atomic<bool> stopped{false};

void stop(int) { stopped = true; }

/// A first signal asks for an end after the rows in hand; a second one ends at once.
class StopOnSignal {
 public:
  StopOnSignal() {
    struct sigaction action {};
    action.sa_handler = stop;
    action.sa_flags = static_cast<int>(SA_RESETHAND);
    for (size_t i = 0; i < kSignals.size(); ++i) ::sigaction(kSignals[i], &action, &before_[i]);
  }
  ~StopOnSignal() {
    for (size_t i = 0; i < kSignals.size(); ++i) ::sigaction(kSignals[i], &before_[i], nullptr);
  }
  StopOnSignal(const StopOnSignal&) = delete;
  StopOnSignal& operator=(const StopOnSignal&) = delete;

 private:
  static constexpr std::array<int, 2> kSignals = {SIGINT, SIGTERM};
  std::array<struct sigaction, 2> before_{};
};

/// One body on its way through.
struct Slot {
  BodyRow body;
  std::string line;  ///< of an earlier run, or once it is drafted
  std::vector<Complaint> wrong;
};

std::string joined(const std::vector<Complaint>& wrong) {
  std::string text;
  for (const Complaint& c : wrong) text += (text.empty() ? "" : "; ") + to_string(c);
  return text;
}

/// Reads the rows that are wanted, one a call.
class Feed {
 public:
  explicit Feed(const DraftGroup& group) : group_(group) {
    group_.bodies.rewind();
    for (std::uint32_t row = 1; row < group_.from && group_.bodies.skip(); ++row) {
    }
    next_ = group_.from;
  }

  /// Null at the end.
  Slot* take() {
    if (stopped || next_ > group_.range.last) return nullptr;
    auto slot = std::make_unique<Slot>();
    auto line = group_.parts != nullptr ? group_.parts->take(next_) : std::nullopt;
    if (line) {
      slot->line = std::move(*line);
      slot->body.row = next_;
      if (!group_.bodies.skip()) return nullptr;
    } else if (!group_.bodies.next(slot->body)) {
      return nullptr;
    }
    ++next_;
    return slot.release();
  }

 private:
  const DraftGroup& group_;
  std::uint32_t next_ = 1;
};

void draft(const DraftGroup& group, Slot& slot) {
  if (!slot.line.empty()) return;
  BodyRow& body = slot.body;
  slot.wrong = body.wrong;
  if (slot.wrong.empty()) {
    Drafted drafted =
        draft_member(group.job.job, body.body, group.catalogue, group.terms, group.options);
    if (drafted.member) {
      drafted.member->row = body.row;
      slot.line = write_member(*drafted.member, group.terms);
      return;
    }
    slot.wrong = body.complaints_of(drafted.errors);
    Complaints limits;
    for (const CrossedLimits& c : drafted.crossed)
      limits.add(body.file, body.place, spoken(info(c.key).id), words_of(c));
    for (const Complaint& c : limits.in_order()) slot.wrong.push_back(c);
  }
  slot.line = write_refused(body.row, body.body.label, joined(slot.wrong));
}

}  // namespace

Ended draft_group(const DraftGroup& group, std::string& why) {
  const StopOnSignal signals;
  why.clear();
  const ThreadLimit limit(group.threads);
  Feed feed(group);
  // A body can take a hundred times as long to explain as most: enough others that nobody waits for
  // it.
  const auto in_hand = static_cast<size_t>(64 * tbb::this_task_arena::max_concurrency());
  const auto work = [&group](Slot* slot) {
    if (!stopped) draft(group, *slot);
    return slot;
  };
  bool cut = false;  // rows end before the first that the stop has left undone
  std::atomic<bool> failed{false};
  const auto write = [&](Slot* done) {
    const std::unique_ptr<Slot> slot(done);
    cut = cut || slot->line.empty();
    if (failed || cut) return;
    if (!slot->wrong.empty()) group.told(slot->body.row, slot->wrong);
    why = group.sink(slot->body.row, slot->line);
    if (!why.empty()) failed = true;
  };
  const auto read = [&](tbb::flow_control& control) -> Slot* {
    Slot* slot = failed ? nullptr : feed.take();
    if (slot == nullptr) control.stop();
    return slot;
  };
  tbb::parallel_pipeline(
      in_hand,
      tbb::make_filter<void, Slot*>(tbb::filter_mode::serial_in_order, read) &
          tbb::make_filter<Slot*, Slot*>(tbb::filter_mode::parallel, work) &
          tbb::make_filter<Slot*, void>(tbb::filter_mode::serial_in_order, write));
  return failed ? Ended::failed : stopped ? Ended::stopped : Ended::whole;
}

}  // namespace easewright
