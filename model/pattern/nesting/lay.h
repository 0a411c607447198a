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
  int lie = 0;   ///< place in its lies
  GridPoint at;  ///< the way's origin on the cloth
};

class Lay {
 public:
  /// Centres lie whole repeats from the column (units), one of those that were prepared.
  Lay(const Prepared& prepared, const NoFits& no_fits, double repeat_cm, double column = 0);

  /// Takes away all but the first `kept`.
  void keep(size_t kept);

  /// Lays an item in one of its lies. False, and nothing laid, where its top would lie above
  /// `highest` (units).
  bool add(int item, int lie, double highest);

  /// The same in the lie in which it lies lowest.
  bool add_lowest(int item, double highest);

  const std::vector<Lying>& lying() const { return lying_; }

  /// Cloth used, units.
  std::int64_t length() const { return standing_.empty() ? 0 : standing_.back().length; }

 private:
  struct Standing {
    double ox = 0, oy = 0;       ///< origin
    double bottom = 0, top = 0;  ///< of what keeps others away
    int way = 0;
    std::int64_t length = 0;  ///< of cloth used so far
    bool set_phase = false;   ///< first of its group to lie
  };
  struct Near {  ///< crosses the level of the sweep
    const NoFit* no_fit = nullptr;
    const Standing* standing = nullptr;
  };
  struct Forbidden {  ///< an interval at the present level, and the sides it runs along
    double l = 0, r = 0;
    const Node* left = nullptr;
    const Node* right = nullptr;
    double ox = 0, oy = 0;
    double end = 0;  ///< of the tube, above oy
  };
  struct Range {
    double lo = 0, hi = 0;
  };
  struct Floor {
    size_t standing = 0;
    double y = 0;
  };

  std::optional<GridPoint> lowest_place(const Item& item, int lie, double highest);
  std::optional<GridPoint> lowest_place(const Item& item, int lie, Range range, double highest);
  double floor_of(const Way& way);
  void start(int way);
  bool sweep(Range range, double& y, double& x, double highest);
  void gather(double y);
  bool cover(Range range, double& x);
  double follow(Range range, double y) const;
  bool advance(Range range, double y);
  void put(int item, int lie, GridPoint at);

  const Prepared& prepared_;
  const NoFits& no_fits_;
  double repeat_, column_;
  std::vector<Lying> lying_;
  std::vector<Standing> standing_;          ///< the same
  std::vector<size_t> by_bottom_;           ///< places in them
  std::vector<double> phases_;              ///< of groups; NaN: open
  std::vector<std::vector<Floor>> floors_;  ///< of cores: no room below y once so many stand

  // Of the present sweep.
  int way_ = 0;
  const Way* sweeping_ = nullptr;
  size_t next_ = 0;  ///< place in by_bottom_
  std::vector<Near> near_;
  std::vector<Forbidden> forbidden_;  ///< at the level last gathered
  std::vector<Forbidden> chain_;
};

}  // namespace easewright::nesting
