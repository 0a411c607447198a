#pragma once
// What would help a group most: which wish costs it most, and which changes to the style would
// settle most of its misses. Nothing is handed out that was not tried: bodies of the group are
// drafted again without the wish, or with the change. All who miss something are, where they are
// not too many, and some of those who don't, whom a change may spoil; else a sample of each, evenly
// spread over the rows.
//
// Changes come from what would settle single bodies' misses (explain.h). Alike ones are one change,
// its amount one that half or nine tenths of those bodies need.

#include "model/group/member.h"

#include <cstddef>
#include <vector>

namespace easewright {

/// How many of some bodies were tried.
struct Tried {
  std::size_t bodies = 0, of = 0;
};

/// The bodies drafted again.
struct Trial {
  std::size_t helped = 0;  ///< of those that missed something: hold every must, should and wish now
  std::size_t harmed = 0;  ///< of those that held all: miss something now, or can't be drafted
  /// Missed musts and shoulds, and wishes, in tolerances, over those that missed something; no
  /// single miss counts more than kMostCounted.
  double missed = 0, wishes_missed = 0;
};
inline constexpr double kMostCounted = 10;

struct WithoutWish {
  int term = 0;
  Trial trial;  ///< the wish itself counts neither way
};

struct StyleChange {
  MemberCure change;
  std::size_t settles = 0;  ///< single misses of explained bodies that such a change would settle
  Trial trial;
};

struct Advice {
  Tried missing, holding;            ///< bodies that miss something, and those that don't
  Trial before;                      ///< as drafted: nobody helped, nobody harmed
  std::vector<WithoutWish> wishes;   ///< all of the group's, the dearest first
  std::vector<StyleChange> changes;  ///< at most three that help more of the group than they harm,
                                     ///< by what the tried ones stand for; the most helpful first
  std::size_t changes_tried = 0;
  bool together = false;  ///< whether the changes were tried all at once
  Trial all_changes;      ///< then what that did
};

struct AdviceOptions {
  std::size_t most_missing = 100, most_holding = 60;  ///< bodies that are tried of each
  std::size_t most_explained = 40;  ///< bodies that are explained where none of the members is
  double round_cm = 0.1;
};

/// `most` of 0 .. n - 1, evenly spread.
std::vector<std::size_t> spread_evenly(std::size_t n, std::size_t most);

/// Places among the members whose bodies advise() tries, ascending.
std::vector<std::size_t> sample_of(const std::vector<Member>& members,
                                   const Terms& terms,
                                   const AdviceOptions& options = {});

/// `bodies`: of the members that sample_of() names, in its order. `members`: the whole group.
Advice advise(const Job& job,
              const Catalogue& catalogue,
              const Terms& terms,
              const std::vector<Body>& bodies,
              const std::vector<Member>& members,
              const AdviceOptions& options = {});

}  // namespace easewright
