#pragma once
// What would help a group most: which wish costs it most, and which changes to the style would
// settle most of its misses. Nothing is handed out that was not tried: the group, or a sample of it
// spread evenly over its rows, is drafted again without the wish, or with the change.
//
// Changes come from what would settle single bodies' misses (explain.h). Alike ones are one change,
// its amount one that half or nine tenths of those bodies need; the same is then asked of
// everybody, and bodies that it spoils count against it.

#include "model/group/member.h"

#include <atomic>
#include <cstddef>
#include <vector>

namespace easewright {

/// The sample drafted again.
struct Trial {
  std::size_t fit_fully = 0;  ///< hold every must, should and wish
  std::size_t helped = 0;     ///< of those that did not before
  std::size_t harmed = 0;     ///< that held all before and miss something now
  /// Missed musts and shoulds, and wishes, in tolerances, over the sample; no single miss counts
  /// more than kMostCounted.
  double missed = 0, wishes_missed = 0;
  std::size_t refused = 0;  ///< bodies that the changed garment can't be computed on
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
  std::size_t sample = 0, of = 0;    ///< bodies tried on, of how many
  Trial before;                      ///< the sample as drafted
  std::vector<WithoutWish> wishes;   ///< all of the group's, the dearest first
  std::vector<StyleChange> changes;  ///< at most three that help, the most helpful first
  std::size_t changes_tried = 0;
  bool together = false;  ///< whether the changes were tried all at once
  Trial all_changes;      ///< then what that did
};

struct AdviceOptions {
  std::size_t most_sample = 150;    ///< bodies; past it every n-th
  std::size_t most_explained = 40;  ///< bodies that are explained where none of the members is
  double round_cm = 0.1;
  std::atomic<std::size_t>* done = nullptr;  ///< garments drafted so far
};

/// Which rows to hand to advise(): `most` of 0 .. n - 1, evenly spread.
std::vector<std::size_t> sample_rows(std::size_t n, std::size_t most);

/// `bodies`: the sample, in the order of sample_rows() over the group. `members`: the whole group,
/// for its cures.
Advice advise(const Job& job,
              const Catalogue& catalogue,
              const Terms& terms,
              const std::vector<Body>& bodies,
              const std::vector<Member>& members,
              const AdviceOptions& options = {});

}  // namespace easewright
