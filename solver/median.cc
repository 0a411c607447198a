#include "solver/median.h"

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <limits>
#include <numeric>

namespace easewright::solver {
namespace {

/// Subgradient steps at the root and at other nodes, which begin at their parent's prices.
constexpr int kRootSteps = 400, kNodeSteps = 40;
/// The step is halved after so many that brought nothing; below the least it is given up.
constexpr int kPatience = 12;
constexpr double kFirstStep = 1.5, kLeastStep = 1e-4;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

enum class Fate : unsigned char { free, open, closed };

/// A set of open centres with each point's cheapest and second cheapest.
class Served {
 public:
  Served(const MedianProblem& problem, std::vector<int> open)
      : problem_(problem), open_(std::move(open)) {
    serve();
  }

  const std::vector<int>& open() const { return open_; }
  double cost() const { return cost_; }

  /// The best swap of an open centre for a closed one, made; false when none helps.
  bool swap() {
    double best = -1e-12 * (1 + cost_);
    int in = -1, out = -1;
    std::vector<char> is_open(at(problem_.centres), 0);
    for (const int i : open_) is_open[at(i)] = 1;
    std::vector<double> loss(open_.size());
    for (int i = 0; i < problem_.centres; ++i) {
      if (is_open[at(i)] != 0) continue;
      // Whitaker's: what all gain by i whatever is closed, and what closing each costs beside it.
      double gain = 0;
      std::fill(loss.begin(), loss.end(), 0.0);
      for (int j = 0; j < problem_.points; ++j) {
        const double c = problem_.at(i, j);
        const double now = first_[at(j)];
        if (c < now) {
          gain += c - now;
        } else {
          loss[at(place_[at(j)])] += std::min(c, second_[at(j)]) - now;
        }
      }
      const auto least = std::min_element(loss.begin(), loss.end());
      if (gain + *least < best) {
        best = gain + *least;
        in = i;
        out = static_cast<int>(least - loss.begin());
      }
    }
    if (in < 0) return false;
    open_[at(out)] = in;
    serve();
    return true;
  }

 private:
  void serve() {
    std::sort(open_.begin(), open_.end());
    first_.assign(at(problem_.points), std::numeric_limits<double>::infinity());
    second_ = first_;
    place_.assign(at(problem_.points), 0);
    cost_ = 0;
    for (int j = 0; j < problem_.points; ++j) {
      for (std::size_t p = 0; p < open_.size(); ++p) {
        const double c = problem_.at(open_[p], j);
        if (c < first_[at(j)]) {
          second_[at(j)] = first_[at(j)];
          first_[at(j)] = c;
          place_[at(j)] = static_cast<int>(p);
        } else {
          second_[at(j)] = std::min(second_[at(j)], c);
        }
      }
      cost_ += first_[at(j)];
    }
  }

  const MedianProblem& problem_;
  std::vector<int> open_;
  std::vector<double> first_, second_;
  std::vector<int> place_;  ///< in open_, of the cheapest
  double cost_ = 0;
};

/// Prices with what they say of each centre.
struct Prices {
  std::vector<double> of;       ///< points
  std::vector<double> reduced;  ///< centres, r_i <= 0
  std::vector<int> chosen;      ///< k centres: those that must be open, then the least r_i
  double bound = -std::numeric_limits<double>::infinity();
};

class Search {
 public:
  Search(const MedianProblem& problem, const MedianOptions& options)
      : problem_(problem), options_(options), fate_(at(problem.centres), Fate::free) {}

  Median run() {
    improve(grow());
    Prices root = first_prices();
    raise(root, kRootSteps);
    Median result;
    result.bound = std::min(explore(std::move(root)), best_cost_);
    result.proved = whole_;
    if (whole_) result.bound = best_cost_;
    result.open = best_;
    result.cost = best_cost_;
    result.nodes = nodes_;
    return result;
  }

 private:
  /// Opens one centre after the other, each time the one that saves most.
  std::vector<int> grow() const {
    std::vector<int> open;
    std::vector<double> now(at(problem_.points), std::numeric_limits<double>::infinity());
    std::vector<char> is_open(at(problem_.centres), 0);
    for (int k = 0; k < problem_.open; ++k) {
      int best = -1;
      double least = std::numeric_limits<double>::infinity();
      for (int i = 0; i < problem_.centres; ++i) {
        if (is_open[at(i)] != 0) continue;
        double cost = 0;
        for (int j = 0; j < problem_.points; ++j) cost += std::min(now[at(j)], problem_.at(i, j));
        if (cost < least) least = cost, best = i;
      }
      is_open[at(best)] = 1;
      open.push_back(best);
      for (int j = 0; j < problem_.points; ++j)
        now[at(j)] = std::min(now[at(j)], problem_.at(best, j));
    }
    return open;
  }

  void improve(std::vector<int> open) {
    Served served(problem_, std::move(open));
    if (served.cost() >= best_cost_ && served.open() == best_) return;
    while (served.swap()) {
    }
    if (served.cost() < best_cost_) best_cost_ = served.cost(), best_ = served.open();
  }

  /// What serving a point costs where its cheapest centre is closed.
  Prices first_prices() const {
    Prices prices;
    for (int j = 0; j < problem_.points; ++j) {
      double first = std::numeric_limits<double>::infinity(), second = first;
      for (int i = 0; i < problem_.centres; ++i) {
        const double c = problem_.at(i, j);
        if (c < first) {
          second = first, first = c;
        } else {
          second = std::min(second, c);
        }
      }
      prices.of.push_back(problem_.centres > 1 ? second : first);
    }
    value(prices);
    return prices;
  }

  /// L at the prices, centres with a fate obeyed.
  void value(Prices& prices) const {
    prices.reduced.assign(at(problem_.centres), 0);
    for (int i = 0; i < problem_.centres; ++i) {
      if (fate_[at(i)] == Fate::closed) continue;
      double r = 0;
      for (int j = 0; j < problem_.points; ++j)
        r += std::min(problem_.at(i, j) - prices.of[at(j)], 0.0);
      prices.reduced[at(i)] = r;
    }
    std::vector<int> order;
    for (int i = 0; i < problem_.centres; ++i)
      if (fate_[at(i)] != Fate::closed) order.push_back(i);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      const bool open_a = fate_[at(a)] == Fate::open, open_b = fate_[at(b)] == Fate::open;
      if (open_a != open_b) return open_a;
      return prices.reduced[at(a)] < prices.reduced[at(b)];
    });
    order.resize(at(problem_.open));
    prices.bound = std::accumulate(prices.of.begin(), prices.of.end(), 0.0);
    for (const int i : order) prices.bound += prices.reduced[at(i)];
    prices.chosen = std::move(order);
  }

  /// Subgradient steps (Held, Wolfe and Crowder 1974): a point that no chosen centre wants is worth
  /// more, one that several want less.
  void raise(Prices& best, int steps) {
    Prices now = best;
    double step = kFirstStep;
    int idle = 0;
    for (int s = 0; s < steps && step > kLeastStep && !outdone(best.bound); ++s) {
      std::vector<int> wants(at(problem_.points), 0);
      for (const int i : now.chosen) {
        for (int j = 0; j < problem_.points; ++j) wants[at(j)] += problem_.at(i, j) < now.of[at(j)];
      }
      double length = 0;
      for (const int w : wants) length += (1 - w) * (1 - w);
      if (length == 0) break;  // each wanted once: L is the cost of the chosen set
      const double by = step * std::max(1.01 * best_cost_ - now.bound, 1e-9) / length;
      for (int j = 0; j < problem_.points; ++j) now.of[at(j)] += by * (1 - wants[at(j)]);
      value(now);
      if (now.bound > best.bound) {
        best = now;
        idle = 0;
      } else if (++idle >= kPatience) {
        step *= 0.5;
        idle = 0;
        now = best;
      }
    }
    improve(best.chosen);
  }

  /// No set below such a bound is worth finding.
  bool outdone(double bound) const { return bound >= best_cost_ * (1 - options_.gap); }

  /// Settles centres that can't be otherwise in a better set. Returns those that it settled.
  std::vector<int> settle(const Prices& prices) {
    double last = -std::numeric_limits<double>::infinity(), next = 0;
    bool any_next = false;
    std::vector<char> chosen(at(problem_.centres), 0);
    for (const int i : prices.chosen) {
      chosen[at(i)] = 1;
      if (fate_[at(i)] == Fate::free) last = std::max(last, prices.reduced[at(i)]);
    }
    for (int i = 0; i < problem_.centres; ++i) {
      if (chosen[at(i)] != 0 || fate_[at(i)] != Fate::free) continue;
      next = any_next ? std::min(next, prices.reduced[at(i)]) : prices.reduced[at(i)];
      any_next = true;
    }
    std::vector<int> settled;
    for (int i = 0; i < problem_.centres; ++i) {
      if (fate_[at(i)] != Fate::free) continue;
      const double r = prices.reduced[at(i)];
      if (chosen[at(i)] != 0 && (!any_next || outdone(prices.bound - r + next))) {
        fate_[at(i)] = Fate::open;
        settled.push_back(i);
      } else if (chosen[at(i)] == 0 && outdone(prices.bound - last + r)) {
        fate_[at(i)] = Fate::closed;
        settled.push_back(i);
      }
    }
    return settled;
  }

  /// The free centre among the chosen whose r_i says most.
  int branch(const Prices& prices) const {
    int best = -1;
    for (const int i : prices.chosen) {
      if (fate_[at(i)] != Fate::free) continue;
      if (best < 0 || prices.reduced[at(i)] < prices.reduced[at(best)]) best = i;
    }
    return best;
  }

  /// Best that any set below this node can cost; at least as good as the truth. Leaves the fates as
  /// they were.
  double explore(Prices prices) {
    ++nodes_;
    if (outdone(prices.bound)) return prices.bound;
    const std::vector<int> settled = settle(prices);
    double bound = prices.bound;
    const int i = branch(prices);
    if (i < 0) {
      // All k are settled: the node is one set, and improve() has seen it or sees it now.
      const Served only(problem_, prices.chosen);
      if (only.cost() < best_cost_) best_cost_ = only.cost(), best_ = only.open();
      bound = only.cost();
    } else if (nodes_ >= options_.most_nodes) {
      whole_ = false;
    } else {
      double least = std::numeric_limits<double>::infinity();
      for (const Fate fate : {Fate::open, Fate::closed}) {
        if (fate == Fate::closed && left() < problem_.open) continue;
        fate_[at(i)] = fate;
        Prices child = prices;
        value(child);
        raise(child, kNodeSteps);
        least = std::min(least, explore(std::move(child)));
        fate_[at(i)] = Fate::free;
      }
      bound = std::max(bound, least);
    }
    for (const int j : settled) fate_[at(j)] = Fate::free;
    return bound;
  }

  /// How many would still be open or free with one more closed.
  int left() const {
    return static_cast<int>(std::count_if(
               fate_.begin(), fate_.end(), [](Fate f) { return f != Fate::closed; })) -
           1;
  }

  const MedianProblem& problem_;
  const MedianOptions& options_;
  std::vector<Fate> fate_;
  std::vector<int> best_;
  double best_cost_ = std::numeric_limits<double>::infinity();
  int nodes_ = 0;
  bool whole_ = true;
};

}  // namespace

Median median(const MedianProblem& problem, const MedianOptions& options) {
  assert(problem.points > 0 && problem.open >= 1 && problem.open <= problem.centres);
  Median result = Search(problem, options).run();
  result.nearest.assign(at(problem.points), result.open.front());
  for (int j = 0; j < problem.points; ++j) {
    int& nearest = result.nearest[at(j)];
    for (const int i : result.open)
      if (problem.at(i, j) < problem.at(nearest, j)) nearest = i;
  }
  return result;
}

}  // namespace easewright::solver
