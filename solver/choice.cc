#include "solver/choice.h"

#include "solver/amounts.h"
#include "solver/solve.h"
#include "solver/subsets.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <set>

namespace easewright::solver {
namespace {

/// Nodes branched on at a time. Fixed, so that the number of threads changes nothing but the time.
constexpr std::size_t kBatch = 4;
/// Share of the dearest move's cost by which a plan has to be cheaper to count as such.
constexpr double kCheaper = 1e-4;
/// Starts of the root of the first plan, of other nodes.
constexpr int kRootStarts = 8;
constexpr int kNodeStarts = 1;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// A node of the search tree, relaxed.
struct TreeNode {
  ChoiceNode node;
  Amounts relaxed;
  MissPrices prices{};
  MoveSet used = 0;      ///< what the relaxation would have, made into a subset that may be
  bool whole = false;    ///< `used` is what the relaxation has, and it pays for all of it
  int branch = -1;       ///< the move to decide on next; -1: none is open
  int branch_work = -1;  ///< or, before it, the shared work; -1: none is worth it
  int born = 0;
};

enum class Goal { misses, cost };

class Search {
 public:
  Search(const ChoiceProblem& problem, const ChoiceOptions& options)
      : problem_(problem),
        options_(options),
        solver_(problem, options.curvature),
        subsets_(problem, solver_, options.threads),
        zero_(at(problem.problem.n()), 0.0) {}

  Choice run() {
    choice_.nothing = evaluate(problem_.problem, zero_);
    bends_ = bends(problem_.problem);
    choice_.straight = !bends_;
    solve_small_ones();
    if (!subsets_.known().at(0).amounts.finite) return std::move(choice_);
    PlanLimits limits;
    while (static_cast<int>(choice_.plans.size()) < options_.plans) {
      all_known_ = bends_ && subsets_.solve_all(limits);
      choice_.exact = choice_.exact && (all_known_ || !bends_);
      const LevelTotals best = least_missed(limits);
      if (choice_.plans.empty()) choice_.best = best;
      const Subset plan = cheapest(limits, {best, options_.slack});
      add(plan);
      if (count(plan.used) == 0 || plan.cost <= cheaper()) break;
      limits = {count(plan.used) - 1, plan.cost};
    }
    choice_.exact = choice_.exact && choice_.proved;
    choice_.solves = subsets_.solves();
    return std::move(choice_);
  }

 private:
  double cheaper() const { return kCheaper * solver_.cost_unit(); }

  /// No move, and each by itself.
  void solve_small_ones() {
    std::vector<MoveSet> small = {0};
    for (int j = 0; j < problem_.problem.n(); ++j) small.push_back(only(j));
    subsets_.solve(small);
  }

  /// What all subsets within the limits can't beat, level by level.
  LevelTotals least_missed(const PlanLimits& limits) {
    goal_ = Goal::misses;
    limits_ = limits;
    best_ = nullptr;
    for (const auto& [used, subset] : subsets_.known()) offer(subset);
    assert(best_ != nullptr);
    if (all_known_) return best_->amounts.totals;
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
    // Where moves bend, a local solve may have hidden what is next door to the best.
    while (bends_) {
      const Subset* from = best_;
      for (const Subset* subset : subsets_.solve_next_door(*best_, limits_)) offer(*subset);
      if (best_ == from) break;
    }
    return best_->amounts.totals;
  }

  Subset cheapest(const PlanLimits& limits, const Reached& reached) {
    goal_ = Goal::cost;
    limits_ = limits;
    reached_ = reached;
    hopeless_.clear();
    best_ = nullptr;
    for (const auto& [used, subset] : subsets_.known()) offer(subset);
    assert(best_ != nullptr);
    if (all_known_) return *best_;
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
        if (contains(last->used, j) && !is_known(used)) fewer.push_back({used, {}, 0});
      }
      subsets_.in_parallel(fewer.size(), [&](std::size_t k) {
        fewer[k] = subsets_.answer(fewer[k].used, last->amounts.x);
      });
      for (Subset& subset : fewer) offer(subsets_.remember(std::move(subset)));
    }
  }

  bool is_known(MoveSet used) const { return subsets_.known().count(used) > 0; }

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
    const auto own = subsets_.known().find(t.used);
    return own != subsets_.known().end() && is_within_limits(own->second) &&
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
      child.node = t.node;
      if (t.branch_work >= 0) {
        if (in)
          child.node.begun |= only(t.branch_work);
        else
          child.node.open &= ~solver_.sharing(t.branch_work);
      } else {
        if (in) child.node.in |= only(t.branch);
        child.node.open &= ~only(t.branch);
      }
      child.node.open = solver_.allowed(child.node, current_limits());
      if (solver_.least_cost(child.node) >= current_limits().cost) continue;
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
    subsets_.in_parallel(born.size(), [&](std::size_t k) { relax(born[k], limits, answers[k]); });
    for (std::size_t k = 0; k < born.size(); ++k) {
      subsets_.count_solves(born[k].relaxed.solves);
      if (goal_ == Goal::cost && born[k].relaxed.bound == kInfinity)
        hopeless_.push_back(born[k].node);
      tried_.insert(born[k].used);
      if (answers[k].amounts.solves > 0) offer(subsets_.remember(std::move(answers[k])));
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
    if (is_settled(t) || is_known(t.used)) return;
    if (!t.whole && goal_ == Goal::misses) {
      if (tried_.count(t.used)) return;
      const Amounts glance = solver_.least_missed({t.used, 0}, {}, t.relaxed.x, 1);
      t.relaxed.solves += glance.solves;
      if (glance.finite && !misses_less(glance.totals, best_->amounts.totals)) return;
    }
    own = subsets_.answer(t.used, t.relaxed.x);
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
    for (const auto& [used, subset] : subsets_.known()) {
      if ((used & ~(t.node.in | t.node.open)) != 0 || (t.node.in & ~used) != 0) continue;
      if ((t.node.begun & ~solver_.begun({used})) != 0) continue;
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
    read_works(t, limits);
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

  /// Of the shared works that the relaxation begins without paying for them, the dearest.
  void read_works(TreeNode& t, const PlanLimits& limits) const {
    t.branch_work = -1;
    if (goal_ != Goal::cost) return;
    double most = cheaper();
    for (int w = 0; w < static_cast<int>(problem_.shared.size()); ++w) {
      const double unpaid = solver_.unpaid_work(w, t.node, limits, t.relaxed.x);
      if (unpaid > cheaper()) t.whole = false;
      // One open move alone is decided on as such.
      if (unpaid > most && count(solver_.sharing(w) & t.node.open) > 1)
        most = unpaid, t.branch_work = w;
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
  Subsets subsets_;
  std::vector<double> zero_;
  Choice choice_;
  bool bends_ = false;
  bool all_known_ = false;  ///< every subset within the limits
  Goal goal_ = Goal::misses;
  PlanLimits limits_;
  Reached reached_;
  const Subset* best_ = nullptr;  ///< in subsets_
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
