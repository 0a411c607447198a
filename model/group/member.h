#pragma once
// One body of a group, drafted: what is kept of it. A group is one style, cloth and set of wishes
// over many bodies, so that rules, wishes and draft values are told by their place and a member is
// about a kilobyte: 100,000 of them fit where a few hundred whole results would.

#include "model/explain.h"
#include "model/fit.h"
#include "model/job.h"

#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace easewright {

/// A rule or a wish of the group. Not all apply to every member: some ask for the body's build, or
/// for a way of putting the garment on.
struct Term {
  const Rule* rule = nullptr;  ///< null for a wish; owned by the catalogue
  std::string name;            ///< the rule's, or the spoken id of the wish
  std::string wish_id;         ///< set for wishes
  solver::Level strength = solver::Level::should;
  double tolerance = 1;  ///< inside units
  Dimension dimension;
  bool exact = false;  ///< of a wish: for just so much
};

/// The catalogue's rules in its order, then the wishes that stand: the style's that the job does
/// not replace, then the job's. A term's place in here is its name in every member.
struct Terms {
  std::vector<Term> all;

  /// Place of a rule by name or of a wish by id; -1 when there is none.
  int find_rule(std::string_view name) const;
  int find_wish(std::string_view id) const;
};
Terms terms_of(const Job& job, const Catalogue& catalogue);

/// One change to the job: CureStep without words.
struct MemberStep {
  CureStep::Kind kind = CureStep::Kind::wish;
  solver::Side side = solver::Side::lower;  ///< that gives; lower where an exact wish moves whole
  bool between = false;     ///< of an exact wish: all from its old figure to `to` is accepted
  std::uint8_t option = 0;  ///< of an option
  std::uint16_t which = 0;  ///< a wish: its term; a limit: its ValueKey; an option: its Switch
  float to = 0;             ///< the new limit, inside units, rounded to what can be typed
  friend bool operator==(const MemberStep&, const MemberStep&) = default;
};

/// What would settle a miss; tried, as all cures are.
struct MemberCure {
  std::array<MemberStep, 2> steps{};
  std::uint8_t count = 0;  ///< of steps, 1 or 2
  friend bool operator==(const MemberCure&, const MemberCure&) = default;
};

struct MemberMiss {
  std::uint16_t term = 0;
  float amount = 0;               ///< signed, inside units: below the range or above it
  std::vector<MemberCure> cures;  ///< least asked first; empty where not explained or none is known
  friend bool operator==(const MemberMiss&, const MemberMiss&) = default;
};

/// How well the draft is known to hold on the body as it really is (uncertainty.h); musts and
/// shoulds alone.
struct MemberSureness {
  float missed = 0;              ///< how many of them are to be expected to miss: sum of 1 - p
  float least = 1;               ///< the least probability of one that is drafted to hold
  std::uint16_t least_term = 0;  ///< which
  std::uint8_t toss_ups = 0;     ///< that hold with 30 to 70 %, drafted to hold or not
  std::uint8_t estimated = 0;    ///< measures of the body that no tape was laid on
  friend bool operator==(const MemberSureness&, const MemberSureness&) = default;
};

/// Inside units; NaN where the garment does not have the value or the measure.
struct Member {
  std::string label;
  std::uint32_t row = 0;  ///< from 1, as the group's file counts its bodies; 0 where none does
  Build build = Build::woman;
  std::uint8_t put_on = 0;  ///< option of Switch::put_on that was taken
  bool proved = false;      ///< the answer is proved stationary (solver::Status::settled)
  bool explained = false;   ///< cures were looked for, wherever something is missed
  std::array<float, kValueKeys> values{};
  std::array<float, kMeasureKeys> measures{};
  std::array<float, kBodyKeys> body{};  ///< completed, waist measures at the garment's level
  std::vector<MemberMiss> misses;       ///< by strength, then by size in tolerances
  std::optional<MemberSureness> sureness;

  float operator[](ValueKey key) const { return values[static_cast<size_t>(key)]; }
  float operator[](MeasureKey key) const { return measures[static_cast<size_t>(key)]; }
  float operator[](BodyKey key) const { return body[static_cast<size_t>(key)]; }
};

/// Size of a miss in tolerances, signed as it is.
double in_tolerances(const MemberMiss& miss, const Terms& terms);

/// True when no term of this strength or above is missed.
bool all_hold(const Member& member, const Terms& terms, solver::Level down_to);

struct MemberOptions {
  bool explain = true;    ///< look for what would settle each miss
  bool sureness = true;   ///< say how sure the draft is
  double round_cm = 0.1;  ///< what cures are rounded to; 2.54 / 8 for inches
};

struct Drafted {
  std::optional<Member> member;  ///< nothing when the body is refused
  std::vector<BodyNote> errors;  ///< then why: impossible measures, or a garment that can't be
                                 ///< computed on it (an empty key path)
  std::vector<CrossedLimits> crossed;  ///< or the job's limits leave no room on it
};

/// Drafts the job for another body. `job.body` does not count; its label, cloth, style and wishes
/// do. Safe from several threads at once; the same answer whatever was drafted before.
Drafted draft_member(const Job& job,
                     const Body& body,
                     const Catalogue& catalogue,
                     const Terms& terms,
                     const MemberOptions& options = {});

/// A result of fit() for this job as a member; without sureness and cures.
Member member_of(const FitResult& result, const Terms& terms);

/// The job with a cure's changes made. `job` has to be the group's.
Job with_cure(const Job& job, const Terms& terms, const MemberCure& cure);

}  // namespace easewright
