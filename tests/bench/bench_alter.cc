// What a plan costs: dresses of the choir worn by somebody else, all moves that can be done weighed
// (some miss much, and no plan is quick to find), and the dresses after their try-on. Then sixteen
// moves of each, held against every one of their 65,536 subsets solved by itself ('16' as the first
// argument; half a minute each).

#include "cli/read/alter_catalogue.h"
#include "cli/read/in_hand.h"
#include "model/alter/plan.h"
#include "model/alter/relevant.h"
#include "solver/amounts.h"
#include "tests/bench/clock.h"
#include "tests/model/demo.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include <tbb/parallel_for.h>

namespace easewright {
namespace {

using bench::process_cpu_ms;
using bench::wall_ms;
using tests::demo_job;
using tests::shipped_catalogue;
using tests::shipped_data;

const AlterCatalogue& vocabulary() {
  static const AlterCatalogue read = [] {
    Complaints complaints;
    return *read_alter_catalogue(shipped_data(), complaints);
  }();
  return read;
}

struct Case {
  std::string name;
  Job job;
  InHand in_hand;
};

std::vector<Case> cases() {
  std::vector<Case> all;
  const std::pair<const char*, const char*> pairs[] = {{"soprano-1", "alto-1"},
                                                       {"mezzo-1", "alto-3"},
                                                       {"alto-1", "mezzo-2"},
                                                       {"alto-2", "soprano-2"},
                                                       {"soprano-2", "alto-2"}};
  const auto job_of = [](const std::string& who) {
    return demo_job("choir/jobs/" + who + ".yaml");
  };
  for (const auto& [wearer, cut_for] : pairs) {
    Case c{std::string(wearer) + " in " + cut_for + "'s", job_of(wearer), {}};
    c.in_hand.made_for = job_of(cut_for).body;
    all.push_back(std::move(c));
  }
  for (const char* who : {"alto-1-tried-on", "mezzo-1-tried-on", "soprano-2-tried-on"}) {
    Complaints complaints;
    const auto loaded = read_job(shipped_data() + "/choir/jobs/" + who + ".yaml",
                                 shipped_data(),
                                 {},
                                 Draft::optional,
                                 complaints);
    const auto read = read_in_hand(*loaded, shipped_catalogue(), vocabulary(), complaints);
    all.push_back({who, loaded->job, read->in_hand});
  }
  return all;
}

void time_plan(const Case& c) {
  const double cpu = process_cpu_ms(), wall = wall_ms();
  const AlterResult r = alter(c.job, c.in_hand, shipped_catalogue(), vocabulary());
  std::printf("%-26s CPU %6.0f ms  wall %6.0f ms  %d moves, %d nodes%s, %zu plans",
              c.name.c_str(),
              process_cpu_ms() - cpu,
              wall_ms() - wall,
              r.weighed,
              r.nodes,
              r.proved ? ", to the end" : "",
              r.plans.size());
  if (!r.plans.empty())
    std::printf(", first of %zu steps, %.0f min", r.plans[0].steps.size(), r.plans[0].minutes);
  std::printf("\n");
}

/// The sixteen moves that help most, by choose() and by all their subsets.
void compare_with_all(const Case& c) {
  const AlterResult r = alter(c.job, c.in_hand, shipped_catalogue(), vocabulary());
  const Asked asked(c.job, c.in_hand.faults, r.belief, r.in_hand.made, r.posed);
  std::vector<Possible> moves;
  for (const Move& move : vocabulary().moves) {
    if (const auto limits = limits_of(move, r.in_hand.made)) moves.push_back({&move, *limits});
  }
  std::stable_sort(moves.begin(), moves.end(), [](const Possible& a, const Possible& b) {
    return a.move->order < b.move->order;
  });
  const std::vector<Relevance> relevance = relevance_of(asked.choice_among(moves));
  std::vector<Possible> sixteen;
  for (size_t k = 0; k < moves.size(); ++k) {
    if (relevance[k] == Relevance::searched) sixteen.push_back(moves[k]);
  }
  const solver::ChoiceProblem problem = asked.choice_among(sixteen);
  double cpu = process_cpu_ms();
  const double wall = wall_ms();
  const solver::Choice choice =
      solver::choose(problem, {.plans = 1, .curvature = solver::Curvature::never});
  std::printf("%-26s %zu moves: CPU %5.0f ms, wall %5.0f ms, %d nodes",
              c.name.c_str(),
              sixteen.size(),
              process_cpu_ms() - cpu,
              wall_ms() - wall,
              choice.nodes);
  cpu = process_cpu_ms();
  const solver::AmountsSolver leaf(problem, solver::Curvature::never);
  const std::vector<double> nothing(sixteen.size(), 0.0);
  const auto subsets = solver::only(static_cast<int>(sixteen.size()));
  std::vector<solver::Amounts> own(subsets);
  tbb::parallel_for(solver::MoveSet{0}, subsets, [&](solver::MoveSet used) {
    for (const auto& [a, b] : problem.exclusive) {
      if (solver::contains(used, a) && solver::contains(used, b)) return;
    }
    own[used] = leaf.answer(used, nothing, 3);
  });
  // The least total of each level among those that are best above it.
  solver::LevelTotals best{};
  const auto is_best_above = [&](const solver::Amounts& a, size_t level) {
    for (size_t l = 0; l < level; ++l) {
      if (a.totals[l] > best[l] + solver::kHolds) return false;
    }
    return a.finite;
  };
  for (size_t l = 0; l < 3; ++l) {
    best[l] = solver::kInfinity;
    for (const solver::Amounts& a : own) {
      if (is_best_above(a, l)) best[l] = std::min(best[l], a.totals[l]);
    }
  }
  const solver::Reached reached{best, solver::ChoiceOptions{}.slack};
  double least = solver::kInfinity;
  for (solver::MoveSet used = 0; used < subsets; ++used) {
    if (own[used].finite && reached.by(own[used].totals))
      least = std::min(least, leaf.cost(used, own[used].x));
  }
  const solver::ChoicePlan& plan = choice.plans.front();
  std::printf(
      "; leaves %.3f %.3f %.3f for %.1f min; all subsets (CPU %.0f s) %.3f %.3f %.3f for %.1f\n",
      plan.outcome.total[0],
      plan.outcome.total[1],
      plan.outcome.total[2],
      plan.cost,
      1e-3 * (process_cpu_ms() - cpu),
      best[0],
      best[1],
      best[2],
      least);
}

}  // namespace
}  // namespace easewright

int main(int argc, char** argv) {
  std::setvbuf(stdout, nullptr, _IOLBF, 1 << 12);
  const bool sixteen = argc > 1 && std::string(argv[1]) == "16";
  for (const easewright::Case& c : easewright::cases()) {
    if (sixteen)
      easewright::compare_with_all(c);
    else
      easewright::time_plan(c);
  }
  return 0;
}
