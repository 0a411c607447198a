#include "model/pattern/nesting/every.h"

#include <algorithm>

namespace easewright::nesting {
namespace {

/// Items that may stand in for each other.
struct Kind {
  std::vector<int> items;
  size_t used = 0;
};

bool alike(const Item& a, const Item& b) {
  const auto same_way = [](const Lie& x, const Lie& y) {
    return x.way == y.way && x.centre == y.centre;
  };
  return a.at_fold == b.at_fold && a.group == b.group && a.match == b.match &&
         a.centred == b.centred &&
         std::equal(a.lies.begin(), a.lies.end(), b.lies.begin(), b.lies.end(), same_way);
}

std::vector<Kind> kinds_of(const std::vector<Item>& items) {
  std::vector<Kind> kinds;
  for (size_t i = 0; i < items.size(); ++i) {
    const auto known = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& k) {
      return alike(items[static_cast<size_t>(k.items[0])], items[i]);
    });
    if (known == kinds.end()) {
      kinds.push_back({{static_cast<int>(i)}});
    } else {
      known->items.push_back(static_cast<int>(i));
    }
  }
  return kinds;
}

class Every {
 public:
  Every(const Prepared& prepared,
        Lay& lay,
        std::int64_t shortest,
        const Report& report,
        const std::function<bool()>& may_go_on)
      : items_(prepared.items),
        lay_(lay),
        shortest_(shortest),
        report_(report),
        may_go_on_(may_go_on),
        kinds_(kinds_of(prepared.items)) {}

  long run() {
    lay_.keep(0);
    descend(0);
    return tried_;
  }

 private:
  void descend(size_t depth) {
    if (depth == items_.size()) {
      ++tried_;
      shortest_ = lay_.length();
      report_(lay_.lying(), shortest_);
      return;
    }
    for (Kind& kind : kinds_) {
      if (kind.used == kind.items.size()) continue;
      const int item = kind.items[kind.used++];
      const size_t lies = items_[static_cast<size_t>(item)].lies.size();
      for (size_t lie = 0; lie < lies && may_go_on_(); ++lie) {
        lay_.keep(depth);
        if (lay_.add(item, static_cast<int>(lie), static_cast<double>(shortest_) - 1)) {
          descend(depth + 1);
        } else {
          ++tried_;
        }
      }
      --kind.used;
    }
  }

  const std::vector<Item>& items_;
  Lay& lay_;
  std::int64_t shortest_;
  const Report& report_;
  const std::function<bool()>& may_go_on_;
  std::vector<Kind> kinds_;
  long tried_ = 0;
};

}  // namespace

double count_of_layouts(const Prepared& prepared, double most) {
  double count = 1;
  size_t laid = 0;
  for (const Kind& kind : kinds_of(prepared.items)) {
    for (size_t i = 0; i < kind.items.size(); ++i) {
      // One more among those before, in any place but those of its equals; in each lie.
      const double lies =
          static_cast<double>(prepared.items[static_cast<size_t>(kind.items[i])].lies.size());
      count *= static_cast<double>(++laid) / static_cast<double>(i + 1) * lies;
    }
    if (count > most) return count;
  }
  return count;
}

long lay_every(const Prepared& prepared,
               Lay& lay,
               std::int64_t shortest,
               const Report& report,
               const std::function<bool()>& may_go_on) {
  return Every(prepared, lay, shortest, report, may_go_on).run();
}

}  // namespace easewright::nesting
