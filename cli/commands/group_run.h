#pragma once
// Many bodies drafted for one job, in parallel and in order. What is found is streamed: into rows
// in a folder, or into members.

#include "cli/commands/rows.h"
#include "cli/read/bodies.h"
#include "cli/read/job.h"
#include "model/group/member.h"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace easewright {

/// A body that could not be drafted for.
struct RefusedBody {
  std::uint32_t row = 0;
  std::string label;
  std::string why;  ///< one line, with file, line and column
};

/// What a run over a group found, for whoever sums it up. Members are as their rows say, to the
/// rows' decimals, whether they were drafted just now or by an earlier run.
struct GroupRun {
  const LoadedJob* job = nullptr;
  const Catalogue* catalogue = nullptr;
  Terms terms;
  RowRange range;           ///< the rows that were asked for
  std::uint32_t count = 0;  ///< of all bodies there are
  std::vector<Member> members;
  std::vector<RefusedBody> refused;
  bool explained = false;  ///< cures were looked for
};

enum class Ended { whole, stopped, failed };

/// Drafts rows `from` to `range.last`; `sink` gets each line in order, as write_member() or
/// write_refused() make it, and says why it can't go on, if it can't. `told` gets what is wrong
/// with a body. Ends early on SIGINT or SIGTERM, whole rows done. `threads` 0: all that there are.
struct DraftGroup {
  const LoadedJob& job;
  const Catalogue& catalogue;
  const Terms& terms;
  MemberOptions options;
  int threads = 0;
  Bodies& bodies;
  RowRange range;
  std::uint32_t from = 1;
  DoneParts* parts = nullptr;
  std::function<std::string(std::uint32_t row, const std::string& line)> sink;
  std::function<void(std::uint32_t row, const std::vector<Complaint>&)> told;
};
/// `why` is the sink's reason where it failed.
Ended draft_group(const DraftGroup& group, std::string& why);

}  // namespace easewright
