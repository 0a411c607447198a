#include "solver/map.h"

#include "solver/pass.h"
#include "solver/scaled.h"
#include "solver/settle.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>

#include <tbb/blocked_range.h>
#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/partitioner.h>
#include <tbb/task_arena.h>

namespace easewright::solver {
namespace {

/// Weight of an axis that is an output, in musts: it is set before anything else.
constexpr double kSet = 10;
constexpr int kSteps = 40;
/// Missed points running after which the answer is not tried again as a start.
constexpr int kSame = 3;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double miss(double v, double lo, double hi) { return v < lo ? v - lo : v > hi ? v - hi : 0; }

class Row {
 public:
  Row(const Problem& problem, const Outcome& outcome, const MapQuery& query)
      : problem_(problem),
        query_(query),
        scaled_(problem),
        pass_(scaled_),
        answer_(scaled_.to_u(outcome.x)) {
    for (const Axis* axis : {&query.across, &query.down}) {
      if (axis->value.kind == Value::Kind::output) axes_.push_back(axis->value.index);
    }
  }

  /// Fills the row's cells, outwards from the column nearest the answer.
  void fill(int row, double answer_across, Cell* cells) {
    const Axis& axis = query_.across;
    int first = 0;
    for (int k = 1; k < axis.count; ++k) {
      if (std::abs(axis.at(k) - answer_across) < std::abs(axis.at(first) - answer_across))
        first = k;
    }
    std::vector<double> u = answer_;
    cells[first] = cell(first, row, u);
    const std::vector<double> middle = u;
    const std::vector<RowState> states = pass_.working_set();
    const int same = same_;
    for (int k = first + 1; k < axis.count; ++k) cells[k] = cell(k, row, u);
    u = middle;
    pass_.set_working_set(states);
    same_ = same;
    for (int k = first - 1; k >= 0; --k) cells[k] = cell(k, row, u);
  }

 private:
  /// False when the value lies outside its variable's bounds.
  bool set(const Axis& axis, int k, Terms& terms) const {
    const double value = axis.at(k);
    if (axis.value.kind == Value::Kind::variable) {
      const Variable& v = problem_.variables[at(axis.value.index)];
      const int position = scaled_.position(axis.value.index);
      if (position < 0) return value == v.lower;
      const double u = value / scaled_.scale(position);
      terms.lower[at(position)] = terms.upper[at(position)] = u;
      return value >= v.lower && value <= v.upper;
    }
    const double c = value / problem_.outputs[at(axis.value.index)].tolerance;
    terms.lo[at(axis.value.index)] = terms.hi[at(axis.value.index)] = c;
    terms.shape[at(axis.value.index)] = Shape::absolute;
    return true;
  }

  void weigh(Terms& terms) const {
    for (const int i : query_.let_go) terms.weight[at(i)] = 0;
    for (const int i : axes_) terms.weight[at(i)] = kSet * kFirstWeights[0];
  }

  struct Point {
    std::vector<double> u, c;
    LevelTotals totals{};
    bool set = false;  ///< the axes that are outputs have their values
  };

  bool is_axis(int i) const { return std::find(axes_.begin(), axes_.end(), i) != axes_.end(); }

  bool all_hold(const Terms& terms, const std::vector<double>& c) const {
    for (int i = 0; i < scaled_.m(); ++i) {
      if (problem_.outputs[at(i)].level == Level::habit && !is_axis(i)) continue;
      if (terms.weight[at(i)] > 0 &&
          !(std::abs(miss(c[at(i)], terms.lo[at(i)], terms.hi[at(i)])) <= kHolds))
        return false;
    }
    return true;
  }

  /// Level by level, each to kHolds of its own weight: a point that misses a must needs no care for
  /// its wishes.
  std::optional<Point> settle_from(Terms& terms, const std::vector<double>& from) {
    Point point;
    point.u = from;
    const auto enough = [&] { return all_hold(terms, pass_.c()); };
    for (int level = 0; level < static_cast<int>(Level::habit); ++level) {
      const PassOptions options{.least_gain = kHolds * kFirstWeights[at(level)],
                                .most_iterations = kSteps,
                                .stop = Stop::small_gain,
                                .most_corrections = 2,
                                .curvature = Curvature::never};
      const PassEnd end = pass_.run(terms, options, point.u, enough);
      if (end == PassEnd::not_finite) return std::nullopt;
      read(terms, point);
      if (end == PassEnd::enough || point.totals[at(level)] > kHolds) break;
    }
    return point;
  }

  void read(const Terms& terms, Point& point) const {
    point.c = pass_.c();
    point.totals = {};
    point.set = true;
    for (int i = 0; i < scaled_.m(); ++i) {
      if (is_axis(i)) {
        point.set =
            point.set && std::abs(miss(point.c[at(i)], terms.lo[at(i)], terms.hi[at(i)])) <= kHolds;
      } else if (terms.weight[at(i)] > 0) {
        const double d = std::abs(miss(point.c[at(i)], scaled_.lo[at(i)], scaled_.hi[at(i)]));
        point.totals[at(static_cast<int>(problem_.outputs[at(i)].level))] +=
            problem_.outputs[at(i)].shape == Shape::absolute ? d : d * d / 2;
      }
    }
  }

  Cell cell(int column, int row, std::vector<double>& u) {
    Cell cell;
    Terms terms = posed_terms(scaled_, kFirstWeights);
    cell.reached = set(query_.across, column, terms) && set(query_.down, row, terms);
    if (!cell.reached) return cell;
    weigh(terms);
    std::optional<Point> best = settle_from(terms, u);
    if (!best || !best->set || !all_hold(terms, best->c)) {
      // The neighbour may have led into a poorer valley: the answer is a second place to come from,
      // until it has come to the same a few times running.
      if (same_ < kSame) {
        std::optional<Point> other = settle_from(terms, answer_);
        const bool better =
            other && (!best || (other->set && !best->set) ||
                      (other->set == best->set && is_better(other->totals, best->totals)));
        same_ = better ? 0 : same_ + 1;
        if (better) best = std::move(other);
      }
    } else {
      same_ = 0;
    }
    if (!best || !best->set) {
      cell.reached = false;
      return cell;
    }
    u = best->u;
    find_missed(terms, best->c, cell);
    return cell;
  }

  void find_missed(const Terms& terms, const std::vector<double>& c, Cell& cell) const {
    double most = 0;
    for (int i = 0; i < scaled_.m(); ++i) {
      const Output& o = problem_.outputs[at(i)];
      if (o.level == Level::habit || is_axis(i) || terms.weight[at(i)] == 0) continue;
      const double d = miss(c[at(i)], scaled_.lo[at(i)], scaled_.hi[at(i)]);
      if (std::abs(d) <= kHolds) continue;
      const bool stronger = cell.missed < 0 || o.level < problem_.outputs[at(cell.missed)].level;
      const bool larger =
          !stronger && o.level == problem_.outputs[at(cell.missed)].level && std::abs(d) > most;
      if (!stronger && !larger) continue;
      most = std::abs(d);
      cell.missed = i;
      cell.miss = d * o.tolerance;
    }
    cell.holds = cell.missed < 0;
  }

  const Problem& problem_;
  const MapQuery& query_;
  Scaled scaled_;
  Pass pass_;
  std::vector<double> answer_;
  std::vector<int> axes_;
  int same_ =
      0;  ///< missed points running at which the answer led to nothing better than the neighbour
};

}  // namespace

Map find_map(const Problem& problem, const Outcome& outcome, const MapQuery& query) {
  assert(query.across.count > 0 && query.down.count > 0);
  Map map;
  map.across = query.across.count;
  map.down = query.down.count;
  map.cells.resize(at(map.across) * at(map.down));
  const Value& value = query.across.value;
  const double answer =
      value.kind == Value::Kind::output ? outcome.g[at(value.index)] : outcome.x[at(value.index)];
  const auto fill = [&](const tbb::blocked_range<int>& rows) {
    for (int row = rows.begin(); row < rows.end(); ++row) {
      Row(problem, outcome, query).fill(row, answer, map.cells.data() + at(row) * at(map.across));
    }
  };
  const int most = tbb::info::default_concurrency();
  tbb::task_arena arena(query.threads > 0 ? std::min(query.threads, most) : most);
  arena.execute([&] {
    tbb::parallel_for(tbb::blocked_range<int>(0, map.down, 1), fill, tbb::simple_partitioner());
  });
  return map;
}

}  // namespace easewright::solver
