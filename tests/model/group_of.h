#pragma once
// A group drafted for tests, on all processors; no Catch2 in here, so that threads may draft.

#include "model/group/member.h"
#include "tests/model/demo.h"
#include "tests/model/population.h"

#include <cstdlib>
#include <optional>
#include <string>
#include <vector>

#include <tbb/parallel_for.h>

namespace easewright::tests {

struct Group {
  Job job;
  Terms terms;
  std::vector<Body> bodies;  ///< of the members, in their order
  std::vector<Member> members;
  std::size_t refused = 0;

  int rule(const std::string& name) const {
    const int place = terms.find_rule(name);
    if (place < 0) std::abort();  // a rule of the shipped data was renamed
    return place;
  }
};

inline Group group_of(const std::vector<Body>& bodies,
                      const Job& job,
                      const MemberOptions& options = {.explain = false, .sureness = false}) {
  Group group;
  group.job = job;
  group.terms = terms_of(job, shipped_catalogue());
  std::vector<std::optional<Member>> members(bodies.size());
  tbb::parallel_for(size_t{0}, bodies.size(), [&](size_t i) {
    members[i] = draft_member(job, bodies[i], shipped_catalogue(), group.terms, options).member;
  });
  for (size_t i = 0; i < bodies.size(); ++i) {
    if (!members[i]) {
      ++group.refused;
      continue;
    }
    members[i]->row = static_cast<std::uint32_t>(i + 1);
    group.bodies.push_back(bodies[i]);
    group.members.push_back(std::move(*members[i]));
  }
  return group;
}

/// The style from the choir's bolt; the wishes are the job's own.
inline Job group_job(const std::string& style, const std::vector<Wish>& wishes = {}) {
  Job job = population_job({}, shipped_style(style));
  job.wishes = wishes;
  return job;
}

inline bool misses(const Member& member, int term) {
  for (const MemberMiss& m : member.misses)
    if (static_cast<int>(m.term) == term) return true;
  return false;
}

/// The choir's ten bodies.
inline std::vector<Body> choir() {
  std::vector<Body> bodies;
  for (const char* name : {"soprano-1",
                           "soprano-2",
                           "mezzo-1",
                           "mezzo-2",
                           "alto-1",
                           "alto-2",
                           "alto-3",
                           "tenor-1",
                           "bass-1",
                           "bass-2"})
    bodies.push_back(demo_job(std::string("choir/jobs/") + name + ".yaml").body);
  return bodies;
}

}  // namespace easewright::tests
