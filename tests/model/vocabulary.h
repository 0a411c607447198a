#pragma once
// The shipped moves and faults, and what was seen at a try-on.

#include "cli/read/alter_catalogue.h"
#include "model/alter/plan.h"
#include "tests/catch.h"
#include "tests/model/demo.h"

#include <algorithm>
#include <cstdlib>
#include <string>
#include <vector>

namespace easewright::tests {

inline const AlterCatalogue& shipped_vocabulary() {
  static const AlterCatalogue vocabulary = [] {
    Complaints complaints;
    auto read = read_alter_catalogue(shipped_data(), complaints);
    if (!read) std::abort();  // the data files are broken: nothing here can be tested
    return *read;
  }();
  return vocabulary;
}

inline const FaultKind& fault_named(const std::string& name) {
  for (const FaultKind& f : shipped_vocabulary().faults) {
    if (f.name == name) return f;
  }
  FAIL("no fault is named " << name);
  std::abort();
}

inline SeenFault seen(const std::string& name, double amount) {
  const FaultKind& kind = fault_named(name);
  return {&kind, amount, kind.error};
}

inline bool any_step(const AlterResult& r, const std::vector<Change>& changes) {
  return std::any_of(r.plans.begin(), r.plans.end(), [&](const AlterPlan& plan) {
    return std::any_of(plan.steps.begin(), plan.steps.end(), [&](const PlanStep& s) {
      return std::find(changes.begin(), changes.end(), s.move->change) != changes.end();
    });
  });
}

}  // namespace easewright::tests
