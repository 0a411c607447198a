#pragma once
// The garment after moves, as a function of their amounts.

#include "model/alter/believe.h"
#include "model/alter/moves.h"
#include "model/pose.h"
#include "solver/problem.h"

#include <array>
#include <memory>
#include <vector>

namespace easewright {

/// A move that can be done on the garment at hand.
struct Possible {
  const Move* move = nullptr;
  MoveLimits limits;
};

/// Minutes for each cm or radian.
double minutes_per_inside(const Possible& possible);

/// The garment after the moves by these amounts, in the order of work.
Made after(const Made& made, const std::vector<Possible>& moves, const double* amounts);

/// What a plan has to keep beside the rules, all musts (cutter's notes, point 6, common practice):
/// straps that go up pull the underarm into the arm, eat the length ease and carry the bust's
/// fullness off the bust point. (What passes the head is a rule of its own.)
inline constexpr int kGuards = 3;
/// Armhole drop, blouson, the fullness above the bust point; of a skirt alone nothing.
std::array<double, kGuards> guarded(const Made& made, const Worn& worn);
/// Ranges that they have to lie in: what they are already is let be.
std::array<solver::Output, kGuards> guards(const Made& made, const Worn& now);

/// Outputs: the posed ones without habits, what each of `faults` reads, then the guards. Judged on
/// one body.
class AlteredFunction final : public solver::Function {
 public:
  AlteredFunction(const Made& made,
                  std::vector<Possible> moves,
                  std::shared_ptr<const Posed> posed,
                  std::vector<const FaultKind*> faults)
      : made_(made),
        moves_(std::move(moves)),
        posed_(std::move(posed)),
        faults_(std::move(faults)) {}

  void evaluate(const double* x, double* g, double* jacobian) const override;
  bool evaluate_columns(const double* x,
                        const std::vector<int>& columns,
                        double* g,
                        double* jacobian) const override;

  size_t size() const {
    return static_cast<size_t>(posed_->first_habit) + faults_.size() + kGuards;
  }

 private:
  void step(Made& made, size_t k, double amount) const;
  void read(const Made& made, double* g) const;

  Made made_;
  std::vector<Possible> moves_;
  std::shared_ptr<const Posed> posed_;
  std::vector<const FaultKind*> faults_;
};

}  // namespace easewright
