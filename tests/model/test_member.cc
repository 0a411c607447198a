// A member of a group against the fit of the same body alone.

#include "model/group/member.h"
#include "tests/catch.h"
#include "tests/model/body_samples.h"
#include "tests/model/demo.h"

#include <cmath>

namespace easewright::tests {
namespace {

const char* const kJobs[] = {
    "choir/jobs/alto-1.yaml", "choir/jobs/alto-2.yaml", "choir/jobs/soprano-2.yaml"};

}  // namespace

TEST_CASE("a member keeps what its fit says", "[member]") {
  for (const char* file : kJobs) {
    const Job job = demo_job(file);
    const Catalogue& catalogue = shipped_catalogue();
    const Terms terms = terms_of(job, catalogue);
    const FitResult result = fit(job, catalogue);
    const auto drafted = draft_member(job, job.body, catalogue, terms, {.explain = false});
    REQUIRE(drafted.member);
    const Member& member = *drafted.member;
    CHECK(member.label == job.body.label);
    for (size_t i = 0; i < kValueKeys; ++i) {
      CHECK(std::isnan(member.values[i]) == !result.has_value[i]);
      if (result.has_value[i]) CHECK(member.values[i] == static_cast<float>(result.values.at[i]));
    }
    for (size_t i = 0; i < kMeasureKeys; ++i)
      CHECK(std::isnan(member.measures[i]) == !result.has_measure[i]);
    size_t missed = 0;
    for (const Finding& f : result.findings) {
      if (!f.missed) continue;
      REQUIRE(missed < member.misses.size());
      const MemberMiss& miss = member.misses[missed++];
      CHECK(terms.all[miss.term].name == f.name);
      CHECK(in_tolerances(miss, terms) == Approx(f.miss / f.tolerance).epsilon(1e-6));
    }
    CHECK(missed == member.misses.size());
    CHECK(all_hold(member, terms, solver::Level::should) == result.all_hold(solver::Level::should));
  }
}

TEST_CASE("a member's cure settles its miss when it is typed", "[member]") {
  int tried = 0;
  for (const char* file : kJobs) {
    const Job job = demo_job(file);
    const Catalogue& catalogue = shipped_catalogue();
    const Terms terms = terms_of(job, catalogue);
    const auto drafted = draft_member(job, job.body, catalogue, terms, {.sureness = false});
    REQUIRE(drafted.member);
    for (const MemberMiss& miss : drafted.member->misses) {
      for (const MemberCure& cure : miss.cures) {
        const FitResult after = fit(with_cure(job, terms, cure), catalogue);
        for (const Finding& f : after.findings)
          if (f.name == terms.all[miss.term].name) CHECK_FALSE(f.missed);
        ++tried;
      }
    }
  }
  CHECK(tried >= 2);
}

TEST_CASE("an impossible body is refused with the reason", "[member]") {
  const Job job = demo_job("choir/jobs/alto-2.yaml");
  const Catalogue& catalogue = shipped_catalogue();
  Body body = job.body;
  body[BodyKey::hip_girth] = BodyValue{20, 0.5, Origin::measured};
  const auto drafted = draft_member(job, body, catalogue, terms_of(job, catalogue));
  CHECK_FALSE(drafted.member);
  CHECK_FALSE(drafted.errors.empty());
}

}  // namespace easewright::tests
