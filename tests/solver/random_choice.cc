#include "random_choice.h"

#include <cmath>

namespace easewright::tests {
namespace {

using namespace solver;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Bent final : public Function {
 public:
  Bent(const RandomChoice& kind, std::mt19937& random) : kind_(kind) {
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    for (int k = 0; k < kind.moves * kind.outputs; ++k) {
      a_.push_back(uniform(random) < 0.6 ? 0 : normal(random));
      b_.push_back(uniform(random) < 0.5 ? 0 : normal(random));
    }
  }

  void evaluate(const double* x, double* g, double* jacobian) const override {
    const int n = kind_.moves;
    volatile double sum = 0;
    for (int k = 0; k < kind_.work; ++k) sum = sum + std::sin(k);
    for (int i = 0; i < kind_.outputs; ++i) {
      double along = 0, phase = 0;
      for (int j = 0; j < n; ++j) {
        along += a_[at(i * n + j)] * x[j];
        phase += b_[at(i * n + j)] * x[j];
      }
      g[i] = along + kind_.bend * (std::cos(phase) - 1);
      if (!jacobian) continue;
      for (int j = 0; j < n; ++j)
        jacobian[i * n + j] = a_[at(i * n + j)] - kind_.bend * std::sin(phase) * b_[at(i * n + j)];
    }
  }

 private:
  RandomChoice kind_;
  std::vector<double> a_, b_;
};

}  // namespace

ChoiceProblem random_choice(const RandomChoice& kind, std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform;
  const int n = kind.moves;
  ChoiceProblem p;
  p.problem.function = std::make_shared<Bent>(kind, random);
  std::vector<double> hidden(at(n), 0.0), g(at(kind.outputs));
  for (int j = 0; j < n; ++j) {
    const double most = 0.5 + 2 * uniform(random);
    p.problem.variables.push_back({"v", 0, most, 1, 0});
    ChoiceMove move;
    move.fixed = std::round(5 + 30 * uniform(random));
    move.per_unit = std::round(10 * uniform(random));
    move.least = 0.1 + 0.3 * uniform(random);
    p.moves.push_back(move);
    if (uniform(random) < 0.4) hidden[at(j)] = most * uniform(random);
  }
  p.problem.function->evaluate(hidden.data(), g.data(), nullptr);
  for (int i = 0; i < kind.outputs; ++i) {
    const double value = g[at(i)] + (uniform(random) < 0.85 ? 0 : normal(random));
    Output o;
    o.name = "r";
    o.lo = value - 0.3 * uniform(random);
    o.hi = value + 0.3 * uniform(random);
    o.level = static_cast<Level>(random() % 3);
    o.shape = uniform(random) < 0.1 ? Shape::squared : Shape::absolute;
    o.tolerance = 0.1 + 0.2 * uniform(random);
    const double side = uniform(random);
    if (side < 0.2) o.lo = -kInfinity;
    if (side > 0.8) o.hi = kInfinity;
    p.problem.outputs.push_back(o);
  }
  for (int k = 0; k < n / 4; ++k) {
    const int a = static_cast<int>(random() % static_cast<unsigned>(n));
    const int b = static_cast<int>(random() % static_cast<unsigned>(n));
    if (a != b) p.exclusive.emplace_back(a, b);
  }
  for (int k = 0; k < kind.shared; ++k) {
    SharedWork work{std::round(5 + 25 * uniform(random)), {}};
    for (int j = static_cast<int>(random() % 2); j < n && work.moves.size() < 3;
         j += 1 + static_cast<int>(random() % 3))
      work.moves.push_back(j);
    p.shared.push_back(work);
  }
  return p;
}

}  // namespace easewright::tests
