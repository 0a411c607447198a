#pragma once
// What would settle a miss: how far must a member of its conflict give, for all the rest to hold?
//
//     price of member j  =  min over x of its own miss,
//                           everything else of the missed rule's level and above holding,
//                           what is missed elsewhere at what it got, and the missed rule itself.
//
// A member outside the conflict can't help; a member inside may not be enough by itself, as rules
// outside the conflict stand behind it. Where no single one does it, the pair that asks least is
// sought.

#include "solver/conflict.h"
#include "solver/member.h"
#include "solver/outcome.h"

#include <functional>
#include <optional>
#include <vector>

namespace easewright::solver {

/// One limit that gives.
struct Change {
  Member member;
  double by = 0;    ///< how far the limit moves outwards, in its own unit, >= 0
  double felt = 0;  ///< the same in tolerances (outputs) or scales (bounds)
};

struct Remedy {
  std::vector<Change> changes;  ///< one, or two
  double asks = 0;              ///< sum of `felt`
  std::vector<double> x;        ///< where all the rest then holds, to 2 kHolds
};

/// What becomes of rules that are missed elsewhere.
enum class Elsewhere { as_got, as_posed };

struct RemedyOptions {
  /// Which members may give, by their side. Null: all.
  std::function<bool(const Member&)> may_give = nullptr;
  Elsewhere elsewhere = Elsewhere::as_got;
  double most_asked = 100;  ///< tolerances (or scales) in all, past which a change is no remedy
  int most_pairs = 40;
};

/// Remedies of a conflict, least asked first; at most one pair, last, and only where no member but
/// the missed rule itself settles it alone. Empty when nothing found helps.
std::vector<Remedy> find_remedies(const Problem& problem,
                                  const Outcome& outcome,
                                  const Conflict& conflict,
                                  const RemedyOptions& options = {});

/// Price of letting these members give together (least sum in tolerances and scales), with
/// everything else of level `down_to` and above as it is posed or got; `missed` (or -1) always at
/// its full range. Nothing when the rest can't hold even so, as far as one local solve from the
/// answer can tell: where rules are curved it may overlook a remedy.
std::optional<Remedy> price(const Problem& problem,
                            const Outcome& outcome,
                            const std::vector<Member>& freed,
                            int missed,
                            Level down_to,
                            Elsewhere elsewhere);

}  // namespace easewright::solver
