#include "model/pattern/nesting/search.h"

#include "model/pattern/nesting/chance.h"
#include "model/pattern/nesting/core.h"
#include "model/pattern/nesting/every.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <numeric>

#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/partitioner.h>
#include <tbb/task_arena.h>

namespace easewright::nesting {
namespace {

using Clock = std::chrono::steady_clock;

constexpr int kChains = 4;

/// With fewer items, cores cost more than they save.
constexpr size_t kLong = 16;

// Found by trials on two and eight dresses (six seeds each, the filled share at a fixed number of
// layouts).

/// Length alone says little while one piece sticks out: the mean height of what is laid weighs
/// more.
constexpr double kMeanWeight = 0.9;
/// A layout is given up when it would be too long even if its mean came down to this share.
constexpr double kMeanHope = 0.99;
/// Heat at first and at last, shares of the pieces' mean height.
constexpr double kHot = 0.025, kCold = 0.003;

/// A long order is annealed window by window, each half over the one before. What lies below the
/// window stays; what comes after it may be exchanged for what is in it, and is laid later.
constexpr size_t kWindow = 16, kStride = 8;
/// Share of moves that exchange.
constexpr double kExchange = 0.4;
/// Larger pieces in the window make the cloth longer: they are allowed what they would need where
/// so much is filled.
constexpr double kFilled = 0.82;

/// So few layouts are all tried. Most are given up early: one dress, 322 thousand, takes 37
/// thousand and 0.04 s, no longer than an annealing that misses the best by up to 5 %.
constexpr double kFew = 5e5;
/// Told by layouts, all are tried where they are at most so many times as many.
constexpr double kGivenUp = 20;

/// Half of the swaps and moves stay within so many places of the order.
constexpr size_t kNear = 12;

constexpr double kNoLimit = std::numeric_limits<double>::infinity();

/// What a chain may spend.
struct Budget {
  long layouts = 0;  ///< > 0: so many, whatever the time
  Clock::time_point start;
  std::chrono::duration<double> span{};
  double at_half = -1;  ///< share of the layouts tried by then; not yet

  /// The share of it that is gone. With layouts and a time, time counts from its half on alone, and
  /// spreads what is left of the layouts' share: who is done by then was told by layouts only.
  double spent(long tried) {
    const double by_layouts =
        layouts > 0 ? static_cast<double>(tried) / static_cast<double>(layouts) : 0;
    if (layouts > 0 && span.count() <= 0) return by_layouts;
    const std::chrono::duration<double> gone = Clock::now() - start;
    const double by_time = span.count() > 0 ? gone / span : 1;
    if (layouts <= 0) return by_time;
    if (by_time < 0.5) return by_layouts;
    if (at_half < 0) at_half = by_layouts;
    return std::max(by_layouts, at_half + (1 - at_half) * (by_time - 0.5) / 0.5);
  }
  bool time_is_left() const {
    return layouts > 0 && span.count() <= 0 ? true : Clock::now() - start < span;
  }
};

/// An order of laying, the lie of each item, and how good the layout is.
struct State {
  std::vector<int> order;
  std::vector<int> lies;  ///< by item
  double cost = 0;
  double mean = 0;  ///< twice the mean height of what is laid: about its length
};

class Chain {
 public:
  Chain(const Prepared& prepared,
        const NoFits& no_fits,
        double repeat_cm,
        double column,
        std::uint64_t seed)
      : prepared_(prepared),
        lay_(prepared, no_fits, repeat_cm, column),
        dice_(seed),
        least_(to_grid(prepared.bound) + 1) {
    for (size_t i = 0; i < prepared.items.size(); ++i) {
      const Way& way = prepared.ways[static_cast<size_t>(prepared.items[i].lies[0].way)];
      area_.push_back(area_of(way.cut));
      area_sum_ += area_.back();
      height_ += area_.back() * static_cast<double>(way.cut_box.height());
    }
    height_ /= area_sum_;
  }

  /// All there are, from the greedy one on.
  Found run_all(const Budget& budget) {
    budget_ = budget;
    begin(0);
    const auto report = [&](const std::vector<Lying>& lying, std::int64_t length) {
      best_ = {lying, length, 0};
    };
    const auto may_go_on = [&] { return !done() && budget_.time_is_left(); };
    best_.layouts = 1 + lay_every(prepared_, lay_, best_.length, report, may_go_on);
    return std::move(best_);
  }

  Found run(const Budget& budget, int first_order) {
    budget_ = budget;
    begin(first_order);
    const size_t n = now_.order.size();
    const size_t stages =
        n <= kWindow + kStride / 2 ? 1 : 1 + (n - kWindow + kStride - 1) / kStride;
    const bool can_change = n > 1 || lies_of(0) > 1;
    for (size_t s = 0; can_change && s < stages && budget_.spent(tried_) < 1 && !done(); ++s) {
      from_ = s * kStride;
      to_ = s + 1 == stages ? n : from_ + kWindow;
      const double whole = static_cast<double>(stages);
      anneal(static_cast<double>(s) / whole, static_cast<double>(s + 1) / whole);
    }
    best_.layouts = tried_;
    return std::move(best_);
  }

 private:
  /// The largest first, by a size that differs from chain to chain.
  void begin(int by) {
    const size_t n = prepared_.items.size();
    std::vector<double> size(n);
    for (size_t i = 0; i < n; ++i) {
      const auto& lie = prepared_.items[i].lies[0];
      const GridBox box = prepared_.ways[static_cast<size_t>(lie.way)].cut_box;
      const double w = static_cast<double>(box.width()), h = static_cast<double>(box.height());
      const double sizes[kChains] = {h, area_[i], w * h, w};
      size[i] = sizes[by];
    }
    now_.order.resize(n);
    std::iota(now_.order.begin(), now_.order.end(), 0);
    std::stable_sort(now_.order.begin(), now_.order.end(), [&](int a, int b) {
      return size[static_cast<size_t>(a)] > size[static_cast<size_t>(b)];
    });
    now_.lies.resize(n);
    for (const int item : now_.order) {
      lay_.add_lowest(item, kNoLimit);
      now_.lies[static_cast<size_t>(item)] = lay_.lying().back().lie;
    }
    ++tried_;
    best_ = {lay_.lying(), lay_.length(), 0};
  }

  size_t lies_of(size_t item) const { return prepared_.items[item].lies.size(); }

  /// Nothing can be shorter.
  bool done() const { return best_.length <= least_; }

  bool whole() const { return to_ == now_.order.size(); }

  void judge(State& state) const {
    double moment = 0, area = 0;
    for (const Lying& one : lay_.lying()) {
      const size_t item = static_cast<size_t>(one.item);
      const Lie& lie = prepared_.items[item].lies[static_cast<size_t>(one.lie)];
      const GridBox& box = prepared_.ways[static_cast<size_t>(lie.way)].cut_box;
      moment += area_[item] * static_cast<double>(one.at.y + box.height() / 2);
      area += area_[item];
    }
    state.mean = 2 * moment / area;
    state.cost = (1 - kMeanWeight) * static_cast<double>(lay_.length()) + kMeanWeight * state.mean;
    if (!whole()) state.cost -= area / static_cast<double>(prepared_.across) / kFilled;
  }

  void keep_if_best() {
    if (whole() && lay_.length() < best_.length) best_ = {lay_.lying(), lay_.length(), 0};
  }

  /// Simulated annealing of the window while the budget's spent share goes from `begins` to `ends`.
  void anneal(double begins, double ends) {
    lay_out(now_, kNoLimit);
    judge(now_);
    keep_if_best();
    State best = now_;
    for (double spent = budget_.spent(tried_); spent < ends && !done();
         spent = budget_.spent(tried_)) {
      const double part = std::max(0.0, (spent - begins) / (ends - begins));
      step(height_ * kHot * std::pow(kCold / kHot, part));
      if (now_.cost < best.cost) best = now_;
    }
    now_ = std::move(best);
  }

  void step(double heat) {
    const double limit = now_.cost - heat * std::log(1 - dice_.unit());
    next_ = now_;
    change(next_);
    ++tried_;
    const double highest =
        whole() ? (limit - kMeanWeight * kMeanHope * now_.mean) / (1 - kMeanWeight) : kNoLimit;
    if (!lay_out(next_, highest)) return;
    judge(next_);
    if (next_.cost > limit) return;
    std::swap(now_, next_);
    keep_if_best();
  }

  /// Lays a state up to to_, keeping what already lies as it asks. False where it gets higher than
  /// allowed.
  bool lay_out(const State& state, double highest) {
    const auto& lying = lay_.lying();
    size_t same = 0;
    while (same < std::min(to_, lying.size()) && lying[same].item == state.order[same] &&
           lying[same].lie == state.lies[static_cast<size_t>(state.order[same])]) {
      ++same;
    }
    lay_.keep(same);
    for (size_t i = same; i < to_; ++i) {
      const int item = state.order[i];
      if (!lay_.add(item, state.lies[static_cast<size_t>(item)], highest)) return false;
    }
    return true;
  }

  void change(State& state) {
    const size_t n = to_ - from_, after = state.order.size() - to_;
    const auto at = [&](size_t k) {
      return state.order.begin() + static_cast<std::ptrdiff_t>(from_ + k);
    };
    const size_t i = dice_.below(n);
    if (after > 0 && dice_.unit() < kExchange) {
      std::iter_swap(at(i), at(n + dice_.below(after)));
      const size_t item = static_cast<size_t>(*at(i));
      state.lies[item] = static_cast<int>(dice_.below(lies_of(item)));
      return;
    }
    const size_t kind = n > 1 ? dice_.below(3) : 2;
    if (kind == 2) {
      const size_t item = static_cast<size_t>(*at(i)), lies = lies_of(item);
      if (lies < 2) return;
      const size_t other = static_cast<size_t>(state.lies[item]) + 1 + dice_.below(lies - 1);
      state.lies[item] = static_cast<int>(other % lies);
      return;
    }
    const size_t j = another(i, n);
    if (kind == 0) {
      std::iter_swap(at(i), at(j));
    } else if (i < j) {
      std::rotate(at(i), at(i + 1), at(j + 1));
    } else {
      std::rotate(at(j), at(i), at(i + 1));
    }
  }

  size_t another(size_t i, size_t n) {
    if (dice_.below(2) == 0) {
      const size_t lo = i > kNear ? i - kNear : 0, hi = std::min(n - 1, i + kNear);
      const size_t j = lo + dice_.below(hi - lo);
      return j < i ? j : j + 1;
    }
    const size_t j = dice_.below(n - 1);
    return j < i ? j : j + 1;
  }

  const Prepared& prepared_;
  Lay lay_;
  Dice dice_;
  std::vector<double> area_;
  double area_sum_ = 0, height_ = 0;
  Budget budget_;
  size_t from_ = 0, to_ = 0;  ///< the window in the order
  State now_, next_;
  Found best_;
  long tried_ = 0;
  std::int64_t least_;  ///< area, width and the longest piece allow no less (to a unit)
};

/// On a long order two chains of twice the length find more than four (80.6 against 79.8 % with
/// eight dresses and ten thousand layouts), unless there are threads to spare. Told by layouts, the
/// number of threads must not count.
int chains_for(size_t items, int threads, long layouts) {
  const bool two = items >= kLong && (layouts > 0 || threads <= 2);
  const long chains = two ? 2 : kChains;
  return static_cast<int>(layouts > 0 ? std::min(chains, layouts) : chains);
}

}  // namespace

Found search(Prepared& prepared, double repeat_cm, const NestOptions& options) {
  const Clock::time_point start = Clock::now();
  if (prepared.items.size() >= kLong) add_cores(prepared);
  const NoFits no_fits(prepared.ways);
  const int most = tbb::info::default_concurrency();
  const int threads = std::clamp(options.threads > 0 ? options.threads : most, 1, kChains);
  const int chains = chains_for(prepared.items.size(), threads, options.layouts);
  // By time, chains that have to wait for a thread share it out.
  const int waves = (chains + threads - 1) / threads;
  const double seconds = options.layouts > 0 ? options.at_most : options.seconds;
  const std::chrono::duration<double> whole(std::clamp(seconds, 0.0, 86400.0));
  const double few =
      options.layouts > 0 ? std::min(kFew, kGivenUp * static_cast<double>(options.layouts)) : kFew;
  const bool every = count_of_layouts(prepared, few) <= few;
  std::vector<Found> found(static_cast<size_t>(chains));
  const auto run = [&](int number) {
    Budget budget;
    if (options.layouts > 0)
      budget.layouts = options.layouts / chains + (number < options.layouts % chains ? 1 : 0);
    if (whole.count() > 0 || options.layouts <= 0) {
      budget.start = Clock::now();
      const std::chrono::duration<double> left = start + whole - budget.start;
      if (number > 0 && left.count() <= 0) return;
      budget.span = std::min(left, whole / waves);
    }
    const std::uint64_t seed =
        std::uint64_t{options.seed} * kChains + static_cast<std::uint64_t>(number);
    const double column = prepared.columns[static_cast<size_t>(number) % prepared.columns.size()];
    Chain chain(prepared, no_fits, repeat_cm, column, seed);
    found[static_cast<size_t>(number)] = every ? chain.run_all(budget) : chain.run(budget, number);
  };
  tbb::task_arena arena(threads);
  // Every layout of a column is tried by one chain.
  const int needed = every ? std::min(chains, static_cast<int>(prepared.columns.size())) : chains;
  arena.execute([&] { tbb::parallel_for(0, needed, run, tbb::simple_partitioner()); });

  Found best;
  long layouts = 0;
  for (Found& one : found) {
    layouts += one.layouts;
    if (one.layouts > 0 && (best.layouts == 0 || one.length < best.length)) best = std::move(one);
  }
  best.layouts = layouts;
  return best;
}

}  // namespace easewright::nesting
