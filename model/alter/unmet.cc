#include "model/alter/unmet.h"

#include <algorithm>
#include <cmath>

namespace easewright {
namespace {

using solver::Level;

/// Tolerances by which a rule has to be missed by more to count as spoilt, and a missed one to come
/// nearer to count as helped.
constexpr double kSpoils = 1.0, kHelps = 0.5;

class Hunt {
 public:
  Hunt(const Asked& asked, const Made& made, const Frame& body)
      : asked_(asked), made_(made), body_(body), now_(asked.judged(wear(made, body))) {}

  std::vector<Unmet> run(const std::vector<Possible>& possible, const Impossible& impossible) {
    std::vector<Unmet> all;
    for (const Finding& f : now_) {
      if (!asked_.is_left(f)) continue;
      Unmet unmet;
      unmet.finding = f;
      for (const auto& [move, why] : impossible) {
        if (helps(*move, f)) unmet.blocked.push_back(move->name + ": " + why);
      }
      for (const Possible& p : possible) {
        const std::string spoilt = spoilt_by(p, f);
        if (!spoilt.empty()) unmet.spoils.push_back(p.move->name + ": " + spoilt);
      }
      unmet.recut = unmet.blocked.empty() && unmet.spoils.empty();
      all.push_back(std::move(unmet));
    }
    return all;
  }

 private:
  /// Whether a move would bring a missed rule nearer by a felt amount, were it possible.
  bool helps(const Move& move, const Finding& missed) const {
    return brings_nearer(judged_with(move, std::max(move.least, 0.5 * move.most)), missed);
  }

  /// The rule that a move which helps would spoil the most; empty where it doesn't help or spoils
  /// nothing by itself.
  std::string spoilt_by(const Possible& p, const Finding& missed) const {
    const std::vector<Finding> then =
        judged_with(*p.move, std::max(p.limits.least, 0.5 * p.limits.most));
    if (!brings_nearer(then, missed)) return {};
    std::string spoilt;
    double most = kSpoils;
    for (const Finding& f : then) {
      if (f.strength > Level::should || f.outputs == missed.outputs) continue;
      const auto was = std::find_if(
          now_.begin(), now_.end(), [&](const Finding& n) { return n.outputs == f.outputs; });
      if (was == now_.end()) continue;
      const double worse = (std::abs(f.miss) - std::abs(was->miss)) / f.tolerance;
      if (worse > most) most = worse, spoilt = f.name;
    }
    return spoilt;
  }

  static bool brings_nearer(const std::vector<Finding>& findings, const Finding& missed) {
    const auto now = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) {
      return f.name == missed.name && f.outputs == missed.outputs;
    });
    return now != findings.end() &&
           std::abs(now->miss) < std::abs(missed.miss) - kHelps * missed.tolerance;
  }

  std::vector<Finding> judged_with(const Move& move, double amount) const {
    return asked_.judged(wear(changed(made_, move.change, amount), body_));
  }

  const Asked& asked_;
  const Made& made_;
  const Frame& body_;
  std::vector<Finding> now_;
};

}  // namespace

std::vector<Unmet> find_unmet(const Asked& asked,
                              const Made& made,
                              const Frame& body,
                              const std::vector<Possible>& possible,
                              const Impossible& impossible) {
  return Hunt(asked, made, body).run(possible, impossible);
}

}  // namespace easewright
