// What a choice among k moves costs: random ones (tests/solver/random_choice.h), an evaluation made
// as dear as the measures of a garment. In evaluations, since those are what the caller pays for;
// and how much of the work a second thread takes over, in CPU time: machines are shared, walls lie.

#include "clock.h"
#include "solver/choice.h"
#include "tests/solver/random_choice.h"

#include <algorithm>
#include <atomic>
#include <cstdio>
#include <ctime>
#include <memory>
#include <vector>

namespace easewright {
namespace {

using bench::quantile;

constexpr int kProblems = 20;
constexpr unsigned kSeed = 7;
/// About 50 us an evaluation, at 10 ns a sine.
constexpr int kWork = 5000;

class Counted final : public solver::Function {
 public:
  explicit Counted(std::shared_ptr<const solver::Function> inner) : inner_(std::move(inner)) {}
  void evaluate(const double* x, double* g, double* jacobian) const override {
    ++calls;
    inner_->evaluate(x, g, jacobian);
  }
  mutable std::atomic<int> calls{0};

 private:
  std::shared_ptr<const solver::Function> inner_;
};

double evaluation_ms(const solver::ChoiceProblem& p) {
  const std::vector<double> x(p.moves.size(), 0.1);
  std::vector<double> g(p.problem.outputs.size()), jacobian(g.size() * x.size());
  const double begun = bench::process_cpu_ms();
  for (int k = 0; k < 50; ++k) p.problem.function->evaluate(x.data(), g.data(), jacobian.data());
  return (bench::process_cpu_ms() - begun) / 50;
}

void print(const char* what, const std::vector<double>& values) {
  std::printf("  %-34s median %9.1f  p95 %9.1f  most %9.1f\n",
              what,
              quantile(values, 0.5),
              quantile(values, 0.95),
              quantile(values, 1));
}

void measure(const tests::RandomChoice& kind) {
  std::mt19937 random(kSeed);
  std::vector<double> nodes, evaluations, cpu, own, gain, each;
  for (int k = 0; k < kProblems; ++k) {
    solver::ChoiceProblem p = tests::random_choice(kind, random);
    each.push_back(evaluation_ms(p));
    const auto counted = std::make_shared<Counted>(p.problem.function);
    p.problem.function = counted;
    const double begun = bench::process_cpu_ms();
    const solver::Choice choice = solver::choose(p, {.threads = 1});
    cpu.push_back(bench::process_cpu_ms() - begun);
    nodes.push_back(choice.nodes);
    evaluations.push_back(counted->calls);
    own.push_back(100 * (1 - each.back() * evaluations.back() / cpu.back()));
    const double both = bench::process_cpu_ms();
    const double first = bench::thread_cpu_ms();
    solver::choose(p, {.threads = 2});
    gain.push_back((bench::process_cpu_ms() - both) / (bench::thread_cpu_ms() - first));
  }
  std::printf("%d moves, %d outputs, bend %.2f; %.0f us an evaluation\n",
              kind.moves,
              kind.outputs,
              kind.bend,
              1e3 * quantile(each, 0.5));
  print("nodes", nodes);
  print("evaluations", evaluations);
  print("CPU ms, one thread", cpu);
  print("of them not in the function, %", own);
  print("work of two threads / of the first", gain);
}

}  // namespace
}  // namespace easewright

int main() {
  for (const double bend : {0.0, 0.05}) {
    for (const int moves : {8, 12, 16})
      easewright::measure(
          {.moves = moves, .outputs = 3 * moves / 2, .bend = bend, .work = easewright::kWork});
  }
  return 0;
}
