#include "model/group/advice.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include <tbb/parallel_for.h>

namespace easewright {
namespace {

using solver::Level;

/// Changes that are tried on bodies that miss something; of those the most helpful on all.
constexpr size_t kMostKinds = 12, kMostOnAll = 6, kHandedOut = 3;
/// Of the bodies whose misses a change would settle, so many are to be settled by its amount: half
/// of them, nine tenths. Where a figure may go either way, so that nobody knows which end is the
/// far one, a tenth as well.
constexpr double kReach[] = {0.1, 0.5, 0.9};

/// A change without its amounts.
using Kind = std::vector<std::tuple<CureStep::Kind, solver::Side, bool, int, int>>;

Kind kind_of(const MemberCure& cure) {
  Kind kind;
  for (size_t i = 0; i < cure.count; ++i) {
    const MemberStep& s = cure.steps[i];
    kind.emplace_back(s.kind, s.side, s.between, s.which, s.option);
  }
  return kind;
}

/// The sample's draft of one job: what each body misses; nothing where it is refused.
using Drafts = std::vector<std::optional<std::vector<MemberMiss>>>;

class Advising {
 public:
  Advising(const Job& job,
           const Catalogue& catalogue,
           const Terms& terms,
           const std::vector<Body>& bodies,
           const std::vector<Member>& members,
           const AdviceOptions& options)
      : job_(job),
        catalogue_(catalogue),
        terms_(terms),
        bodies_(bodies),
        members_(members),
        options_(options) {}

  Advice run() {
    for (size_t i = 0; i < bodies_.size(); ++i) all_.push_back(i);
    before_ = draft(job_, all_);
    for (const size_t i : all_) (holds(before_[i], -1) ? holding_ : missing_).push_back(i);
    advice_.holding = {holding_.size(), 0};
    for (const Member& m : members_) advice_.holding.of += all_hold(m, terms_, Level::wish);
    advice_.missing = {missing_.size(), members_.size() - advice_.holding.of};
    advice_.before = judged(before_, -1);
    try_without_wishes();
    try_changes();
    return std::move(advice_);
  }

 private:
  /// Drafts of these bodies; the others stay empty.
  Drafts draft(const Job& job, const std::vector<size_t>& which) const {
    Drafts drafts(bodies_.size());
    tbb::parallel_for(size_t{0}, which.size(), [&](size_t k) {
      Drafted drafted = draft_member(
          job, bodies_[which[k]], catalogue_, terms_, {.explain = false, .sureness = false});
      if (drafted.member) drafts[which[k]] = std::move(drafted.member->misses);
    });
    return drafts;
  }

  bool counts(const MemberMiss& miss, int ignored) const {
    return static_cast<int>(miss.term) != ignored && terms_.all[miss.term].strength <= Level::wish;
  }

  /// Every must, should and wish. `ignored`: a term that does not count, -1 for none.
  bool holds(const std::optional<std::vector<MemberMiss>>& misses, int ignored) const {
    return misses && std::none_of(misses->begin(), misses->end(), [&](const MemberMiss& m) {
             return counts(m, ignored);
           });
  }

  Trial judged(const Drafts& drafts, int ignored) const {
    Trial trial;
    for (const size_t i : holding_) trial.harmed += !holds(drafts[i], ignored);
    for (const size_t i : missing_) {
      trial.helped += holds(drafts[i], ignored);
      if (!drafts[i]) continue;
      for (const MemberMiss& m : *drafts[i]) {
        if (!counts(m, ignored)) continue;
        const double size = std::min(std::abs(in_tolerances(m, terms_)), kMostCounted);
        (terms_.all[m.term].strength <= Level::should ? trial.missed : trial.wishes_missed) += size;
      }
    }
    return trial;
  }

  /// Who holds everything holds it without a wish as well: nobody but those who miss something is
  /// drafted again.
  void try_without_wishes() {
    for (size_t t = 0; t < terms_.all.size(); ++t) {
      if (terms_.all[t].rule != nullptr) continue;
      Job without = job_;
      const auto same = [&](const Wish& wish) { return wish.id == terms_.all[t].wish_id; };
      std::erase_if(without.style.wishes, same);
      std::erase_if(without.wishes, same);
      Drafts drafts = before_;
      // A member's terms are told by the group's places: the wish that is gone is not among them,
      // the others keep theirs.
      const Drafts fresh = draft(without, missing_);
      for (const size_t i : missing_) drafts[i] = fresh[i];
      advice_.wishes.push_back({static_cast<int>(t), judged(drafts, static_cast<int>(t))});
    }
    std::stable_sort(advice_.wishes.begin(),
                     advice_.wishes.end(),
                     [this](const auto& a, const auto& b) { return better(a.trial, b.trial); });
  }

  /// Bodies of the whole group that a trial stands for: helped less harmed.
  double net(const Trial& trial) const {
    const auto stands_for = [](std::size_t count, const Tried& tried) {
      return tried.bodies == 0 ? 0.0
                               : static_cast<double>(count) * static_cast<double>(tried.of) /
                                     static_cast<double>(tried.bodies);
    };
    return stands_for(trial.helped, advice_.missing) - stands_for(trial.harmed, advice_.holding);
  }

  bool better(const Trial& a, const Trial& b) const {
    const double more = net(a) - net(b);
    if (std::abs(more) > 1e-6) return more > 0;
    if (std::abs(a.missed - b.missed) > 1e-6) return a.missed < b.missed;
    return a.wishes_missed < b.wishes_missed - 1e-6;
  }

  /// Cures of the members; where nobody was explained, of some of the sample.
  std::map<Kind, std::vector<MemberCure>> find_cures() const {
    std::map<Kind, std::vector<MemberCure>> kinds;
    const auto add = [&kinds](const Member& member) {
      for (const MemberMiss& miss : member.misses)
        for (const MemberCure& cure : miss.cures) kinds[kind_of(cure)].push_back(cure);
    };
    // A member that misses nothing counts as explained whatever was asked for.
    const bool explained = std::any_of(members_.begin(), members_.end(), [](const Member& m) {
      return m.explained && !m.misses.empty();
    });
    if (explained) {
      for (const Member& m : members_) add(m);
      return kinds;
    }
    std::vector<Drafted> some(std::min(missing_.size(), options_.most_explained));
    const auto rows = spread_evenly(missing_.size(), some.size());
    tbb::parallel_for(size_t{0}, some.size(), [&](size_t k) {
      some[k] = draft_member(job_,
                             bodies_[missing_[rows[k]]],
                             catalogue_,
                             terms_,
                             {.sureness = false, .round_cm = options_.round_cm});
    });
    for (const Drafted& drafted : some)
      if (drafted.member) add(*drafted.member);
    return kinds;
  }

  /// An exact wish that stays exact may be moved up or down.
  bool either_way(const MemberStep& s) const {
    return s.kind == CureStep::Kind::wish && !s.between && terms_.all[s.which].exact;
  }

  /// One change for many: each step's amount is what so many of these bodies need. Limits move
  /// outwards.
  MemberCure joined(const std::vector<MemberCure>& alike, double reach) const {
    MemberCure cure = alike.front();
    for (size_t s = 0; s < cure.count; ++s) {
      if (cure.steps[s].kind == CureStep::Kind::option) continue;
      std::vector<float> to;
      for (const MemberCure& c : alike) to.push_back(c.steps[s].to);
      std::sort(to.begin(), to.end());
      if (cure.steps[s].side == solver::Side::lower && !either_way(cure.steps[s]))
        std::reverse(to.begin(), to.end());
      const auto at = static_cast<size_t>(std::ceil(reach * static_cast<double>(to.size()))) - 1;
      cure.steps[s].to = to[at];
    }
    return cure;
  }

  std::vector<StyleChange> candidates() const {
    const auto kinds = find_cures();
    std::vector<const std::vector<MemberCure>*> order;
    for (const auto& [kind, cures] : kinds) order.push_back(&cures);
    std::stable_sort(order.begin(), order.end(), [](const auto* a, const auto* b) {
      return a->size() > b->size();
    });
    order.resize(std::min(order.size(), kMostKinds));
    std::vector<StyleChange> all;
    for (const auto* alike : order) {
      const auto& steps = alike->front().steps;
      const bool any = std::any_of(steps.begin(),
                                   steps.begin() + alike->front().count,
                                   [this](const MemberStep& s) { return either_way(s); });
      for (const double reach : kReach) {
        if (reach < 0.5 && !any) continue;
        const MemberCure change = joined(*alike, reach);
        const bool known = std::any_of(
            all.begin(), all.end(), [&](const StyleChange& c) { return c.change == change; });
        if (!known) all.push_back({change, alike->size(), {}});
      }
    }
    return all;
  }

  /// The change on these bodies, the others as before.
  Trial tried(const Job& job, const std::vector<size_t>& which) const {
    Drafts drafts = before_;
    const Drafts fresh = draft(job, which);
    for (const size_t i : which) drafts[i] = fresh[i];
    return judged(drafts, -1);
  }

  void sort(std::vector<StyleChange>& changes) const {
    std::stable_sort(changes.begin(), changes.end(), [this](const auto& a, const auto& b) {
      return better(a.trial, b.trial);
    });
  }

  static bool same_kind(const StyleChange& a, const StyleChange& b) {
    return kind_of(a.change) == kind_of(b.change);
  }

  void try_changes() {
    std::vector<StyleChange> changes = candidates();
    advice_.changes_tried = changes.size();
    for (StyleChange& c : changes) c.trial = tried(with_cure(job_, terms_, c.change), missing_);
    sort(changes);
    changes.resize(std::min(changes.size(), kMostOnAll));
    for (StyleChange& c : changes) c.trial = tried(with_cure(job_, terms_, c.change), all_);
    sort(changes);
    for (const StyleChange& c : changes) {
      const bool helps = net(c.trial) > 0;
      const bool known = std::any_of(advice_.changes.begin(),
                                     advice_.changes.end(),
                                     [&](const StyleChange& o) { return same_kind(o, c); });
      if (helps && !known && advice_.changes.size() < kHandedOut) advice_.changes.push_back(c);
    }
    try_all_changes();
  }

  void try_all_changes() {
    if (advice_.changes.size() < 2) return;
    Job job = job_;
    for (const StyleChange& c : advice_.changes) job = with_cure(job, terms_, c.change);
    advice_.all_changes = tried(job, all_);
    advice_.together = true;
  }

  const Job& job_;
  const Catalogue& catalogue_;
  const Terms& terms_;
  const std::vector<Body>& bodies_;
  const std::vector<Member>& members_;
  const AdviceOptions& options_;
  std::vector<size_t> all_, missing_, holding_;  ///< places among the bodies
  Drafts before_;
  Advice advice_;
};

}  // namespace

std::vector<std::size_t> spread_evenly(std::size_t n, std::size_t most) {
  std::vector<std::size_t> places;
  const std::size_t count = std::min(n, most);
  for (std::size_t i = 0; i < count; ++i) places.push_back(i * n / count);
  return places;
}

std::vector<std::size_t> sample_of(const std::vector<Member>& members,
                                   const Terms& terms,
                                   const AdviceOptions& options) {
  std::vector<std::size_t> missing, holding, sample;
  for (size_t i = 0; i < members.size(); ++i)
    (all_hold(members[i], terms, Level::wish) ? holding : missing).push_back(i);
  for (const size_t k : spread_evenly(missing.size(), options.most_missing))
    sample.push_back(missing[k]);
  for (const size_t k : spread_evenly(holding.size(), options.most_holding))
    sample.push_back(holding[k]);
  std::sort(sample.begin(), sample.end());
  return sample;
}

Advice advise(const Job& job,
              const Catalogue& catalogue,
              const Terms& terms,
              const std::vector<Body>& bodies,
              const std::vector<Member>& members,
              const AdviceOptions& options) {
  return Advising(job, catalogue, terms, bodies, members, options).run();
}

}  // namespace easewright
