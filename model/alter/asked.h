#pragma once
// What is asked of an alteration: the rules that the garment is judged by, the faults that are to
// be mended, and what is let be. The same for the garment as it is and after any plan.

#include "model/alter/altered.h"
#include "model/alter/believe.h"
#include "model/fit.h"
#include "solver/choice.h"

#include <memory>
#include <string_view>
#include <vector>

namespace easewright {

/// Group of the findings that are faults: what was seen, believed, and is to be brought down to
/// what nobody minds.
inline constexpr std::string_view kFaultGroup = "fault";

/// Whether a rule's miss is felt: more than its tolerance, of a must a tenth of it. What is not
/// felt calls for no work.
bool is_felt(const Finding& finding);

class Asked {
 public:
  /// `posed` are the rules on the body believed, `made` the garment in hand. All outlive it.
  Asked(const Job& job,
        const std::vector<SeenFault>& faults,
        const Belief& belief,
        const Made& made,
        std::shared_ptr<const Posed> posed);

  /// What a fault reads on the garment as it is worn.
  double reading(const SeenFault& fault, const Worn& worn) const;
  /// Rules and faults judged, misses first and faults last.
  std::vector<Finding> judged(const Worn& worn) const;
  /// The same of the garment as it is, and how it is worn.
  const std::vector<Finding>& before() const { return before_; }
  const Worn& worn_before() const { return worn_before_; }
  /// Faults that no plan answers: they contradict another, or nothing explains them.
  const std::vector<int>& unclear() const { return unclear_; }

  /// Felt, and a must, or called for, or worse than before by a felt amount.
  bool is_left(const Finding& finding) const;
  /// Whether what `other` leaves is no more than what these findings leave, by what is felt.
  bool leaves_no_more(const std::vector<Finding>& other, const std::vector<Finding>& than) const;

  /// Which of the moves, and how much of each: one variable a move, in minutes.
  solver::ChoiceProblem choice_among(const std::vector<Possible>& moves) const;

 private:
  void find_complaints();
  Finding judged(size_t fault, const Worn& worn) const;
  solver::Output wanted(int i, const PosedRule& rule, double now) const;
  const PosedRule* rule_of(const Finding& finding) const;
  bool is_called_for(const PosedRule& rule) const;
  bool is_complained_of(const PosedRule& rule) const;
  bool worsened(const Finding& finding) const;

  const Job& job_;
  const std::vector<SeenFault>& faults_;
  const Belief& belief_;
  const Made& made_;
  std::shared_ptr<const Posed> posed_;
  Worn worn_before_;
  std::vector<double> complaints_;  ///< what each fault may read after the work at most
  std::vector<int> unclear_;
  std::vector<Finding> before_;
};

}  // namespace easewright
