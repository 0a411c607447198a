#include "solver/choice.h"

#include "solver/amounts.h"
#include "solver/solve.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <set>

#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

namespace easewright::solver {
namespace {

/// Nodes branched on at a time. Fixed, so that the number of threads changes nothing but the time.
constexpr std::size_t kBatch = 4;
/// Share of the dearest move's cost by which a plan has to be cheaper to count as such.
constexpr double kCheaper = 1e-4;
/// Starts of a subset's own answer, of the root, of other nodes.
constexpr int kStarts = 3;
constexpr int kRootStarts = 8;
constexpr int kNodeStarts = 1;
/// Tolerances by which a function may leave its tangent and count as straight.
constexpr double kBends = 0.05;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// True when a misses less at the first level at which they differ by more than kHolds.
bool misses_less(const LevelTotals& a, const LevelTotals& b) {
  for (int l = 0; l < static_cast<int>(Level::habit); ++l) {
    if (a[at(l)] < b[at(l)] - kHolds) return true;
    if (a[at(l)] > b[at(l)] + kHolds) return false;
  }
  return false;
}

/// A subset with its own answer.
struct Subset {
  MoveSet used = 0;
  Amounts amounts;
  double cost = 0;
};

/// A node of the search tree, relaxed.
struct TreeNode {
  ChoiceNode node;
  Amounts relaxed;
  MissPrices prices{};
  MoveSet used = 0;    ///< what the relaxation would have, made into a subset that may be
  bool whole = false;  ///< `used` is what the relaxation has, and it pays for all of it
  int branch = -1;     ///< the move to decide on next; -1: none is open
  int born = 0;
};

enum class Goal { misses, cost };

class Search {
 public:
  Search(const ChoiceProblem& problem, const ChoiceOptions& options)
      : problem_(problem),
        options_(options),
        solver_(problem),
        arena_(options.threads > 0 ? std::min(options.threads, tbb::info::default_concurrency())
                                   : tbb::info::default_concurrency()),
        zero_(at(problem.problem.n()), 0.0) {}

  Choice run() {
    choice_.nothing = evaluate(problem_.problem, zero_);
    bends_ = bends();
    choice_.straight = !bends_;
    remember_small_ones();
    if (!known_.at(0).amounts.finite) return std::move(choice_);
    PlanLimits limits;
    while (static_cast<int>(choice_.plans.size()) < options_.plans) {
      const LevelTotals best = least_missed(limits);
      if (choice_.plans.empty()) choice_.best = best;
      const Subset plan = cheapest(limits, {best, options_.slack});
      add(plan);
      if (count(plan.used) == 0 || plan.cost <= cheaper()) break;
      limits = {count(plan.used) - 1, plan.cost};
    }
    return std::move(choice_);
  }

 private:
  double cheaper() const { return kCheaper * solver_.cost_unit(); }

  /// Whether the function is felt to leave its tangent at 0 halfway to the most of each move, or
  /// there.
  bool bends() const {
    const Problem& p = problem_.problem;
    const std::size_t n = at(p.n()), m = at(p.m());
    std::vector<double> x = zero_, g(m), there(m), jacobian(m * n);
    p.function->evaluate(x.data(), g.data(), jacobian.data());
    for (const double share : {0.5, 1.0}) {
      for (std::size_t j = 0; j < n; ++j) {
        const double most = p.variables[j].upper;
        x[j] = (std::isfinite(most) ? most : p.variables[j].scale) * share;
      }
      p.function->evaluate(x.data(), there.data(), nullptr);
      for (std::size_t i = 0; i < m; ++i) {
        double straight = g[i];
        for (std::size_t j = 0; j < n; ++j) straight += jacobian[i * n + j] * x[j];
        if (!(std::abs(there[i] - straight) <= kBends * p.outputs[i].tolerance)) return true;
      }
    }
    return false;
  }

  /// No move, and each by itself.
  void remember_small_ones() {
    remember(answer(0, zero_));
    std::vector<Subset> single(at(problem_.problem.n()));
    in_parallel(single.size(),
                [&](std::size_t k) { single[k] = answer(only(static_cast<int>(k)), zero_); });
    for (Subset& subset : single) remember(std::move(subset));
  }

  /// What all subsets within the limits can't beat, level by level.
  LevelTotals least_missed(const PlanLimits& limits) {
    goal_ = Goal::misses;
    limits_ = limits;
    best_ = nullptr;
    for (const auto& [used, subset] : known_) offer(subset);
    assert(best_ != nullptr);
    TreeNode root;
    const int n = problem_.problem.n();
    root.node.open = n == kMostMoves ? ~MoveSet{0} : only(n) - 1;
    root.node.open = solver_.allowed(root.node, limits);
    root.relaxed.x = zero_;
    root.prices.fill(solver_.cost_unit());
    leaves_.clear();
    hopeless_.clear();
    tried_.clear();
    search({root});
    while (bends_ && look_next_door()) continue;
    return best_->amounts.totals;
  }

  Subset cheapest(const PlanLimits& limits, const Reached& reached) {
    goal_ = Goal::cost;
    limits_ = limits;
    reached_ = reached;
    hopeless_.clear();
    best_ = nullptr;
    for (const auto& [used, subset] : known_) offer(subset);
    assert(best_ != nullptr);
    leave_out_what_is_idle();
    std::erase_if(leaves_, [&](const TreeNode& t) {
      return t.node.open == 0 || (t.relaxed.finite && !reached.by(t.relaxed.totals));
    });
    search(std::move(leaves_));
    return *best_;
  }

  /// Drops moves from the best subset as long as what is left still reaches.
  void leave_out_what_is_idle() {
    for (const Subset* last = nullptr; best_ != last;) {
      last = best_;
      std::vector<Subset> fewer;
      for (int j = 0; j < problem_.problem.n(); ++j) {
        const MoveSet used = last->used & ~only(j);
        if (contains(last->used, j) && !known_.count(used)) fewer.push_back({used, {}, 0});
      }
      in_parallel(fewer.size(),
                  [&](std::size_t k) { fewer[k] = answer(fewer[k].used, last->amounts.x); });
      for (Subset& subset : fewer) offer(remember(std::move(subset)));
    }
  }

  /// Subsets that differ from the best in one move, or in one for another: where moves bend, a
  /// local solve may have hidden them. True when one of them is better.
  bool look_next_door() {
    const int n = problem_.problem.n();
    const Subset& from = *best_;
    std::vector<MoveSet> doors;
    for (int j = 0; j < n; ++j) {
      const MoveSet changed = from.used ^ only(j);
      doors.push_back(changed);
      if (contains(from.used, j)) continue;
      for (int k = 0; k < n; ++k) {
        if (contains(from.used, k)) doors.push_back(changed & ~only(k));
      }
    }
    std::erase_if(doors, [&](MoveSet used) {
      return count(used) > limits_.moves || known_.count(used) || !is_possible(used);
    });
    std::vector<Subset> answers(doors.size());
    in_parallel(doors.size(), [&](std::size_t d) {
      const Amounts glance = solver_.least_missed({doors[d], 0}, {}, from.amounts.x, 1);
      answers[d].amounts.solves = glance.solves;
      if (glance.finite && misses_less(glance.totals, from.amounts.totals))
        answers[d] = answer(doors[d], glance.x);
    });
    for (Subset& a : answers) {
      choice_.solves += a.amounts.solves;
      if (a.amounts.finite) offer(known_.emplace(a.used, std::move(a)).first->second);
    }
    return best_ != &from;
  }

  bool is_possible(MoveSet used) const {
    return std::none_of(
        problem_.exclusive.begin(), problem_.exclusive.end(), [used](const auto& pair) {
          return contains(used, pair.first) && contains(used, pair.second);
        });
  }

  template <typename Work>
  void in_parallel(std::size_t tasks, const Work& work) {
    arena_.execute(
        [&] { tbb::parallel_for(std::size_t{0}, tasks, [&](std::size_t k) { work(k); }); });
  }

  Subset answer(MoveSet used, const std::vector<double>& start) const {
    Subset subset{used, solver_.answer(used, start, kStarts), 0};
    if (subset.amounts.finite) subset.cost = solver_.cost(used, subset.amounts.x);
    return subset;
  }

  const Subset& remember(Subset subset) {
    choice_.solves += subset.amounts.solves;
    return known_.emplace(subset.used, std::move(subset)).first->second;
  }

  bool is_within_limits(const Subset& subset) const {
    return subset.amounts.finite && count(subset.used) <= limits_.moves &&
           subset.cost < limits_.cost - cheaper();
  }

  void offer(const Subset& subset) {
    if (!is_within_limits(subset)) return;
    if (goal_ == Goal::cost && !reached_.by(subset.amounts.totals)) return;
    if (!best_ || is_better(subset, *best_)) best_ = &subset;
  }

  bool is_better(const Subset& a, const Subset& b) const {
    if (goal_ == Goal::misses) {
      if (misses_less(a.amounts.totals, b.amounts.totals)) return true;
      if (misses_less(b.amounts.totals, a.amounts.totals)) return false;
    }
    if (std::abs(a.cost - b.cost) > cheaper() / 10) return a.cost < b.cost;
    if (count(a.used) != count(b.used)) return count(a.used) < count(b.used);
    return a.used < b.used;
  }

  /// True when no subset of the node is better than the best one known.
  bool is_settled(const TreeNode& t) const {
    if (!t.relaxed.finite) return false;
    if (goal_ == Goal::misses) return !misses_less(t.relaxed.totals, best_->amounts.totals);
    if (t.relaxed.bound >= best_->cost - cheaper()) return true;
    // What its own answer costs above the bound is what the slack is worth.
    if (!t.whole) return false;
    const auto own = known_.find(t.used);
    return own != known_.end() && is_within_limits(own->second) &&
           reached_.by(own->second.amounts.totals);
  }

  /// The limits that a better subset keeps to.
  PlanLimits current_limits() const {
    PlanLimits limits = limits_;
    if (goal_ == Goal::cost) limits.cost = std::min(limits.cost, best_->cost);
    return limits;
  }

  /// Branches on nodes until none may hold a better subset. Those left unbranched are the leaves.
  void search(std::vector<TreeNode> born) {
    std::vector<TreeNode> open;
    leaves_.clear();
    born_ = 0;
    while (true) {
      relax(born);
      for (TreeNode& t : born) {
        (is_settled(t) || t.branch < 0 ? leaves_ : open).push_back(std::move(t));
      }
      std::sort(open.begin(), open.end(), [&](const TreeNode& a, const TreeNode& b) {
        return comes_later(a, b);
      });
      born.clear();
      if (choice_.nodes >= options_.most_nodes && !open.empty()) {
        choice_.proved = false;
        break;
      }
      for (std::size_t k = 0; k < kBatch && !open.empty();) {
        TreeNode t = std::move(open.back());
        open.pop_back();
        if (is_settled(t)) {
          leaves_.push_back(std::move(t));
          continue;
        }
        branch(t, born);
        ++k;
      }
      if (born.empty()) break;
    }
  }

  /// Best first: least misses or least bound; the younger among equals, which is deeper.
  bool comes_later(const TreeNode& a, const TreeNode& b) const {
    if (goal_ == Goal::misses) {
      for (int l = 0; l < static_cast<int>(Level::habit); ++l) {
        if (a.relaxed.totals[at(l)] != b.relaxed.totals[at(l)])
          return a.relaxed.totals[at(l)] > b.relaxed.totals[at(l)];
      }
    } else if (a.relaxed.bound != b.relaxed.bound) {
      return a.relaxed.bound > b.relaxed.bound;
    }
    return a.born < b.born;
  }

  void branch(const TreeNode& t, std::vector<TreeNode>& born) {
    for (const bool in : {true, false}) {
      TreeNode child;
      child.node.in = in ? t.node.in | only(t.branch) : t.node.in;
      child.node.open = t.node.open & ~only(t.branch);
      child.node.open = solver_.allowed(child.node, current_limits());
      if (solver_.least_cost(child.node.in) >= current_limits().cost) continue;
      if (is_hopeless(child.node)) continue;
      child.relaxed = {};
      child.relaxed.x = t.relaxed.x;
      child.relaxed.totals = t.relaxed.totals;
      child.relaxed.bound = t.relaxed.bound;
      child.prices = t.prices;
      born.push_back(std::move(child));
    }
  }

  /// A node can't reach what a node that holds it couldn't.
  bool is_hopeless(const ChoiceNode& node) const {
    return std::any_of(hopeless_.begin(), hopeless_.end(), [&](const ChoiceNode& h) {
      const MoveSet all = node.in | node.open, held = h.in | h.open;
      return (all & ~held) == 0 && (h.in & ~node.in) == 0;
    });
  }

  void relax(std::vector<TreeNode>& born) {
    for (TreeNode& t : born) t.born = ++born_;
    choice_.nodes += static_cast<int>(born.size());
    std::vector<Subset> answers(born.size());
    const PlanLimits limits = current_limits();
    in_parallel(born.size(), [&](std::size_t k) { relax(born[k], limits, answers[k]); });
    for (std::size_t k = 0; k < born.size(); ++k) {
      choice_.solves += born[k].relaxed.solves;
      if (goal_ == Goal::cost && born[k].relaxed.bound == kInfinity)
        hopeless_.push_back(born[k].node);
      tried_.insert(born[k].used);
      if (answers[k].amounts.solves > 0) offer(remember(std::move(answers[k])));
    }
  }

  void relax(TreeNode& t, const PlanLimits& limits, Subset& own) const {
    const Amounts parent = t.relaxed;
    const int starts = t.born > 1 ? kNodeStarts : choice_.plans.empty() ? kRootStarts : kStarts;
    t.relaxed = relaxed_from(t, limits, parent.x, starts);
    if (const Subset* better = better_inside(t)) {
      // The relaxation got stuck: one of its own subsets is better than what it found.
      const int solves = t.relaxed.solves;
      t.relaxed = relaxed_from(t, limits, better->amounts.x, 1);
      t.relaxed.solves += solves;
      if (is_better_than_relaxed(*better, t.relaxed)) {
        t.relaxed.x = better->amounts.x;
        t.relaxed.totals = better->amounts.totals;
        t.relaxed.cost = t.relaxed.bound = better->cost;
        t.relaxed.finite = true;
      }
    }
    if (!t.relaxed.finite) {
      // Nothing known but what the parent knew.
      const int solves = t.relaxed.solves;
      t.relaxed = parent;
      t.relaxed.finite = false;
      t.relaxed.solves = solves;
    }
    read(t, limits);
    if (is_settled(t) || known_.count(t.used)) return;
    if (!t.whole && goal_ == Goal::misses) {
      if (tried_.count(t.used)) return;
      const Amounts glance = solver_.least_missed({t.used, 0}, {}, t.relaxed.x, 1);
      t.relaxed.solves += glance.solves;
      if (glance.finite && !misses_less(glance.totals, best_->amounts.totals)) return;
    }
    own = answer(t.used, t.relaxed.x);
  }

  Amounts relaxed_from(TreeNode& t,
                       const PlanLimits& limits,
                       const std::vector<double>& start,
                       int starts) const {
    return goal_ == Goal::misses
               ? solver_.least_missed(t.node, limits, start, starts)
               : solver_.cheapest(t.node, limits, reached_, best_->cost, start, t.prices);
  }

  bool is_better_than_relaxed(const Subset& subset, const Amounts& relaxed) const {
    if (!relaxed.finite) return true;
    return goal_ == Goal::misses ? misses_less(subset.amounts.totals, relaxed.totals)
                                 : subset.cost < relaxed.bound - cheaper();
  }

  /// A known subset of the node that gives its relaxation the lie, or null.
  const Subset* better_inside(const TreeNode& t) const {
    const Subset* better = nullptr;
    for (const auto& [used, subset] : known_) {
      if ((used & ~(t.node.in | t.node.open)) != 0 || (t.node.in & ~used) != 0) continue;
      if (!is_within_limits(subset) || !is_better_than_relaxed(subset, t.relaxed)) continue;
      if (goal_ == Goal::cost && !reached_.by(subset.amounts.totals)) continue;
      if (!better || is_better(subset, *better)) better = &subset;
    }
    return better;
  }

  /// What subset the relaxation is near, and which move to decide on.
  void read(TreeNode& t, const PlanLimits& limits) const {
    const std::vector<double>& x = t.relaxed.x;
    const int n = problem_.problem.n();
    std::vector<std::pair<double, int>> used;
    t.used = t.node.in;
    t.whole = true;
    double most_undecided = -1;
    for (int j = 0; j < n; ++j) {
      if (!contains(t.node.open, j)) continue;
      const double share = x[at(j)] / solver_.most(j, t.node, limits);
      double undecided = 0;
      if (solver_.is_used(j, x[at(j)])) {
        used.emplace_back(share, j);
        const bool too_little = x[at(j)] < problem_.moves[at(j)].least - 1e-9;
        const double unpaid = solver_.unpaid(j, t.node, limits, x[at(j)]) / solver_.cost_unit();
        undecided = 1 + share;
        if (goal_ == Goal::cost) undecided += 2 * std::max(0.0, unpaid);
        if (too_little) undecided += 2;
        if (excludes_used(j, x)) undecided += 3;
        if (too_little || (goal_ == Goal::cost && unpaid > kCheaper)) t.whole = false;
      }
      if (undecided > most_undecided) {
        most_undecided = undecided;
        t.branch = j;
      }
    }
    std::sort(used.begin(), used.end(), [](const auto& a, const auto& b) {
      return a.first != b.first ? a.first > b.first : a.second < b.second;
    });
    for (const auto& [share, j] : used) {
      const ChoiceNode so_far{t.used, only(j)};
      if (count(t.used) < limits.moves && solver_.allowed(so_far, {}) != 0)
        t.used |= only(j);
      else
        t.whole = false;
    }
  }

  bool excludes_used(int move, const std::vector<double>& x) const {
    return std::any_of(problem_.exclusive.begin(), problem_.exclusive.end(), [&](const auto& pair) {
      const int other = pair.first == move ? pair.second : pair.first;
      return (pair.first == move || pair.second == move) && solver_.is_used(other, x[at(other)]);
    });
  }

  void add(const Subset& subset) {
    ChoicePlan plan;
    for (int j = 0; j < problem_.problem.n(); ++j) {
      if (contains(subset.used, j)) plan.used.push_back(j);
    }
    plan.amounts = subset.amounts.x;
    plan.cost = subset.cost;
    plan.outcome = evaluate(problem_.problem, plan.amounts);
    plan.outcome.status = subset.amounts.status;
    plan.outcome.pull = subset.amounts.pull;
    plan.outcome.bound_pull = subset.amounts.bound_pull;
    choice_.plans.push_back(std::move(plan));
  }

  const ChoiceProblem& problem_;
  const ChoiceOptions& options_;
  AmountsSolver solver_;
  tbb::task_arena arena_;
  std::vector<double> zero_;
  Choice choice_;
  std::map<MoveSet, Subset> known_;

  bool bends_ = false;
  Goal goal_ = Goal::misses;
  PlanLimits limits_;
  Reached reached_;
  const Subset* best_ = nullptr;  ///< in known_
  std::vector<TreeNode> leaves_;
  std::set<MoveSet> tried_;           ///< subsets that didn't miss less than the best, at a glance
  std::vector<ChoiceNode> hopeless_;  ///< nodes that can't reach
  int born_ = 0;
};

}  // namespace

Choice choose(const ChoiceProblem& problem, const ChoiceOptions& options) {
  return Search(problem, options).run();
}

}  // namespace easewright::solver
