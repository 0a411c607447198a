#include "model/pattern/nesting/search.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <random>

#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/partitioner.h>
#include <tbb/task_arena.h>

namespace easewright::nesting {
namespace {

using Clock = std::chrono::steady_clock;

constexpr int kChains = 4;
constexpr double kMoment = 0.1;
constexpr double kHot = 0.01, kCold = 1e-4;
constexpr double kNoLimit = std::numeric_limits<double>::infinity();

/// Uniform numbers that are the same with every standard library.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  size_t below(size_t n) { return static_cast<size_t>(engine_() % n); }
  double unit() { return static_cast<double>(engine_() >> 11) * 0x1p-53; }

 private:
  std::mt19937_64 engine_;
};

/// What a chain may spend.
struct Budget {
  long layouts = 0;  ///< > 0: so many
  Clock::time_point start, end;
};

class Chain {
 public:
  Chain(const Prepared& prepared,
        const NoFits& no_fits,
        double repeat_cm,
        std::uint64_t seed,
        int number)
      : prepared_(prepared), lay_(prepared, no_fits, repeat_cm), dice_(seed), number_(number) {
    for (const Item& item : prepared.items) {
      const Way& way = prepared.ways[static_cast<size_t>(item.lies[0].way)];
      area_.push_back(area_of(way.cut));
      total_ += area_.back();
    }
  }

  Found run(const Budget& budget) {
    budget_ = budget;
    begin();
    if (order_.size() > 1 || lies_of(0) > 1) {
      while (!spent()) step();
    }
    best_.layouts = tried_;
    return best_;
  }

 private:
  /// The first order: the largest first, by a size that differs from chain to chain.
  void begin() {
    const size_t n = prepared_.items.size();
    std::vector<double> size(n);
    for (size_t i = 0; i < n; ++i) {
      const GridBox box =
          prepared_.ways[static_cast<size_t>(prepared_.items[i].lies[0].way)].cut_box;
      const double w = static_cast<double>(box.width()), h = static_cast<double>(box.height());
      const double sizes[] = {h, area_[i], w * h, w};
      size[i] = sizes[number_ % 4];
    }
    order_.resize(n);
    for (size_t i = 0; i < n; ++i) order_[i] = static_cast<int>(i);
    std::stable_sort(order_.begin(), order_.end(), [&](int a, int b) {
      return size[static_cast<size_t>(a)] > size[static_cast<size_t>(b)];
    });
    lies_.resize(n);
    lay_.keep(0);
    for (const int item : order_) {
      lay_.add_lowest(item, kNoLimit);
      lies_[static_cast<size_t>(item)] = lay_.lying().back().lie;
    }
    ++tried_;
    cost_ = cost();
    best_ = {lay_.lying(), cost_, 0};
  }

  double progress() const {
    if (budget_.layouts > 0) {
      return static_cast<double>(tried_) / static_cast<double>(budget_.layouts);
    }
    const std::chrono::duration<double> whole = budget_.end - budget_.start;
    const std::chrono::duration<double> gone = Clock::now() - budget_.start;
    return whole.count() > 0 ? gone.count() / whole.count() : 1;
  }

  bool spent() const { return progress() >= 1; }

  size_t lies_of(size_t item) const { return prepared_.items[item].lies.size(); }

  /// Length, and a little of how high the cloth lies on average, so that a plan gets better before
  /// its longest piece does.
  double cost() const {
    double moment = 0;
    for (const Lying& one : lay_.lying()) {
      const size_t item = static_cast<size_t>(one.item);
      const Lie& lie = prepared_.items[item].lies[static_cast<size_t>(one.lie)];
      const GridBox& box = prepared_.ways[static_cast<size_t>(lie.way)].cut_box;
      moment += area_[item] * static_cast<double>(one.at.y + box.height() / 2);
    }
    return static_cast<double>(lay_.length()) + kMoment * moment / total_;
  }

  void step() {
    const double at = progress();
    const double heat = kHot * std::pow(kCold / kHot, at) * cost_;
    const double limit = cost_ - heat * std::log(1 - dice_.unit());
    before_ = order_;
    lies_before_ = lies_;
    const size_t first = change();
    // Items before the first that changed lie as they did, if the lay still shows the present
    // order.
    size_t same = 0;
    const auto& lying = lay_.lying();
    while (same < std::min(first, lying.size()) && lying[same].item == order_[same] &&
           lying[same].lie == lies_[static_cast<size_t>(order_[same])]) {
      ++same;
    }
    lay_.keep(same);
    bool whole = true;
    for (size_t i = same; whole && i < order_.size(); ++i) {
      const int item = order_[i];
      whole = lay_.add(item, lies_[static_cast<size_t>(item)], limit);
    }
    ++tried_;
    const double now = whole ? cost() : kNoLimit;
    if (now > limit) {
      order_ = before_;
      lies_ = lies_before_;
      return;
    }
    cost_ = now;
    if (now < best_.cost) best_ = {lay_.lying(), now, 0};
  }

  /// Makes one move; the place of the first item that it touches.
  size_t change() {
    const size_t n = order_.size();
    const size_t kind = n > 1 ? dice_.below(3) : 2;
    const size_t i = dice_.below(n);
    if (kind == 2) {
      const size_t item = static_cast<size_t>(order_[i]);
      if (lies_of(item) > 1) {
        const size_t other = 1 + dice_.below(lies_of(item) - 1);
        lies_[item] = static_cast<int>((static_cast<size_t>(lies_[item]) + other) % lies_of(item));
      }
      return i;
    }
    size_t j = dice_.below(n - 1);
    if (j >= i) ++j;
    if (kind == 0) {
      std::swap(order_[i], order_[j]);
    } else {
      const int item = order_[i];
      order_.erase(order_.begin() + static_cast<std::ptrdiff_t>(i));
      order_.insert(order_.begin() + static_cast<std::ptrdiff_t>(j), item);
    }
    return std::min(i, j);
  }

  const Prepared& prepared_;
  Lay lay_;
  Dice dice_;
  int number_;
  std::vector<double> area_;
  double total_ = 0;
  Budget budget_;
  std::vector<int> order_, before_;
  std::vector<int> lies_, lies_before_;  ///< by item
  double cost_ = 0;
  Found best_;
  long tried_ = 0;
};

}  // namespace

Found search(const Prepared& prepared, double repeat_cm, const NestOptions& options) {
  const Clock::time_point start = Clock::now();
  const auto span = std::chrono::duration_cast<Clock::duration>(
      std::chrono::duration<double>(std::clamp(options.seconds, 0.0, 86400.0)));
  const NoFits no_fits(prepared.ways);
  const int most = tbb::info::default_concurrency();
  const int threads = options.threads > 0 ? std::min(options.threads, most) : most;
  // By time, a chain for each thread; by count, always as many.
  const int chains = options.layouts > 0
                         ? static_cast<int>(std::min<long>(kChains, options.layouts))
                         : std::min(threads, 8);
  std::vector<Found> found(static_cast<size_t>(chains));
  const auto run = [&](int number) {
    Budget budget{0, start, start + span};
    if (options.layouts > 0) {
      budget.layouts = options.layouts / chains + (number < options.layouts % chains ? 1 : 0);
    }
    Chain chain(prepared,
                no_fits,
                repeat_cm,
                (std::uint64_t{options.seed} << 8) + static_cast<std::uint64_t>(number),
                number);
    found[static_cast<size_t>(number)] = chain.run(budget);
  };
  tbb::task_arena arena(threads);
  arena.execute([&] { tbb::parallel_for(0, chains, run, tbb::simple_partitioner()); });
  Found best = found[0];
  for (size_t i = 1; i < found.size(); ++i) {
    best.layouts += found[i].layouts;
    if (found[i].cost < best.cost) {
      found[i].layouts = best.layouts;
      best = found[i];
    }
  }
  return best;
}

}  // namespace easewright::nesting
