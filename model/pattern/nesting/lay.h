#pragma once
// Laying: one item after the other, each at the lowest place that the no-fit polygons of those that
// lie leave free, leftmost of the lowest.
//
// The lowest free place is found by a sweep. At a level y the no-fit polygons forbid open intervals
// of x; while they cover the whole range a chain of a few of them does, each beginning before the
// last one ends. The sweep follows that chain upwards along its sides until a link opens or a tube
// ends, and only then looks at all others again.

#include "model/pattern/nesting/no_fit.h"
#include "model/pattern/nesting/ways.h"

#include <optional>
#include <vector>

namespace easewright::nesting {

struct Lying {
  int item = 0;
  int lie = 0;             ///< place in its lies
  GridPoint at;            ///< the way's origin on the cloth
  bool set_phase = false;  ///< first of its group to lie
};

class Lay {
 public:
  Lay(const Prepared& prepared, const NoFits& no_fits, double repeat_cm);

  /// Takes away all but the first `kept`.
  void keep(size_t kept);

  /// Lays an item in one of its lies. False, and nothing laid, where its top would lie above
  /// `highest` (units).
  bool add(int item, int lie, double highest);

  /// The same in the lie in which it lies lowest.
  bool add_lowest(int item, double highest);

  const std::vector<Lying>& lying() const { return lying_; }

  /// Cloth used, units.
  std::int64_t length() const { return tops_.empty() ? 0 : tops_.back(); }

 private:
  struct Forbidden {  ///< an interval at the present level, and the sides it runs along
    double l = 0, r = 0;
    const Tube* tube = nullptr;
    double ox = 0, oy = 0;
    size_t left = 0, right = 0;  ///< nodes
  };

  std::optional<GridPoint> lowest_place(const Item& item, int lie, double highest);
  bool sweep(
      const Way& way, int way_id, double x_lo, double x_hi, double& y, double& x, double highest);
  void gather(const Way& way, int way_id, double y);
  bool cover(double x_lo, double x_hi, double& x);
  double follow(double x_lo, double x_hi, double y) const;
  bool advance(double x_lo, double x_hi, double y);
  void put(int item, int lie, GridPoint at);

  const Prepared& prepared_;
  const NoFits& no_fits_;
  double repeat_;
  std::vector<Lying> lying_;
  std::vector<std::int64_t> tops_;    ///< length so far, after each
  std::vector<double> phases_;        ///< of groups; NaN: open
  std::vector<Forbidden> forbidden_;  ///< at the level last gathered
  std::vector<Forbidden> chain_;
};

}  // namespace easewright::nesting
