#include "model/alter/relevant.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

/// Of the places, so many for the most helpful moves and for the most helpful by the minute.
constexpr size_t kHelpful = 7, kQuick = 5;
/// A change of a miss below this, in tolerances, is none.
constexpr double kNothing = 1e-6;

class Ranking {
 public:
  explicit Ranking(const solver::ChoiceProblem& problem)
      : problem_(problem),
        n_(problem.moves.size()),
        m_(problem.problem.outputs.size()),
        relevance_(n_, Relevance::idle),
        now_(m_) {
    std::vector<double> x(n_, 0.0);
    problem.problem.function->evaluate(x.data(), now_.data(), nullptr);
    for (size_t k = 0; k < n_; ++k) {
      // Half of what it can be, as a move is mostly used.
      x[k] = std::max(problem.moves[k].least, 0.5 * problem.problem.variables[k].upper);
      alone_.emplace_back(m_);
      problem.problem.function->evaluate(x.data(), alone_.back().data(), nullptr);
      x[k] = 0;
    }
  }

  std::vector<Relevance> run() {
    const auto helps = [this](size_t k) {
      double gain = 0;
      for (size_t i = 0; i < m_; ++i) gain += std::max(-spoils(k, i), 0.0);
      return gain;
    };
    take(helps, false, kHelpful);
    take(helps, true, kQuick);
    const std::vector<double> spoiling = find_spoiling();
    take([&](size_t k) { return mends(k, spoiling); }, true, kMostSearched - taken_);
    return relevance_;
  }

 private:
  double miss(const std::vector<double>& g, size_t i) const {
    const solver::Output& o = problem_.problem.outputs[i];
    return (std::max(o.lo - g[i], 0.0) + std::max(g[i] - o.hi, 0.0)) / o.tolerance;
  }

  double spoils(size_t k, size_t i) const { return miss(alone_[k], i) - miss(now_, i); }

  double moves_by(size_t k, size_t i) const {
    return (alone_[k][i] - now_[i]) / problem_.problem.outputs[i].tolerance;
  }

  template <typename Gain>
  void take(const Gain& gain, bool by_the_minute, size_t most) {
    std::vector<std::pair<double, size_t>> order;
    for (size_t k = 0; k < n_; ++k) {
      if (relevance_[k] == Relevance::searched) continue;
      const double work = by_the_minute ? 1 + problem_.moves[k].fixed : 1;
      const double by = gain(k);
      if (!(by > kNothing)) continue;
      order.emplace_back(-by / work, k);
      relevance_[k] = Relevance::outranked;
    }
    std::sort(order.begin(), order.end());
    for (size_t j = 0; j < std::min(most, order.size()); ++j, ++taken_)
      relevance_[order[j].second] = Relevance::searched;
  }

  /// By how much, signed and in tolerances, those taken move each output that one of them spoils.
  std::vector<double> find_spoiling() const {
    std::vector<double> spoiling(m_, 0.0);
    for (size_t k = 0; k < n_; ++k) {
      if (relevance_[k] != Relevance::searched) continue;
      for (size_t i = 0; i < m_; ++i) {
        if (spoils(k, i) > 0) spoiling[i] = moves_by(k, i);
      }
    }
    return spoiling;
  }

  /// What mends a spoiled output moves it the other way, though it is not missed yet.
  double mends(size_t k, const std::vector<double>& spoiling) const {
    double gain = 0;
    for (size_t i = 0; i < m_; ++i) {
      if (spoiling[i] != 0) gain += std::max(-moves_by(k, i) * (spoiling[i] > 0 ? 1 : -1), 0.0);
    }
    return gain;
  }

  const solver::ChoiceProblem& problem_;
  size_t n_, m_, taken_ = 0;
  std::vector<Relevance> relevance_;
  std::vector<double> now_;
  std::vector<std::vector<double>> alone_;
};

}  // namespace

std::vector<Relevance> relevance_of(const solver::ChoiceProblem& problem) {
  if (problem.moves.size() <= kMostSearched)
    return std::vector<Relevance>(problem.moves.size(), Relevance::searched);
  return Ranking(problem).run();
}

}  // namespace easewright
